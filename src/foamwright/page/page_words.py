"""What the answers say of commands, in the words of the page: what one does here instead."""

import re
from typing import NamedTuple

QUOTED = r'"(?:[^"\\]|\\.)*"'

INSTEAD: tuple[tuple[str, str], ...] = (
    (r"foamwright bench PLANE \w+(?: --[\w-]+ " + QUOTED + r")*", "enter it under Next steps"),
    (r'foamwright weigh PLANE \S+ (?:"[^"]*"|MASS)', "enter it under Next steps"),
    (
        r"foamwright debrief PLANE LOG --accept, or --card with a few numbers",
        "bring its log, or a few numbers of it, to Flights",
    ),
    (r"foamwright debrief PLANE LOG", "bring its log to Flights"),
    (r"`foamwright ask` ([\w ]+)", r"the questions \1 on the leaf of the plane"),
    (r'\(--take "([^"]*)=([^"=]*)" takes it\)', r"(take it as \2 in the table of columns)"),
    (
        r"say which(?: columns)?(?: they are)? with --take",
        "say which columns they are in the table below",
    ),
    (r'say (which|what it counts|what they are): --take "[^"]*"', r"say \1 in the table below"),
    (r'tell it like --take "[^"]*"', "tell it in the table of columns"),
    (r"--take '(.*?)': ", r"‘\1’: "),
    (r"leave --take out", "say nothing of its columns"),
    (r'write for instance --wind "', 'write for instance "'),
    (r"--wind '(.*?)' is no wind", r"the wind: '\1' is none"),
    (r"--wind: ", "the wind: "),
    (r"say it with --wind", "say it beside the log"),
    (r"--card '.*?': ", ""),
    (r"--card: ", "the numbers read off: "),
    (r"--card belongs", "the card belongs"),
    (r"give --card", "fill in the card"),
    (r"--card says nothing", "the card says nothing"),
    (r"note it with --pieces (\d+)", r"take it back and note it as \1 pieces"),
    (
        r"or do it --anyway, which is recorded",
        "or tick it as done anyway, which is kept",
    ),
    (r"name another, or say --force", "name another"),
)
"""What stands in an answer or a refusal, and what one does on the page."""

PATTERNS = tuple((re.compile(pattern), words) for pattern, words in INSTEAD)


class Way(NamedTuple):
    """Something that is missing, and where on the page it is told."""

    words: str
    place: str
    """Address; empty where it is only words."""
    doing: str
    """What the link says."""


WAYS: tuple[tuple[re.Pattern[str], str, str], ...] = (
    (
        re.compile(r": foamwright bench PLANE (\w+).*$"),
        r"/next#test-\1",
        "enter it",
    ),
    (re.compile(r": foamwright weigh PLANE .*$"), "/next#test-weigh", "weigh it"),
    (
        re.compile(r": foamwright debrief PLANE .*$"),
        "/flights",
        "bring its log or a few numbers",
    ),
)
"""What ends with a command, and which leaf does the same."""


def on_page(text: str) -> str:
    """Return a sentence with the page's own doings in place of commands and their options."""
    for pattern, words in PATTERNS:
        text = pattern.sub(words, text)
    return text


def way_to(text: str) -> Way:
    """Return what is missing, with the leaf on which it is told."""
    for pattern, place, doing in WAYS:
        match = pattern.search(text)
        if match:
            return Way(text[: match.start()], match.expand(place), doing)
    return Way(on_page(text), "", "")
