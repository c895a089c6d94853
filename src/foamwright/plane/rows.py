"""Lists of small tables, as stations are, written one to a line; remarks between them stay."""

from collections.abc import Mapping, MutableMapping, MutableSequence, Sequence

Row = Mapping[str, object]


def are_rows(value: object) -> bool:
    """Return whether a value is a list of tables, and not an empty one."""
    return isinstance(value, list) and bool(value) and all(isinstance(v, Mapping) for v in value)


def inline(row: Row) -> object:
    """Return one table within a line, spaced as people write it."""
    import tomlkit  # noqa: PLC0415 - only for writing

    words = (f"{key} = {tomlkit.item(value).as_string()}" for key, value in row.items())
    return tomlkit.value("{ " + ", ".join(words) + " }")


def laid_out(value: object) -> object:
    """Return a value as it is written: a list of tables gets a line for each of them."""
    import tomlkit  # noqa: PLC0415 - only for writing

    if isinstance(value, Mapping):
        return {key: laid_out(inner) for key, inner in value.items()}
    if not are_rows(value):
        return value
    array = tomlkit.array()
    for row in value if isinstance(value, list) else []:
        array.add_line(inline(row), indent="  ")
    array.add_line(indent="")
    return array


def relisted(written: MutableSequence[object], rows: Sequence[Row]) -> None:
    """Change a written list of tables in place, so that its remarks stay where they are."""
    for entry, row in zip(written, rows, strict=False):
        if isinstance(entry, MutableMapping):
            changed(entry, row)
    for row in rows[len(written) :]:
        added(written, row)
    while len(written) > len(rows):
        del written[len(written) - 1]


def changed(entry: MutableMapping[str, object], row: Row) -> None:
    """Give a written table the keys of a row, and no others."""
    for key in [key for key in entry if key not in row]:
        del entry[key]
    for key, value in row.items():
        if key not in entry or entry[key] != value:
            entry[key] = value


def added(written: MutableSequence[object], row: Row) -> None:
    """Add a row at the end of a written list, in the way the list is written."""
    import tomlkit  # noqa: PLC0415 - only for writing
    from tomlkit.items import AoT  # noqa: PLC0415

    if isinstance(written, AoT):
        table = tomlkit.table()
        table.update(row)
        written.append(table)
    else:
        written.append(inline(row))
