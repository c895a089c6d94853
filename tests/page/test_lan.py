"""A phone in the house: an invitation nobody guesses, and no way in without it."""

import re
import socket

import pytest

from foamwright.page.lan import invited, own_addresses
from foamwright.page.serve import Place, bound, door_for
from foamwright.problems import CallProblem


def test_two_invitations_are_never_the_same() -> None:
    """The token is random and long: 144 bits."""
    tokens = {invited(("192.0.2.7",), 80).token for _ in range(50)}
    assert len(tokens) == 50
    assert all(len(token) >= 24 for token in tokens)


def test_the_code_holds_the_first_link() -> None:
    """On the page as a picture, in the terminal as signs of half height, square either way."""
    found = invited(("192.0.2.7", "198.51.100.7"), 8765)
    assert found.links[0] == f"http://192.0.2.7:8765/?token={found.token}"
    assert found.code.startswith("<svg")
    assert "style=" not in found.code
    lines = found.lines()
    assert len({len(line) for line in lines}) == 1
    assert abs(2 * len(lines) - len(lines[0])) <= 1
    assert set("".join(lines)) <= set("█▀▄ ")


def test_own_addresses_are_no_loopback() -> None:
    """Only what another device could reach is told."""
    assert all(re.fullmatch(r"\d+\.\d+\.\d+\.\d+", a) for a in own_addresses())
    assert not [a for a in own_addresses() if a.startswith("127.")]


def test_without_an_invitation_only_this_machine_has_a_name() -> None:
    """The allow-list is loopback, with its port."""
    door = door_for(8765, None)
    assert door.hosts == {"127.0.0.1:8765", "localhost:8765"}
    assert door.token == ""


def test_an_invitation_adds_own_addresses_only() -> None:
    """Nothing but this machine's addresses, and never without a token."""
    invitation = invited(("192.0.2.7",), 8765)
    door = door_for(8765, invitation)
    assert door.token == invitation.token
    assert door.hosts == {f"{a}:8765" for a in ("127.0.0.1", "localhost", *own_addresses())}


def test_a_taken_port_is_told() -> None:
    """A port that was named and is taken is no riddle."""
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        with pytest.raises(CallProblem, match=f"port {port} is taken"):
            bound(Place(address="127.0.0.1", port=port))


def test_two_notebooks_take_two_ports() -> None:
    """Where no port was named the next free one is taken, and none is told before it listens."""
    place = Place(address="127.0.0.1")
    with bound(place) as first, bound(place) as second:
        assert first.getsockname()[1] != second.getsockname()[1]
        assert first.getsockopt(socket.SOL_SOCKET, socket.SO_ACCEPTCONN) == 1
