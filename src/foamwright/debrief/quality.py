"""What is not performance: trim, the radio link, positions, and the scale of a pitot."""

from foamwright.debrief.air_data import read_fixes, read_pitot
from foamwright.debrief.link import read_link
from foamwright.debrief.outcome import Share
from foamwright.debrief.scene import Scene
from foamwright.debrief.trim import read_trim

READS = (read_trim, read_link, read_fixes, read_pitot)


def read_quality(scene: Scene) -> Share:
    """Return figures of all of them, and findings where something wants a look."""
    shares = [read(scene) for read in READS]
    return Share(
        figures=tuple(one for share in shares for one in share.figures),
        findings=tuple(one for share in shares for one in share.findings),
        not_said=tuple(one for share in shares for one in share.not_said),
    )
