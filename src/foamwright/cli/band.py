"""A band as one line of text: where the planes lie, and what was wanted."""

from dataclasses import dataclass

from foamwright.questions.answer import Figure


@dataclass(frozen=True, kw_only=True, slots=True)
class Pen:
    """The signs a band is drawn with."""

    band: str
    """Eight planes in ten lie here."""
    middle: str
    """As many lie left of it as right."""
    wanted: str
    """What is wanted."""
    elsewhere: str
    """What is not."""
    ends: tuple[str, str]
    """Where the wanted begins and ends."""


INK = Pen(band="━", middle="●", wanted="─", elsewhere="·", ends=("├", "┤"))
PLAIN = Pen(band="=", middle="O", wanted="-", elsewhere=".", ends=("[", "]"))

MARGIN = 0.08
"""Room left and right of everything that is drawn, as a share of it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Ruler:
    """Turns a value into a column."""

    start: float
    """Value of the first column."""
    per_column: float
    """How much one column is."""
    columns: int
    """How many there are."""

    def column(self, value: float) -> int:
        """Return the column of a value, the nearest end for one beyond it."""
        return min(max(round((value - self.start) / self.per_column), 0), self.columns - 1)


def ruler(figure: Figure, columns: int) -> Ruler:
    """Return a ruler that the band and the limits of a figure fit on."""
    ends = (figure.value, figure.low, figure.high, figure.limit_low, figure.limit_high)
    known = [value for value in ends if value is not None]
    low, high = min(known), max(known)
    room = (high - low) * MARGIN or abs(high) * MARGIN or 1.0
    reach = high - low + 2.0 * room
    return Ruler(start=low - room, per_column=reach / (columns - 1), columns=columns)


def band(figure: Figure, columns: int, pen: Pen = INK) -> str:
    """Return the figure drawn on a line of some columns; nothing where it has no value."""
    if figure.value is None or figure.low is None or figure.high is None:
        return ""
    scale = ruler(figure, columns)
    line = [pen.wanted] * columns
    if figure.limit_low is not None:
        start = scale.column(figure.limit_low)
        line[: start + 1] = [pen.elsewhere] * start + [pen.ends[0]]
    if figure.limit_high is not None:
        stop = scale.column(figure.limit_high)
        line[stop:] = [pen.ends[1]] + [pen.elsewhere] * (columns - stop - 1)
    low, high = scale.column(figure.low), scale.column(figure.high)
    for column in range(low, high + 1):
        if line[column] not in pen.ends:
            line[column] = pen.band
    line[scale.column(figure.value)] = pen.middle
    return "".join(line)
