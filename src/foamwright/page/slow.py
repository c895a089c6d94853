"""Where the page asks how far its slow work is."""

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from foamwright.page.errands import Errand, Errands
from foamwright.page.refusals import Gone

Told = dict[str, object]


def errands_of(request: Request) -> Errands:
    """Return the slow work of this page."""
    found: Errands = request.app.state.errands
    return found


def state_of(errand: Errand) -> Told:
    """Return how far some work is; raises what went wrong with it."""
    if not errand.done.is_set():
        return {"errand": errand.name, "done": False, "doing": errand.doing}
    if errand.problem is not None:
        raise errand.problem
    if errand.fault is not None:
        raise errand.fault
    return {"errand": errand.name, "done": True, "told": errand.told}


def look(request: Request) -> Response:
    """Return how far some work is."""
    errand = errands_of(request).named(request.path_params["name"])
    if errand is None:
        raise Gone("this was begun before the notebook was opened anew")
    return JSONResponse(state_of(errand))


ROUTES = [Route("/slow/{name}", look)]
"""Where slow work is looked after."""
