"""What a cutting template shows, in millimetres of the real thing: x to the right, y up."""

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
"""A point of a template [mm]."""

Kind = Literal[
    "foam", "pocket", "hidden pocket", "channel", "hinge", "station", "balance", "section"
]
"""What a line stands for; a hidden pocket opens to the other side."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Outline:
    """One line or closed outline."""

    kind: Kind
    """What it stands for."""
    points: tuple[Point, ...]
    """Its corners."""
    closed: bool = True
    """Whether the last corner joins the first."""
    label: str = ""
    """Words beside it; empty for none."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Template:
    """One view at true scale."""

    name: str
    """A short name, for layers and file parts."""
    title: str
    """What is seen, and from where."""
    outlines: tuple[Outline, ...]
    """Everything on it."""

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """Least x and y, greatest x and y [mm]."""
        xs = [x for outline in self.outlines for x, _ in outline.points]
        ys = [y for outline in self.outlines for _, y in outline.points]
        return min(xs), min(ys), max(xs), max(ys)

    def turned(self) -> "Template":
        """Return the template a quarter turned, so that what was wide is tall."""
        return Template(
            name=self.name,
            title=self.title,
            outlines=tuple(
                Outline(
                    kind=o.kind,
                    points=tuple((-y, x) for x, y in o.points),
                    closed=o.closed,
                    label=o.label,
                )
                for o in self.outlines
            ),
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class CutLine:
    """One line of the cut list."""

    what: str
    """What goes in."""
    host: str
    """What it is cut into."""
    side: str
    """From which side."""
    depth: str
    """How deep."""
    size: str
    """How large the mouth is."""
    at: str
    """Where its middle is."""
