"""True-scale cutting templates, from a plane's file to a file."""

from dataclasses import dataclass
from pathlib import Path

from foamwright.jobs.ask import Settings, opened
from foamwright.jobs.output import free, put
from foamwright.jobs.templates import cuts_of, templates_of
from foamwright.paper import template_files
from foamwright.problems import CallProblem
from foamwright.questions import balance, fit
from foamwright.questions.case import Case
from foamwright.questions.chance import verdict

ENDINGS = (".pdf", ".svg", ".dxf")
"""What templates can be written as."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Written:
    """What was written."""

    file: Path
    templates: int
    """How many views."""
    cuts: int
    """How many pockets and channels."""
    notes: tuple[str, ...]
    """How the questions stand that should stand before the knife."""


def standing(case: Case) -> tuple[str, ...]:
    """Return how fit and balance stand, in words for the first page."""
    found = []
    for question in (fit, balance):
        chance = question.measure(case).probability
        told = "open" if chance is None else f"{verdict(chance)}, {chance:.0%}"
        found.append(f"{question.ASKS} Today: {told}.")
    return tuple(found)


def cut(
    path: Path, file: Path, settings: Settings, *, paper: str = "a4", force: bool = False
) -> Written:
    """Write the templates of a plane as PDF, SVG or DXF by the file's ending.

    Raises CallProblem where there is nothing to cut; nothing is left half-written.
    """
    free(file, ENDINGS, force=force)
    _, case = opened(path, settings)
    templates, cuts = templates_of(case), cuts_of(case)
    if not cuts:
        raise CallProblem(
            f"{case.plane.name} has nothing to cut",
            expected="parts with a place and a size, or rods with ends",
        )
    title = (
        case.plane.name if settings.variant is None else f"{case.plane.name}, {settings.variant}"
    )
    notes = standing(case)
    ending = file.suffix.lower()
    if ending == ".pdf":
        content = template_files.pdf(title, templates, cuts, notes, paper=paper)
    elif ending == ".svg":
        content = template_files.svg(title, templates)
    else:
        content = template_files.dxf(templates)
    put(file, content, force=force)
    return Written(file=file, templates=len(templates), cuts=len(cuts), notes=notes)
