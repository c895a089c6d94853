"""Print docs/sources.md: every published source, what was taken from it, how it is held."""

from foamwright.sources import SOURCES

HELD = {
    "read": "read",
    "abstract": "abstract read",
    "second-hand": "quoted by others",
    "memory": "from memory, to be checked before it is printed elsewhere",
    "own": "our own",
}

HEAD = """# Sources

Every formula and figure names one of these keys in its docstring under `Source`. Written by
`make names` from `src/foamwright/sources/`; change it there. The last column says how we hold
the source: what is from memory is said to be.

| key | source | taken | held |
|---|---|---|---|
"""


def row(key: str) -> str:
    """Return one source as a table row."""
    source = SOURCES[key]
    cells = (f"`{key}`", source.citation, source.taken, HELD[source.held])
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


if __name__ == "__main__":
    print(HEAD + "\n".join(row(key) for key in sorted(SOURCES)))
