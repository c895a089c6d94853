"""Where the page is served: the first free port, or the one that was named, on this machine."""

import socket

import pytest

from foamwright.page import serve
from foamwright.page.flights import UPLOAD
from foamwright.page.intake import LARGEST
from foamwright.page.lan import Invitation
from foamwright.page.serve import Place, bound, door_for
from foamwright.problems import CallProblem

HERE = "127.0.0.1"


def test_two_notebooks_lie_open_side_by_side(monkeypatch: pytest.MonkeyPatch) -> None:
    """The second takes the next free port after the first."""
    with socket.socket() as free:
        free.bind((HERE, 0))
        monkeypatch.setattr(serve, "FIRST_PORT", free.getsockname()[1])
        free.listen()
        with bound(Place(address=HERE)) as first, bound(Place(address=HERE)) as second:
            ports = [free.getsockname()[1], first.getsockname()[1], second.getsockname()[1]]
            assert ports == sorted(set(ports))
            assert ports[-1] < ports[0] + serve.PORTS_TRIED
            assert first.getsockname()[0] == HERE


def test_a_port_that_was_named_and_is_taken_is_told() -> None:
    """Another is not taken behind the user's back."""
    with bound(Place(address=HERE)) as first:
        port = first.getsockname()[1]
        with pytest.raises(CallProblem, match=f"port {port} is taken"):
            bound(Place(address=HERE, port=port))


def test_only_logs_may_be_large() -> None:
    """200 MB for them, a small request for everything else; this machine's names only."""
    door = door_for(8765, None)
    assert door.limit(UPLOAD) == LARGEST == 200 << 20
    assert door.limit("/edit") == door.limit("/flights/read") == 1 << 20
    assert door.hosts == {"127.0.0.1:8765", "localhost:8765"}
    assert door.token == ""


def test_an_invitation_opens_the_door_to_its_token_alone() -> None:
    """The limits stay as they are."""
    door = door_for(8765, Invitation(links=(), token="x" * 24))
    assert door.token == "x" * 24
    assert door.limit(UPLOAD) == LARGEST
