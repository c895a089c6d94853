"""The errors a user can meet.

Problem                     something the user can mend; exit code 2
├─ InputProblem             one or more findings in what was read
│  ├─ QuantityProblem       a text that is not a value with a unit we can take
│  ├─ PlaneFileProblem      findings in a plane file, a stock file or an answers file
│  └─ DataFileProblem       findings in a coordinate, blade or coefficient file
├─ CallProblem              the command was called with something that does not exist
└─ WriteProblem             a file that may not be written: it exists or has changed
"""

import unicodedata
from dataclasses import dataclass
from pathlib import Path

LONGEST = 700
"""Most characters of one part of a message: what was typed may be a whole book."""

ACTING = {"Cc", "Cs", "Zl", "Zp"}
"""Unicode categories: controls, halves of pairs, line and paragraph ends."""

TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Signs that turn the direction of reading around."""


def acts(sign: str) -> bool:
    """Return whether a sign acts on a terminal instead of showing."""
    return unicodedata.category(sign) in ACTING or sign in TURNING


def shown(text: str) -> str:
    """Return a text as one line that can be shown: what acts is spelled out, what is long cut."""
    cut = text if len(text) <= LONGEST else f"{text[: LONGEST - 4]} ..."
    return "".join(
        sign.encode("unicode_escape").decode("ascii") if acts(sign) else sign for sign in cut
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """One thing that is wrong: where, what was found, what would be right."""

    what: str
    """What is wrong, one sentence without full stop."""
    expected: str = ""
    """What would be right, ready to be typed."""
    file: Path | None = None
    """The file it was found in."""
    line: int | None = None
    """The line in that file, from 1."""
    key: str = ""
    """The key in that file, dotted."""

    def sentence(self) -> str:
        """Return the finding as one line: place, what is wrong, what would be right."""
        place = shown(str(self.file)) if self.file else ""
        if place and self.line:
            place += f", line {self.line}"
        where = ": ".join(part for part in (place, shown(self.key)) if part)
        text = f"{where}: {shown(self.what)}" if where else shown(self.what)
        return f"{text}; {shown(self.expected)}" if self.expected else text


class Problem(Exception):
    """Something the user can mend."""


class InputProblem(Problem):
    """One or more findings in what was read, all of them at once."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        """Keep the findings; the message is built from them."""
        super().__init__("\n".join(finding.sentence() for finding in findings))
        self.findings = findings


class QuantityProblem(InputProblem):
    """A text that is not a value with a unit we can take."""


class PlaneFileProblem(InputProblem):
    """Findings in a plane file, a stock file or an answers file."""


class DataFileProblem(InputProblem):
    """Findings in a coordinate, blade or coefficient file."""


class CallProblem(Problem):
    """The command was called with something that does not exist."""

    def __init__(self, what: str, *, expected: str = "") -> None:
        """Keep what was asked and what would be right."""
        super().__init__(shown(f"{what}; {expected}" if expected else what))
        self.what = what
        self.expected = expected


class WriteProblem(Problem):
    """A file that may not be written: it exists, or someone changed it since it was read."""

    def __init__(self, file: Path, what: str, *, expected: str = "") -> None:
        """Keep the file and the reason."""
        super().__init__(shown(f"{file}: {what}" + (f"; {expected}" if expected else "")))
        self.file = file
        self.what = what
        self.expected = expected
