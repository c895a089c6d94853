"""Pages and fragments from templates: what a user wrote is escaped, always."""

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from urllib.parse import urlencode

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

from foamwright.page.page_words import on_page, way_to

HERE = Path(__file__).parent
STATIC = HERE / "static"


PLACES = (
    ("/", "The plane"),
    ("/next", "Next steps"),
    ("/photo", "Outline from a photo"),
    ("/order", "Build order"),
    ("/flights", "Flights"),
    ("/find", "Where it came down"),
    ("/field", "Field card"),
)
"""The leaves of a plane's notebook: where, and what they are called."""


@lru_cache(maxsize=1)
def environment() -> Environment:
    """Return the templates."""
    found = Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    found.filters |= {"on_page": on_page, "way_to": way_to}
    return found


def fragment(template: str, told: Mapping[str, object]) -> str:
    """Return a piece of a page."""
    return environment().get_template(template).render(told)


def dressed(
    request: Request, template: str, told: Mapping[str, object], *, status: int = 200
) -> HTMLResponse:
    """Return a whole page."""
    variant = request.query_params.get("variant")
    base = {
        "lan": getattr(request.app.state, "lan", None),
        "here": request.url.path,
        "leaves": PLACES,
        "looking": "?" + urlencode({"variant": variant}) if variant else "",
    }
    page = fragment(template, {**base, **told})
    return HTMLResponse(page, status_code=status, headers={"cache-control": "no-store"})
