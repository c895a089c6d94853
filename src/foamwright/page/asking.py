"""What every leaf needs to answer: its desk, the variant looked at, JSON worked out in a thread."""

from collections.abc import Callable, Mapping
from functools import partial

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from foamwright.page.desk import Desk
from foamwright.page.refusals import Overtaken, body_of

Told = dict[str, object]


def desk_of(request: Request) -> Desk:
    """Return the desk this page stands on."""
    desk: Desk = request.app.state.desk
    return desk


def variant_of(request: Request) -> str | None:
    """Return which variant a page is asked for."""
    return request.query_params.get("variant") or None


def posting(work: Callable[[Desk, Mapping[str, object]], Told]) -> Callable[..., object]:
    """Return an endpoint that takes JSON, works in a thread and answers JSON."""

    async def endpoint(request: Request) -> Response:
        body = await body_of(request)
        told = await run_in_threadpool(partial(work, desk_of(request), body))
        return JSONResponse(told)

    return endpoint


def planned(work: Callable[[Request], Response]) -> Callable[[Request], Response]:
    """Return a page that sends whoever comes without a plane to the interview."""

    def page(request: Request) -> Response:
        if not desk_of(request).exists:
            return RedirectResponse("/new", status_code=303)
        return work(request)

    return page


def still_as_seen(desk: Desk, body: Mapping[str, object]) -> None:
    """Refuse what was decided on files that were changed since; raises Overtaken."""
    revision = desk.revision()
    if body.get("revision") != revision:
        raise Overtaken(("the files of the plane are not as they were on this leaf",), revision)
