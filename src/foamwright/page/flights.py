"""The leaf of the flights: a log or a card read, what it told, kept with the plane or set aside."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from starlette.concurrency import run_in_threadpool as in_thread
from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from foamwright.debrief.layout import layout_of
from foamwright.debrief.reading import kind_of
from foamwright.debrief.taking import takes_of
from foamwright.jobs import debrief as job
from foamwright.jobs.confirmed_columns import confirm
from foamwright.page import flight_card
from foamwright.page.asking import Told, desk_of, planned, variant_of
from foamwright.page.desk import Desk
from foamwright.page.dress import dressed
from foamwright.page.errands import Step, Work
from foamwright.page.flight_told import told, unread
from foamwright.page.intake import LARGEST, Held, Intake
from foamwright.page.kept_told import kept_told
from foamwright.page.page_words import on_page
from foamwright.page.refusals import Gone, body_of
from foamwright.page.slow import errands_of, state_of
from foamwright.plane import flights
from foamwright.plane.document import load
from foamwright.problems import CallProblem, DataFileProblem

LANE = "flights"
"""Flights are read and kept one after the other."""

MOST_TAKES = 1000
"""Columns that can be told at once."""

UPLOAD = "/flights/log"
"""Where logs are taken in."""


def intake_of(request: Request) -> Intake:
    """Return the flights that wait to be decided on."""
    found: Intake = request.app.state.intake
    return found


@planned
def page(request: Request) -> Response:
    """Return the leaf; what was kept before follows."""
    desk = desk_of(request)
    reading = desk.reading()
    plane = reading.loaded.plane
    return dressed(
        request,
        "flights.html",
        {
            "plane": plane.name,
            "variant": variant_of(request),
            "revision": reading.revision,
            "fields": flight_card.fields(plane.units),
            "count": len(flights.load(reading.loaded.folder)),
            "largest": LARGEST,
        },
    )


def kept(request: Request) -> Response:
    """Return the flights kept before, and what each taught."""
    desk = desk_of(request)
    sight = desk.sight()
    found = flights.load(sight.loaded.folder)
    html = kept_told(found, sight.case.learned, sight.case.plane.units)
    return JSONResponse({"html": html, "count": len(found), "revision": sight.revision})


async def upload(request: Request) -> Response:
    """Take a log in: its name in the address, its bytes as they are."""
    name = request.query_params.get("name", "")
    try:
        held = await intake_of(request).take(name, request.stream())
    except ClientDisconnect:
        return Response(status_code=400)  # nobody is there to be told
    file = held.file
    return JSONResponse({"flight": held.name, "file": file.name if file else "", "size": held.size})


def held_in(intake: Intake, body: Mapping[str, object]) -> Held:
    """Return the flight a request is about; raises Gone for one that is not here any more."""
    held = intake.named(body.get("flight"))
    if held is None:
        raise Gone(
            "this flight is not here any more; it was decided on, or the notebook was closed"
        )
    return held


def takes_in(body: Mapping[str, object]) -> tuple[str, ...]:
    """Return what a request says columns are, as it is typed on the command line."""
    found = body.get("takes", {})
    if not isinstance(found, dict) or len(found) > MOST_TAKES:
        raise CallProblem("takes is no table", expected="columns and what they are")
    if not all(isinstance(saying, str) for saying in found.values()):
        raise CallProblem("a column is said to be no text", expected='"ground_speed in kn"')
    return tuple(f"{column}={saying}" for column, saying in found.items())


def logs_kept(desk: Desk) -> dict[str, Path]:
    """Return the logs of the flights kept with the plane, by their names, the latest first."""
    folder = desk.reading().loaded.folder
    logs = {
        Path(flight.note.log).stem: folder / flights.FOLDER / Path(flight.note.log).name
        for flight in reversed(flights.load(folder))
        if flight.note.log
    }
    return {name: log for name, log in logs.items() if log.is_file()}


def before_in(desk: Desk, body: Mapping[str, object]) -> tuple[Path, ...]:
    """Return the kept flights that a request names as those before a change."""
    names = body.get("before", [])
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise CallProblem("the flights before are no list", expected="names of kept flights")
    logs = logs_kept(desk) if names else {}
    strange = [name for name in names if name not in logs]
    if strange:
        raise CallProblem(
            f"no flight with a log is kept as '{strange[0]}'", expected=", ".join(logs) or "none is"
        )
    return tuple(logs[name] for name in dict.fromkeys(names))


def reading(desk: Desk, intake: Intake, held: Held, wishes: job.Wishes) -> Work:
    """Return the work of reading a flight; what it told is held until it is decided on."""

    def work(step: Step) -> Told:
        logs = () if held.file is None else (held.file,)
        try:
            found = job.debrief(desk.path, logs, wishes, step)
        except DataFileProblem as problem:
            return {"flight": held.name, "html": asking_for_columns(held, wishes, problem)}
        intake.tell(held.name, found)
        names = {
            "file": held.file.name if held.file else None,
            "flight": held.name,
            "earlier": list(logs_kept(desk)),
            "before": [log.stem for log in wishes.before],
        }
        return {"flight": held.name, "html": told(found, names)}

    return work


def asking_for_columns(held: Held, wishes: job.Wishes, problem: DataFileProblem) -> str:
    """Return the columns of a log that could not be read, to be told by hand.

    Raises what is wrong with the log where it is no table.
    """
    file = held.file
    own = named(problem, file)
    if file is None or file not in {finding.file for finding in problem.findings}:
        raise own from problem  # it is about the plane's own files
    try:
        if kind_of(file) != "table":
            raise own from problem
        header = layout_of(file).names
    except DataFileProblem:
        raise own from problem
    return unread(file.name, header, takes_of(wishes.takes, header), str(own))


def named(problem: DataFileProblem, file: Path | None) -> DataFileProblem:
    """Return what is wrong with a log under its own name: where it waits means nothing to anybody.

    What would be typed on the command line is told in the table of columns here.
    """
    return DataFileProblem(
        tuple(
            replace(
                finding,
                file=Path(file.name) if file is not None and finding.file == file else finding.file,
                what=on_page(finding.what),
                expected=on_page(finding.expected),
            )
            for finding in problem.findings
        )
    )


def read_before(intake: Intake, held: Held) -> job.Debriefed:
    """Return what a flight told; raises Gone where nobody has looked at it yet."""
    found = intake.told(held.name)
    if found is None:
        raise Gone("this flight is not here any more, or was not read yet")
    return found


async def read(request: Request) -> Response:
    """Begin to read a flight: its log, the card beside it, or a card alone."""
    body = await body_of(request)
    desk, intake = desk_of(request), intake_of(request)
    card = flight_card.card_text(body.get("card", {}))
    before = await in_thread(before_in, desk, body)
    wishes = job.Wishes(takes=takes_in(body), card=card, before=before)
    if body.get("flight") is None:
        if card is None:
            raise CallProblem("nothing is filled in", expected="at least one number")
        held = intake.card()
    else:
        held = held_in(intake, body)
    errand = errands_of(request).start(LANE, object(), reading(desk, intake, held, wishes))
    return JSONResponse({**state_of(errand), "flight": held.name})


def confirming(desk: Desk, intake: Intake, held: Held) -> Told:
    """Write the columns of a log that was read beside the flights of the plane."""
    (flight,) = read_before(intake, held).flights
    if flight.log is None:
        raise CallProblem("a card has no columns", expected="confirm those of a log")
    file = confirm(load(desk.path).folder, flight.log)
    return {"file": f"{file.parent.name}/{file.name}"}


def keeping(desk: Desk, intake: Intake, held: Held) -> Work:
    """Return the work of keeping a flight and learning from it."""

    def work(step: Step) -> Told:
        found = read_before(intake, held)
        step("keeping it, and learning from it")
        with desk.learning():
            written = job.accepted(load(desk.path), found.flights)
        intake.aside(held.name)
        return {"written": [f"{file.parent.name}/{file.name}" for file in written]}

    return work


async def remember(request: Request) -> Response:
    """Confirm the columns of a log."""
    intake = intake_of(request)
    held = held_in(intake, await body_of(request))
    return JSONResponse(await in_thread(confirming, desk_of(request), intake, held))


async def keep(request: Request) -> Response:
    """Begin to keep a flight."""
    intake = intake_of(request)
    held = held_in(intake, await body_of(request))
    work = keeping(desk_of(request), intake, held)
    return JSONResponse(state_of(errands_of(request).start(LANE, ("keep", held.name), work)))


async def aside(request: Request) -> Response:
    """Forget a flight that was only read."""
    body = await body_of(request)
    await in_thread(intake_of(request).aside, body.get("flight"))
    return JSONResponse({})


ROUTES = [
    Route("/flights", page),
    Route("/flights/kept", kept),
    Route(UPLOAD, upload, methods=["POST"]),
    Route("/flights/read", read, methods=["POST"]),
    Route("/flights/columns", remember, methods=["POST"]),
    Route("/flights/keep", keep, methods=["POST"]),
    Route("/flights/aside", aside, methods=["POST"]),
]
"""Where this leaf listens."""

LIMITS = {UPLOAD: LARGEST}
"""What may be larger than a request usually is."""
