"""The build order on paper, to tick at the bench."""

from dataclasses import dataclass

from foamwright.paper.typeset import PAPERS, typeset

FOREWORD = (
    "A thick box cannot be undone: do it only when everything above it is ticked and its questions "
    "stand at likely or better on the day. Propellers cut, packs burn, planes fall: keep people "
    "clear, have someone with you, and keep to the law where you fly."
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Tick:
    """One line to tick."""

    phase: str
    """The heading it stands under."""
    do: str
    """What to do."""
    name: str
    """The step's name on the command line."""
    done: bool
    """Whether it is ticked already."""
    hold: bool
    """Whether it cannot be undone."""
    told: tuple[str, ...]
    """Small lines under it."""


def checklist(title: str, ticks: tuple[Tick, ...], paper: str) -> bytes:
    """Return the checklist as a PDF on A4 or Letter."""
    width, height = PAPERS[paper]
    phases = [
        {
            "name": phase,
            "steps": [
                {"do": t.do, "name": t.name, "done": t.done, "hold": t.hold, "told": list(t.told)}
                for t in ticks
                if t.phase == phase
            ],
        }
        for phase in dict.fromkeys(tick.phase for tick in ticks)
    ]
    told = {
        "title": title,
        "foreword": FOREWORD,
        "width": width,
        "height": height,
        "phases": phases,
    }
    return typeset("checklist", told)
