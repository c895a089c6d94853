"""The page as an application: one module a leaf, one guard before all of them."""

from pathlib import Path

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles

from foamwright.jobs.ask import Settings
from foamwright.page import (
    bench_entry,
    build,
    field,
    find_leaf,
    flights,
    fresh,
    next_leaf,
    notebook,
    photo,
    slow,
)
from foamwright.page.desk import Desk
from foamwright.page.dress import STATIC
from foamwright.page.errands import Errands
from foamwright.page.guard import Door, Guard
from foamwright.page.intake import Intake
from foamwright.page.lan import Invitation
from foamwright.page.refusals import HANDLERS

LEAVES = (notebook, fresh, photo, build, flights, find_leaf, next_leaf, bench_entry, field, slow)
"""Every leaf of the notebook; each has its ROUTES."""


def app_of(
    path: Path, settings: Settings, door: Door, invitation: Invitation | None = None
) -> Starlette:
    """Return the page of one plane."""
    app = Starlette(
        routes=[
            *(route for leaf in LEAVES for route in leaf.ROUTES),
            Mount("/static", StaticFiles(directory=STATIC), name="static"),
        ],
        middleware=[Middleware(Guard, door=door)],
        exception_handlers=HANDLERS,
    )
    app.state.desk = Desk(path, settings)
    app.state.lan = invitation
    app.state.errands = Errands()
    app.state.intake = Intake()
    app.state.searches = find_leaf.Shelf()
    return app
