"""A new plane from what ruler, scale and labels tell."""

import math
import os
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import cast

from foamwright.jobs import interview, shapes, stowing
from foamwright.jobs.ask import Settings, ask
from foamwright.jobs.draft import frame_lines
from foamwright.jobs.parts import item_lines
from foamwright.jobs.sheet import MARK, Sheet
from foamwright.jobs.told import findings_in
from foamwright.plane.airframe import Layout
from foamwright.plane.document import load
from foamwright.problems import Finding, PlaneFileProblem, WriteProblem
from foamwright.quantity import read

FILE = "plane.toml"
"""The name of the plane file in its folder."""

ROUNDS, FEW = 2, 16
"""How often, and with how many samples, the pack of a new plane is placed."""

BAY = ("foremost", "rearmost")
"""Ends of the pack's bay."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Created:
    """What was written."""

    file: Path
    """The plane file."""
    remarks: int
    """How many lines of it say that something was not measured."""


def sheet_of(told: Mapping[str, str], name: str) -> Sheet:
    """Return answers with a stand-in for what was left out; raises PlaneFileProblem."""
    findings = findings_in(told)
    if findings:
        raise PlaneFileProblem(findings)
    layout = cast(Layout, told["layout"])
    given = {"name": name, **told}
    sweep = given.pop("ruler.sweep", None)
    if sweep is not None:
        span, angle = read(given["ruler.span"], "length"), read(sweep, "angle")
        back = 0.5 * span.value * math.tan(angle.value)
        given["ruler.tip_set_back"] = f"{back * 1e3:.1f} mm"
    return Sheet(layout=layout, told=given, stand_in=stowing.stand_ins(layout, given))


def text_of(sheet: Sheet) -> str:
    """Return the text of a plane file."""
    return "\n".join([*frame_lines(sheet), *item_lines(sheet)]) + "\n"


def balanced(sheet: Sheet) -> Sheet:
    """Return the same with its pack where the plane balances as guessed, if its bay has the place.

    What lies in its way moves, and that moves the balance again, so it is done twice.
    """
    if "places.pack" in sheet.told:
        return sheet
    first, last = (sheet.metres(f"places.pack_{end}") for end in BAY)
    for _ in range(ROUNDS):
        with tempfile.TemporaryDirectory(prefix="foamwright-") as room:
            (Path(room) / FILE).write_text(text_of(sheet), encoding="utf-8")
            try:
                (answer,) = ask(Path(room), ("balance",), Settings(samples=FEW)).answers
            except PlaneFileProblem:  # told again, and better, when the draft is read back
                return sheet
        found = [f.value for f in answer.figures if f.name == "pack_x_for_target"]
        if not found or found[0] is None:
            return sheet
        place = shapes.place(min(max(found[0], first), last))
        stand_in = stowing.stand_ins(sheet.layout, {**sheet.told, "places.pack": place})
        ends = {f"places.pack_{e}": sheet.text(f"places.pack_{e}") for e in BAY}
        sheet = replace(sheet, stand_in={**stand_in, **ends, "places.pack": place})
    return sheet


def plane_text(told: Mapping[str, str], name: str) -> str:
    """Return the text of a plane file from answers; raises PlaneFileProblem."""
    return text_of(balanced(sheet_of(told, name)))


def first_asked(told: Mapping[str, str]) -> tuple[interview.Question, ...]:
    """Return what is asked at a terminal, given the layout that was told."""
    return interview.asked_of(cast(Layout, told["layout"]))


def stand_in(told: Mapping[str, str], key: str) -> str:
    """Return what would stand in for one answer; empty if nothing would."""
    if "ruler.span" not in told:
        return ""
    return stowing.stand_ins(cast(Layout, told["layout"]), told).get(key, "")


def taken(file: Path) -> WriteProblem:
    """Return the problem with a name that has a plane already."""
    return WriteProblem(file, "exists already", expected="name another folder, or move it away")


def free(directory: Path) -> Path:
    """Return the file to be written; raises WriteProblem if it may not be."""
    file = directory / FILE
    if directory.exists() and not directory.is_dir():
        raise WriteProblem(directory, "is a file", expected="name a folder")
    if os.path.lexists(file):
        raise taken(file)
    return file


def checked(directory: Path, text: str, source: Path | None) -> None:
    """Read a draft back as any plane is read; raises PlaneFileProblem about its source."""
    draft = directory / FILE
    draft.write_text(text, encoding="utf-8")
    try:
        load(draft)
    except PlaneFileProblem as problem:
        raise PlaneFileProblem(
            tuple(
                Finding(what=found.what, expected=found.expected, file=source, key=found.key)
                for found in problem.findings
            )
        ) from problem


def settle(draft: Path, file: Path) -> None:
    """Give a finished draft its name; raises WriteProblem if the name was taken meanwhile."""
    try:
        os.link(draft, file)
    except FileExistsError as error:
        raise taken(file) from error
    except OSError as error:  # a file system without second names
        if os.path.lexists(file):
            raise taken(file) from error
        draft.replace(file)


def put(file: Path, text: str, source: Path | None) -> None:
    """Write a file whole or not at all, and never over another."""
    made = [folder for folder in (file.parent, *file.parent.parents) if not folder.exists()]
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".foamwright-", dir=file.parent) as room:
            checked(Path(room), text, source)
            settle(Path(room) / FILE, file)
    except BaseException as error:
        for folder in made:
            if folder.is_dir() and not any(folder.iterdir()):
                folder.rmdir()
        if isinstance(error, OSError):
            reason = error.strerror or str(error)
            raise WriteProblem(file, f"cannot be written: {reason}") from error
        raise


def create(directory: Path, told: Mapping[str, str], source: Path | None = None) -> Created:
    """Write a new plane into a folder, whole or not at all; `source` is the file that told it.

    Raises PlaneFileProblem for answers that cannot be taken, WriteProblem for a folder that has
    a plane already.
    """
    file = free(directory)
    text = plane_text(told, directory.resolve().name)
    put(file, text, source)
    return Created(file=file, remarks=sum(MARK in line for line in text.splitlines()[6:]))
