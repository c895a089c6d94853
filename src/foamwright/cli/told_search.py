"""Where to look, for a terminal."""

from rich.console import RenderableType
from rich.text import Text

from foamwright.cli.screen import QUIET, Heading, Screen
from foamwright.debrief.geodesy import Way
from foamwright.jobs.search_inputs import point_of
from foamwright.jobs.search_told import Found, spot_words
from foamwright.problems import shown


def way_words(screen: Screen, way: Way, start: str) -> str:
    """Return distance and bearing from a place."""
    if way.distance < 0.5:
        return f"at the {start}"
    far = screen.shown(way.distance, "length" if way.distance >= 3.0 else "elevation")
    return f"{far} from the {start}, bearing {way.bearing:.0f}° true ({point_of(way.bearing)})"


def places(screen: Screen, found: Found) -> list[RenderableType]:
    """Return the most likely place, and how to get there."""
    area = found.area
    head = "It lies at the last fix" if area.seen.grounded else "Most likely"
    line = Text(f"{head}  ")
    line.append(spot_words(area.likely_spot), "bold")
    told: list[RenderableType] = [Text(), screen.indented(line)]
    if found.from_start is not None:
        told.append(screen.indented(Text(way_words(screen, found.from_start, "first fix"))))
    if not area.seen.grounded:
        told.append(screen.indented(Text(way_words(screen, found.from_fix, "last fix"))))
        fix = Text(
            f"last fix {spot_words(area.seen.spot)}, at {area.seen.fix_time:.0f} s of the log"
        )
        told.append(screen.indented(Text(fix.plain, QUIET)))
    return told


def page(screen: Screen, found: Found) -> str:
    """Return where to look as a page."""
    parts: list[RenderableType] = [screen.head(Heading(plane=found.plane)), *places(screen, found)]
    parts += [Text(), screen.indented(screen.table(found.figures))]
    parts += screen.listed("Rests on", found.assumed)
    parts += screen.listed("Mind", found.cautions)
    parts.append(Text())
    parts += [Text(f"Wrote {shown(str(file))}.") for file in found.written]
    if not found.written:
        parts.append(
            Text("Nothing was written; -o FILE.gpx is for a phone, -o FILE.svg draws.", QUIET)
        )
    if not found.area.seen.grounded:
        parts.append(
            Text(
                f"From {found.falls} falls (seed {found.seed}): a help to search, no promise.",
                QUIET,
            )
        )
    return screen.set_out(parts)
