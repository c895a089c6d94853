"""Changes worth a look."""

from foamwright.questions.case import Case
from foamwright.search.candidates import candidates


def test_every_change_is_one_the_plane_file_takes_or_is_told(reedling: Case) -> None:
    """Each has words, keys and minutes, and none comes twice."""
    found = candidates(reedling)
    assert len({c.do for c in found}) == len(found)
    assert all(c.do and c.keys and c.minutes > 0 for c in found)


def test_there_is_something_of_every_kind(reedling: Case) -> None:
    """Propeller, pack, mass, balance, air, surface, throw."""
    words = " ".join(c.do for c in candidates(reedling))
    for part in ("propeller", "pack", "Leave out GPS", "Strap the pack", "Give ESC air", "Throw"):
        assert part in words


def test_what_is_done_already_is_not_offered(reedling: Case) -> None:
    """A speed controller in open air needs no more of it."""
    cool = reedling.changed({"items.ESC.cooling": "open air", "airframe.finish": "clean"})
    words = " ".join(c.do for c in candidates(cool))
    assert "Give ESC air" not in words
    assert "Fair and seal" not in words


def test_a_camera_plane_keeps_its_camera(reedling: Case) -> None:
    """It is flown by what the camera sees."""
    assert not any("camera" in c.do or "video" in c.do for c in candidates(reedling))
