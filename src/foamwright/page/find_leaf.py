"""The leaf for a plane that did not come back: its log or last fix, where to look, files."""

import threading
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from secrets import token_urlsafe

from starlette.concurrency import run_in_threadpool as in_thread
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from foamwright.debrief.last_seen import LastSeen
from foamwright.debrief.recording import Recording
from foamwright.debrief.search_gpx import gpx_of
from foamwright.jobs import find as job
from foamwright.jobs.search_sheet import SHEET, drawn
from foamwright.jobs.search_told import Found
from foamwright.jobs.typed_fix import FIELDS, seen_of
from foamwright.page.asking import Told, desk_of, planned, variant_of
from foamwright.page.desk import Desk
from foamwright.page.dress import dressed
from foamwright.page.errands import Step, Work
from foamwright.page.find_told import columns_asked, found_told, typed_fields
from foamwright.page.flights import held_in, intake_of, named, takes_in
from foamwright.page.intake import LARGEST, Held
from foamwright.page.refusals import Gone, body_of
from foamwright.page.slow import errands_of, state_of
from foamwright.paper.picture import picture
from foamwright.problems import CallProblem, DataFileProblem

LANE = "find"

LONGEST = 60
"""Most letters of one field."""

KEPT = 6
"""Searches whose files can be taken; the oldest are forgotten first."""

FILES: Mapping[str, str] = {
    "area.gpx": "application/gpx+xml",
    "area.svg": "image/svg+xml",
    "area-dark.svg": "image/svg+xml",
    "area.png": "image/png",
}
"""What can be taken of a search, and what a browser calls it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Search:
    """What is left of a search that was done: its files, not the log, which may be large."""

    called: str
    """What its files are called, without an ending."""
    gpx: bytes
    light: bytes
    """The drawing on light paper, as SVG."""
    dark: bytes

    def content(self, file: str) -> bytes:
        """Return one of its files."""
        if file.endswith(".gpx"):
            return self.gpx
        if file.endswith(".png"):
            return picture(self.light.decode(), SHEET)
        return self.dark if "dark" in file else self.light


def search_of(found: Found, recording: Recording | None) -> Search:
    """Return the files of a search."""
    light, dark = (drawn(found, recording, as_picture=False, dark=dark) for dark in (False, True))
    return Search(
        called=f"{name_of(found.plane)}-where-to-look",
        gpx=gpx_of(found.area, found.plane).encode(),
        light=light,
        dark=dark,
    )


class Shelf:
    """The last searches of one page; they go with it."""

    def __init__(self) -> None:
        """Nothing was searched yet."""
        self._lock = threading.Lock()
        self._searches: OrderedDict[str, Search] = OrderedDict()

    def put(self, search: Search) -> str:
        """Keep a search, and return the name nobody can guess."""
        name = token_urlsafe(12)
        with self._lock:
            self._searches[name] = search
            while len(self._searches) > KEPT:
                self._searches.popitem(last=False)
        return name

    def named(self, name: str) -> Search:
        """Return a search; raises Gone for one that is not here any more."""
        with self._lock:
            found = self._searches.get(name)
        if found is None:
            raise Gone("this search is not here any more: let the page look again, then take it")
        return found


def shelf_of(request: Request) -> Shelf:
    """Return the searches of this page."""
    found: Shelf = request.app.state.searches
    return found


@planned
def page(request: Request) -> Response:
    """Return the leaf; a flight that was read on the leaf of the flights may be named."""
    reading = desk_of(request).reading()
    plane = reading.loaded.plane
    held = intake_of(request).named(request.query_params.get("flight"))
    told = {
        "plane": plane.name,
        "variant": variant_of(request),
        "revision": reading.revision,
        "fields": typed_fields(plane.units),
        "largest": LARGEST,
        "flight": held.name if held is not None and held.file is not None else "",
        "file": held.file.name if held is not None and held.file is not None else "",
    }
    return dressed(request, "find.html", told)


def wishes_of(desk: Desk, body: Mapping[str, object]) -> job.Wishes:
    """Return how to search; raises CallProblem."""
    wind = text_in(body, "wind")
    return job.Wishes(wind=wind or None, takes=takes_in(body), units=desk.settings.units)


def text_in(table: Mapping[str, object], name: str) -> str:
    """Return a short text of a request, empty where there is none; raises CallProblem."""
    found = table.get(name, "")
    if not isinstance(found, str) or len(found) > LONGEST:
        raise CallProblem(f"{name} is no short text", expected="what was typed")
    return found.strip()


def typed_in(body: Mapping[str, object]) -> dict[str, str]:
    """Return what was typed of the last fix; raises CallProblem for anything but short texts."""
    told = body.get("typed")
    if not isinstance(told, dict) or not set(told) <= set(FIELDS):
        raise CallProblem("the last fix is no table", expected=f"some of {', '.join(FIELDS)}")
    return {name: text_in(told, name) for name in told}


def after_log(desk: Desk, shelf: Shelf, held: Held, wishes: job.Wishes) -> Work:
    """Return the work of searching after a log."""

    def work(step: Step) -> Told:
        step("reading the log and letting it fall")
        if held.file is None:
            raise CallProblem("this flight has no log", expected="bring one, or type the last fix")
        try:
            found, recording = job.after_log(desk.path, held.file, wishes)
        except (DataFileProblem, job.NoPosition) as problem:
            asked = columns_asked(held.file, wishes.takes, problem)
            if asked is None:
                raise own_words(problem, held.file) from problem
            return {"flight": held.name, "html": asked}
        return {"flight": held.name, **kept(shelf, found, recording, held.file.name)}

    return work


def own_words(problem: DataFileProblem | CallProblem, file: Path) -> DataFileProblem | CallProblem:
    """Return what is wrong with a log under its own name."""
    return named(problem, file) if isinstance(problem, DataFileProblem) else problem


def after_fix(desk: Desk, shelf: Shelf, seen: LastSeen, wishes: job.Wishes) -> Work:
    """Return the work of searching after a last fix that was typed."""

    def work(step: Step) -> Told:
        step("letting it fall")
        return kept(shelf, job.after_fix(desk.path, seen, wishes), None, "")

    return work


def kept(shelf: Shelf, found: Found, recording: Recording | None, file: str) -> Told:
    """Keep a search and return what it tells."""
    name = shelf.put(search_of(found, recording))
    return {"search": name, "html": found_told(found, name, file)}


async def look(request: Request) -> Response:
    """Begin to search: after a log that was taken in, or after a typed fix."""
    body = await body_of(request)
    desk, shelf = desk_of(request), shelf_of(request)
    wishes = wishes_of(desk, body)
    if body.get("flight") is not None:
        work = after_log(desk, shelf, held_in(intake_of(request), body), wishes)
    else:
        units = await in_thread(lambda: desk.reading().loaded.plane.units)
        work = after_fix(desk, shelf, seen_of(typed_in(body), desk.settings.units or units), wishes)
    return JSONResponse(state_of(errands_of(request).start(LANE, object(), work)))


def name_of(plane: str) -> str:
    """Return what a file of a plane is called: plain letters, so that every device takes them."""
    plain = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in plane.lower())
    return "-".join(part for part in plain.split("-") if part)[:40] or "plane"


def take(request: Request) -> Response:
    """Return a file of a search; a drawing to look at, anything else to keep."""
    file = request.path_params["file"]
    if file not in FILES:
        raise CallProblem(f"there is no '{file}' of a search", expected=", ".join(FILES))
    search = shelf_of(request).named(request.path_params["name"])
    headers = {"cache-control": "no-store"}
    if not file.endswith(".svg"):
        called = f"{search.called}.{file.rpartition('.')[2]}"
        headers["content-disposition"] = f'attachment; filename="{called}"'
    return Response(search.content(file), media_type=FILES[file], headers=headers)


ROUTES = [
    Route("/find", page),
    Route("/find/look", look, methods=["POST"]),
    Route("/find/{name}/{file}", take),
]
"""Where this leaf listens."""
