"""Several planes thrown at once: many throws together cost hardly more than few alone."""

from collections.abc import Sequence

from foamwright.model.computable import ComputablePlane
from foamwright.model.launch import (
    batch_of,
    batches_flown,
    clean_of,
    launch_plan,
    map_of,
    map_throws,
    steered_batch,
)
from foamwright.model.launch_stages import has_motor, written_of


def can_be_thrown(computed: ComputablePlane) -> bool:
    """Return whether nothing of the drive is missing that the plane has at all."""
    return not (computed.drive_missing and has_motor(computed.plane))


def launched_together(planes: Sequence[ComputablePlane]) -> None:
    """Find out which launches are clean, for every plane that can be thrown and was not yet.

    Each plane keeps the stages `launch_plan` and `launch_clean`, the same as if it were alone.
    """
    able = [one for one in planes if can_be_thrown(one)]
    unplanned = [one for one in able if "launch_plan" not in vars(one)]
    told = [written_of(one.plane) for one in unplanned]
    maps = [
        batch_of(map_throws(plane.launch_setup, written.steers))
        for plane, written in zip(unplanned, told, strict=True)
    ]
    for plane, written, found in zip(unplanned, told, batches_flown(maps), strict=True):
        known = map_of(plane.launch_setup, found)
        plane.launch_plan = launch_plan(plane.launch_setup, known, written)
    unflown = [one for one in able if not {"launch", "launch_clean"} & set(vars(one))]
    steered = [steered_batch(plane.launch_plan) for plane in unflown]
    for plane, found in zip(unflown, batches_flown(steered), strict=True):
        plane.launch_clean = clean_of(plane.launch_setup, plane.launch_plan, found)
