"""What a question is asked about: the plane as written, and computable."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import carriers
from foamwright.model.learning import Learned
from foamwright.physics.arrays import Flags, Samples
from foamwright.plane.bench_records import Bench
from foamwright.plane.plane import Plane
from foamwright.plane.stock import Stock
from foamwright.questions.answer import Figure, Share


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """One plane under question."""

    plane: Plane
    """What the builder wrote."""
    computed: ComputablePlane
    """The same, computable."""
    stock: Stock
    """What else could be fitted."""
    changed: Callable[[Mapping[str, object]], "Case"]
    """Returns the case with some keys of the plane file changed, with the same luck."""
    bench: Bench = field(default_factory=Bench)
    """What was noted at the bench."""
    learned: Learned | None = None
    """What tests and flights taught; none where there were none."""
    planned: Callable[[], ComputablePlane] | None = None
    """Returns the plane as it was planned, before anything was weighed or learned, with the same
    luck; none where nothing was noted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Measured:
    """What one question computes, before it is put into words."""

    figures: tuple[Figure, ...]
    """The key figure first."""
    probability: float | None
    """The chance; none if open."""
    deciding: Samples
    """The samples (n,) of the figure the verdict hangs on."""
    assumed: tuple[str, ...] = ()
    """What was assumed."""
    missing: tuple[str, ...] = ()
    """What has to be told first."""
    holds: Flags | None = None
    """For which samples (n,) the question stands; the chance is their share. None if open."""
    decides: str = ""
    """Name of the figure that `deciding` are the samples of; the first where it is not told."""

    @property
    def key_figure(self) -> Figure | None:
        """The figure the verdict hangs on; none where nothing could be computed."""
        if self.decides:
            return self.named(self.decides)
        return self.figures[0] if self.figures else None

    def named(self, name: str) -> Figure:
        """Return the figure of that name."""
        return next(figure for figure in self.figures if figure.name == name)


def carried_by(case: Case, measured: Measured) -> tuple[Share, ...]:
    """Return which inputs carry the spread of the deciding figure."""
    if not np.any(np.isfinite(measured.deciding)):
        return ()
    shares = carriers(case.computed.draws, measured.deciding)
    return tuple(Share(input=label, share=share) for label, share in shares)
