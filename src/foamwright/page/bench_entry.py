"""Results of tests, entered on the page: noted by the job of the command, judged, taken back."""

import dataclasses
import datetime as dt
from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from foamwright.jobs import bench as job
from foamwright.jobs.ask import Settings
from foamwright.jobs.bench_tests import TESTS, WEIGH, keys_of, list_of
from foamwright.page.answers import figure_told
from foamwright.page.asking import Told, desk_of, posting
from foamwright.page.bands import mark
from foamwright.page.bench_forms import words_of
from foamwright.page.desk import Desk
from foamwright.page.dress import fragment
from foamwright.page.errands import Step, Work
from foamwright.page.flight_told import changes_told, words
from foamwright.page.refusals import body_of
from foamwright.page.slow import errands_of, state_of
from foamwright.plane import bench
from foamwright.plane.bench_records import KINDS, Record
from foamwright.problems import CallProblem

LANE = "bench"
"""Notes are written and learned from one after the other."""

SAMPLES = 512
"""Planes like yours that a reading is held against, as for the steps beside it."""

LONGEST = 60
"""Most letters of one field."""

LONGEST_NOTE = 400
"""Most letters of a note."""

MOST_KEYS = 20
"""Most keys of one note."""

CALLED = {
    "weighings": "weighed",
    "balances": "balance",
    "static": "motor on a scale",
    "hang": "weight hung on a surface",
    "swings": "swung on two strings",
    "throws": "throw",
    "servo_sweeps": "servo timed",
    "charges": "charged back",
}
"""The lists of tests in the notes, in words; build steps are ticked on a leaf of their own."""


def test_in(body: Mapping[str, object]) -> str:
    """Return which test a request notes; raises CallProblem where there is no such test."""
    test = body.get("test")
    if not isinstance(test, str) or (test != WEIGH and test not in TESTS):
        raise CallProblem("no such test", expected=f"one of {', '.join((WEIGH, *TESTS))}")
    return test


def texts_in(body: Mapping[str, object], name: str, longest: int) -> dict[str, str]:
    """Return a table of texts of a request; raises CallProblem for anything else."""
    found = body.get(name, {})
    if not isinstance(found, dict) or len(found) > MOST_KEYS:
        raise CallProblem(f"{name} is no table", expected="keys and what was typed")
    if not all(isinstance(text, str) and len(text) <= longest for text in found.values()):
        raise CallProblem("something typed is too long", expected=f"at most {longest} letters each")
    return {str(key): text.strip() for key, text in found.items()}


def day_in(body: Mapping[str, object]) -> dt.date:
    """Return the day of a note, today where it says none."""
    day = body.get("day") or ""
    try:
        return dt.date.fromisoformat(str(day)) if day else bench.today()
    except ValueError as error:
        raise CallProblem(f"'{day}' is no day", expected="write it as 2026-05-01") from error


def note_in(body: Mapping[str, object]) -> str | None:
    """Return the words kept with a note; none where there are none."""
    note = body.get("note", "")
    if not isinstance(note, str) or len(note) > LONGEST_NOTE:
        raise CallProblem("the note is too long", expected=f"at most {LONGEST_NOTE} letters")
    return " ".join(note.split()) or None


def record_in(body: Mapping[str, object]) -> Record:
    """Return what was filled in as a record; raises CallProblem as the command does."""
    test = test_in(body)
    typed = {key: text for key, text in texts_in(body, "fields", LONGEST).items() if text}
    fields = KINDS[list_of(test)].model_fields
    told: dict[str, object] = {
        key: int(text)
        if key in fields and fields[key].annotation is int and text.isdecimal()
        else text
        for key, text in typed.items()
    }
    strange = [key for key in told if key not in keys_of(test)]
    if strange:
        raise CallProblem(f"'{strange[0]}' says nothing of this test")
    words_here = {**words_of(test), "date": "“day”"}
    told |= {"date": day_in(body), "note": note_in(body)}
    return job.record_of(list_of(test), told, words_here)


def sentence_of(entry: Mapping[str, object]) -> str:
    """Return a note in words, without its day and what was written beside."""
    return ", ".join(
        f"{words(key)} {value}" for key, value in entry.items() if key not in ("date", "note")
    )


def entry_told(name: str, record: Record) -> Told:
    """Return one note for a template, with all it says so that it can be taken out again."""
    entry = bench.entry_of(record)
    return {
        "list": name,
        "called": CALLED[name],
        "words": sentence_of(entry),
        "day": record.date.isoformat(),
        "note": record.note or "",
        "told": {key: str(value) for key, value in entry.items()},
    }


def noted_before(desk: Desk) -> Told:
    """Return everything noted at the bench but build steps, the newest first."""
    found = bench.load(desk.reading().loaded.folder).bench
    entries = [entry_told(name, one) for name in CALLED for one in getattr(found, name)]
    ordered = sorted(entries, key=lambda entry: str(entry["day"]))[::-1]
    html = fragment("bench_noted.html", {"entries": ordered})
    return {"html": html, "count": len(ordered), "revision": desk.revision()}


def noted_told(noted: job.Noted) -> str:
    """Return what a note says as a piece of the page: how it fits the plan, what it taught."""
    answer, units, currency = noted.answer, noted.units, noted.currency
    return fragment(
        "bench_says.html",
        {
            "entry": entry_told(bench.name_of(noted.record), noted.record),
            "file": noted.file.name,
            "hints": noted.hints,
            "answer": answer,
            "mark": mark(answer.verdict),
            "figures": [figure_told(figure, units, currency) for figure in answer.figures],
            "unused": noted.unused,
            "changes": changes_told(noted.changes, units),
        },
    )


def settings_of(desk: Desk) -> Settings:
    """Return how a note is judged: it is about the plane as built, so about no variant."""
    samples = min(SAMPLES, desk.settings.samples)
    return dataclasses.replace(desk.settings, variant=None, samples=samples)


def noting(desk: Desk, record: Record) -> Work:
    """Return the work of noting a record and learning from it."""

    def work(step: Step) -> Told:
        step("holding it against the plan")
        with desk.lock:  # whoever asks meanwhile would only learn the same a second time
            noted = job.note(desk.path, record, settings_of(desk))
            revision = desk.revision()
        return {"html": noted_told(noted), "revision": revision}

    return work


async def note(request: Request) -> Response:
    """Begin to note a test; a request sent twice is noted once."""
    body = await body_of(request)
    record = record_in(body)
    once = body.get("once")
    key = once[:LONGEST] if isinstance(once, str) and once else object()
    errand = errands_of(request).start(LANE, key, noting(desk_of(request), record))
    return JSONResponse(state_of(errand))


def take_back(desk: Desk, body: Mapping[str, object]) -> Told:
    """Take a note out of the bench notes again."""
    name = body.get("list")
    if not isinstance(name, str) or name not in CALLED:
        raise CallProblem("no such list of tests", expected=", ".join(CALLED))
    with desk.lock:
        job.take_out(desk.path, name, texts_in(body, "told", LONGEST_NOTE))
        return noted_before(desk)


def noted(request: Request) -> Response:
    """Return what was noted so far."""
    return JSONResponse(noted_before(desk_of(request)))


ROUTES = [
    Route("/next/noted", noted),
    Route("/next/note", note, methods=["POST"]),
    Route("/next/note/back", posting(take_back), methods=["POST"]),
]
"""Where results are entered."""
