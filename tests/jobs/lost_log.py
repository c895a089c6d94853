"""A log that ends in the air: the invented example flight, cut short."""

from pathlib import Path

EXAMPLES = Path(__file__).parents[2] / "examples"
LOG = EXAMPLES / "reedling" / "logs" / "example-log.csv"


def cut_log(folder: Path, seconds: float = 150.0) -> Path:
    """Write the first seconds of the example log into a folder, and return the file."""
    lines = LOG.read_text(encoding="utf-8").splitlines()
    head, rows = lines[:2], lines[2:]
    first = float(rows[0].split(",")[0])
    kept = [row for row in rows if float(row.split(",")[0]) - first <= 1e3 * seconds]
    file = folder / "lost.csv"
    file.write_text("\n".join([*head, *kept]) + "\n", encoding="utf-8")
    return file
