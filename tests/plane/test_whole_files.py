"""A file is written whole or stays as it was."""

from pathlib import Path

import pytest

from foamwright.plane.whole_files import digest_of, replace


def test_a_file_is_replaced_and_keeps_its_permissions(tmp_path: Path) -> None:
    """Same permissions, new text, nothing left over."""
    file = tmp_path / "a.toml"
    file.write_text("old", encoding="utf-8")
    file.chmod(0o640)
    replace(file, "new ü\n")
    assert file.read_text(encoding="utf-8") == "new ü\n"
    assert file.stat().st_mode & 0o777 == 0o640
    assert [path.name for path in tmp_path.iterdir()] == ["a.toml"]


def test_a_new_file_can_be_read_by_the_others_of_the_house(tmp_path: Path) -> None:
    """Not the private permissions of a temporary file."""
    replace(tmp_path / "new.toml", "x = 1\n")
    assert (tmp_path / "new.toml").stat().st_mode & 0o600 == 0o600
    made = tmp_path / "made.toml"
    made.touch()
    assert (tmp_path / "new.toml").stat().st_mode == made.stat().st_mode


def test_what_fails_leaves_the_old_file_and_no_litter(tmp_path: Path) -> None:
    """Half a surrogate cannot be written as UTF-8."""
    file = tmp_path / "a.toml"
    file.write_text("old", encoding="utf-8")
    with pytest.raises(UnicodeEncodeError):
        replace(file, "\ud800")
    assert file.read_text(encoding="utf-8") == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["a.toml"]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    """The file it leads to is replaced."""
    (tmp_path / "real.toml").write_text("old", encoding="utf-8")
    (tmp_path / "link.toml").symlink_to(tmp_path / "real.toml")
    replace(tmp_path / "link.toml", "new")
    assert (tmp_path / "link.toml").is_symlink()
    assert (tmp_path / "real.toml").read_text(encoding="utf-8") == "new"


def test_texts_are_told_apart() -> None:
    """The digest of SHA-256 of an empty text, FIPS 180-4 example value."""
    assert digest_of("").startswith("e3b0c44298fc1c149afbf4c8996fb924")
    assert digest_of("a") != digest_of("b")
