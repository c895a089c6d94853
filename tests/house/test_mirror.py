"""Each module of the domain has its own test file, and no test is orphaned."""

from pathlib import Path

import foamwright

SOURCE = Path(foamwright.__file__).parent
TESTS = Path(__file__).parent.parent
MIRRORED = tuple(
    top
    for top in ("physics", "plane", "model", "questions", "search", "debrief", "jobs")
    if (SOURCE / top).is_dir()
)


def test_every_domain_module_has_a_test_file() -> None:
    """`src/foamwright/a/b.py` is tested by `tests/a/test_b.py`."""
    missing = [
        str(path.relative_to(SOURCE))
        for top in MIRRORED
        for path in sorted((SOURCE / top).rglob("*.py"))
        if path.name != "__init__.py"
        and not (TESTS / path.relative_to(SOURCE)).with_name(f"test_{path.name}").exists()
    ]
    assert missing == []


def test_every_test_file_has_its_module() -> None:
    """A test that moved away from its module is found here."""
    orphans = [
        str(path.relative_to(TESTS))
        for top in MIRRORED
        for path in sorted((TESTS / top).rglob("test_*.py"))
        if not (SOURCE / path.relative_to(TESTS))
        .with_name(path.name.removeprefix("test_"))
        .exists()
    ]
    assert orphans == []


def test_every_physics_module_is_checked_from_outside() -> None:
    """Each public physics module is named by a table or a test in tests/published."""
    published = "\n".join(
        path.read_text(encoding="utf-8")
        for pattern in ("*.toml", "*.py")
        for path in sorted((TESTS / "published").glob(pattern))
    )
    unchecked = [
        name
        for path in sorted((SOURCE / "physics").rglob("*.py"))
        if path.parent != SOURCE / "physics"
        and path.name != "__init__.py"
        and (name := ".".join(path.relative_to(SOURCE / "physics").with_suffix("").parts))
        and not is_named(name, published)
    ]
    assert unchecked == []


def is_named(module: str, text: str) -> bool:
    """Return whether a text imports or calls a module of physics."""
    package, _, name = module.rpartition(".")
    whole = f"foamwright.physics.{module}"
    if whole in text:
        return True
    start = f"from foamwright.physics.{package} import "
    lines = text.replace("(\n", "(").split("\n")
    return any(
        line.startswith(start) and name in line.removeprefix(start).replace(",", " ").split()
        for line in lines
    )
