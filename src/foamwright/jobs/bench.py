"""Note a weighing or a test, hold it against the plan, and say what it taught."""

import dataclasses
import datetime as dt
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from foamwright.jobs.ask import SCHEMA, Settings, answer_json, opened
from foamwright.jobs.belief import belief_json, learned, unused_in
from foamwright.model.bench_evidence import sources_of
from foamwright.model.learning import Change, Learned, Taught
from foamwright.model.score import scored
from foamwright.plane.bench import (
    append,
    entry_of,
    known_keys,
    name_of,
    today,
    validated,
    with_record,
)
from foamwright.plane.bench import load as load_notes
from foamwright.plane.bench import take_out as take_from
from foamwright.plane.bench_records import (
    ALL_UP,
    BARE_FOAM,
    KINDS,
    LAST_DAY,
    Balance,
    Bench,
    Hang,
    Record,
    ServoSweep,
    Weighing,
)
from foamwright.plane.checks import extent
from foamwright.plane.document import load, plane_file
from foamwright.plane.findings import SHAPES, listed, nearest
from foamwright.plane.plane import Plane
from foamwright.plane.whole_files import digest_of
from foamwright.problems import CallProblem
from foamwright.quantity import show
from foamwright.questions import bench as question
from foamwright.questions.answer import Answer
from foamwright.questions.chance import MASS, figure

SAME = 0.35
"""How near to a whole number of planned pieces a mass looks like so many of them."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Noted:
    """What was noted and what it says."""

    plane: str
    units: str
    currency: str
    record: Record
    """As noted."""
    file: Path
    """Where."""
    written: bool
    """Whether it was written."""
    answer: Answer
    """What was read against the plan."""
    changes: tuple[Change, ...]
    """What this record taught."""
    hints: tuple[str, ...]
    """What looks mistyped."""
    unused: tuple[str, ...] = ()
    """What nothing was learned from, and why."""


class NoteProblem(CallProblem):
    """What is wrong with a note, and which of its keys that is about."""

    def __init__(self, what: str, *, expected: str = "", key: str = "") -> None:
        """Keep the key; empty where it is about no single one."""
        super().__init__(what, expected=expected)
        self.key = key


def record_of(
    kind: str,
    told: Mapping[str, object],
    words: Mapping[str, str],
    day: dt.date | None = None,
) -> Record:
    """Return what was typed as a record of one of the lists of the bench notes.

    `words` are the options by key, for the message where something is wrong; `day` is the day it
    is, from the clock where it is not given. Raises CallProblem.
    """
    record = KINDS[kind]
    given = {key: value for key, value in told.items() if value is not None}
    try:
        return record.model_validate(given, context={LAST_DAY: day or today()})
    except ValidationError as error:
        first = error.errors()[0]
        raise wrong(kind, dict(first), words) from error


def wrong(kind: str, error: Mapping[str, object], words: Mapping[str, str]) -> NoteProblem:
    """Return what is wrong with a call in the words of its options."""
    place = error["loc"]
    key = str(place[0]) if isinstance(place, tuple) and place else ""
    option = words.get(key, f"--{key.replace('_', '-')}")
    context = error.get("ctx")
    told = context if isinstance(context, Mapping) else {}
    if error["type"] in ("quantity", "day"):
        return NoteProblem(f"{option}: {told['what']}", expected=str(told["expected"]), key=key)
    if error["type"] == "record":
        what = re.sub(r"\w+", lambda found: words.get(found[0], found[0]), str(told["what"]))
        return NoteProblem(f"this test {what}", key=key)
    if error["type"] == "missing":
        return NoteProblem(f"this test wants {option}", key=key)
    if error["type"] == "extra_forbidden":
        fields = [words.get(name, name) for name in known_keys((kind, 0)) if name in words]
        expected = ", ".join(fields)
        return NoteProblem(f"{option} says nothing of this test", expected=expected, key=key)
    says = SHAPES.get(str(error["type"]), (str(error["msg"]), ""))
    return NoteProblem(f"{option}: {says[0]}", expected=says[1], key=key)


def check_names(record: Record, plane: Plane) -> None:
    """Refuse a note about something the plane does not have."""
    items = tuple(item.name for item in plane.items)
    if isinstance(record, Weighing) and record.item not in (*items, BARE_FOAM, ALL_UP):
        known = (*items, BARE_FOAM, ALL_UP)
        raise CallProblem(
            f"there is no item '{record.item}' to weigh",
            expected=nearest(record.item, known, listed(known)),
        )
    servos = tuple(item.name for item in plane.items if item.kind == "servo")
    if isinstance(record, ServoSweep) and record.servo not in servos:
        raise CallProblem(
            f"there is no servo '{record.servo}'",
            expected=nearest(record.servo, servos, listed(servos)),
        )
    surfaces = tuple(surface.name for surface in plane.airframe.surfaces)
    if isinstance(record, Hang) and record.surface not in surfaces:
        raise CallProblem(
            f"there is no surface '{record.surface}'",
            expected=nearest(record.surface, surfaces, listed(surfaces)),
        )


def check_balance(record: Record, plane: Plane) -> None:
    """Refuse a balance beyond nose or tail: no plane hangs there."""
    if not isinstance(record, Balance) or record.at is None:
        return
    front, rear = extent(plane)
    if not front <= record.at.value <= rear:
        ends = f"{show(front, 'length')} to {show(rear, 'length')}"
        raise CallProblem(
            f"{record.at.text} is not between nose and tail",
            expected=f"x runs aft from the nose, {ends}",
        )


def hints_of(record: Record, plane: Plane) -> tuple[str, ...]:
    """Return what looks mistyped: all pieces on the scale, one of them noted."""
    if not isinstance(record, Weighing) or record.pieces != 1:
        return ()
    for item in plane.items:
        if item.name == record.item and item.count > 1 and item.mass is not None:
            ratio = record.mass.value / item.mass.value
            if abs(ratio - item.count) < SAME * item.count:
                text = (
                    f"that is about {item.count} times the {item.mass.text} planned for one: if "
                    f"all {item.count} lay on the scale, note it with --pieces {item.count}"
                )
                return (text,)
    return ()


def note(path: Path, record: Record, settings: Settings, *, dry: bool = False) -> Noted:
    """Note a record, unless `dry`, and return what it says."""
    folder = plane_file(path).parent
    planned = load(path, as_planned=True).plane
    check_names(record, planned)
    check_balance(record, planned)
    before = load_notes(folder)
    text = with_record(before.text, record)
    virtual = dataclasses.replace(
        before, bench=validated(text, before.file), text=text, digest=digest_of(text)
    )
    loaded, case = opened(path, settings, virtual)
    only = Bench.model_validate({name_of(record): (record,)})
    answer = question.answer(dataclasses.replace(case, bench=only, learned=None))
    mass = figure("all_up_mass", "all-up mass now", case.computed.masses.all_up, MASS)
    if isinstance(record, Weighing | Balance):
        answer = dataclasses.replace(answer, figures=(*answer.figures, mass))
    taught = taught_by(record, case.learned)
    if not dry:
        append(folder, record, before)
        learned(load(path))  # kept beside the plane, so that the next answer is quick
    return Noted(
        plane=loaded.plane.name,
        units=settings.units or loaded.plane.units,
        currency=loaded.plane.currency,
        record=record,
        file=before.file,
        written=not dry,
        answer=answer,
        changes=() if taught is None else taught.changes,
        hints=hints_of(record, planned),
        unused=() if taught is None else tuple(map(": ".join, unused_in(taught))),
    )


def taught_by(record: Record, found: Learned | None) -> Taught | None:
    """Return what one record taught; none where it is no observation."""
    if found is None:
        return None
    bench = Bench.model_validate({name_of(record): (record,)})
    names = {source.name for source in sources_of(bench)}
    entries = [entry for entry in found.taught if entry.source.name in names]
    return entries[-1] if entries else None


def take_out(path: Path, name: str, told: Mapping[str, str]) -> Path:
    """Take a note out of the bench notes again, by what it says; return the file.

    `name` is its list, `told` its keys as text. Raises CallProblem where no such note stands there.
    """
    if name not in KINDS:
        raise CallProblem(
            f"there is no list '{name}' in the bench notes", expected=listed(tuple(KINDS))
        )
    known = load_notes(plane_file(path).parent)
    return take_from(known, name, told).file


@dataclass(frozen=True, kw_only=True, slots=True)
class Rebuilt:
    """What the whole folder teaches."""

    plane: str
    units: str
    currency: str
    taught: tuple[Taught, ...]
    score: str


def rebuild(path: Path, settings: Settings) -> Rebuilt:
    """Learn from everything in the folder anew, and return what each test and flight taught."""
    loaded = load(path)
    found = learned(loaded, anew=True)
    taught = () if found is None else found.taught
    return Rebuilt(
        plane=loaded.plane.name,
        units=settings.units or loaded.plane.units,
        currency=loaded.plane.currency,
        taught=taught,
        score=scored(taught).sentence(),
    )


def as_json(noted: Noted) -> dict[str, object]:
    """Return what was noted as the contract's JSON object."""
    told = {key: str(value) for key, value in entry_of(noted.record).items()}
    return {
        "schema": SCHEMA,
        "plane": noted.plane,
        "list": name_of(noted.record),
        "record": told,
        "written": noted.written,
        "answer": answer_json(noted.answer),
        "belief": belief_json(noted.changes),
        "hints": list(noted.hints),
    }


def rebuilt_json(rebuilt: Rebuilt) -> dict[str, object]:
    """Return what the folder teaches as a JSON object."""
    return {
        "schema": SCHEMA,
        "plane": rebuilt.plane,
        "score": rebuilt.score,
        "sources": [
            {
                "source": entry.source.name,
                "date": entry.source.day.isoformat(),
                "observations": [
                    {
                        "name": check.observation.name,
                        "value": check.observation.value,
                        "low": None if check.expected is None else check.expected.low,
                        "high": None if check.expected is None else check.expected.high,
                        "probability": check.probability,
                        "used": check.used,
                        "why": check.why,
                    }
                    for check in entry.checked
                ],
                "belief": belief_json(entry.changes),
            }
            for entry in rebuilt.taught
        ],
    }
