"""Where a thing sits in the plane's own frame: x aft of the nose, y to the right, z up."""

from pydantic import BaseModel, ConfigDict

from foamwright.plane.fields import Extent, Length


class Written(BaseModel):
    """What a user writes: strict, frozen, no unknown keys."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class Place(Written):
    """A point in the plane's frame; the middle of the thing."""

    x: Length
    """Aft of the nose."""
    y: Length | None = None
    """To the right wing tip; the middle line where it is not given."""
    z: Length | None = None
    """Up; the reference line where it is not given."""


class Reach(Written):
    """How far a thing may be moved along the body without cutting anew."""

    foremost: Length
    """Foremost x of its middle."""
    rearmost: Length
    """Rearmost x of its middle."""


class Size(Written):
    """The box around a thing, as it lies in the plane."""

    length: Extent
    """Along x."""
    width: Extent
    """Along y."""
    height: Extent
    """Along z."""
