"""The door: own names only, own pages only, nothing endless, nothing from elsewhere."""

from collections.abc import AsyncIterator

import pytest
from tests.page.stage import Visit

from foamwright.page.guard import COOKIE, Door, same, token_of

HOST = "127.0.0.1:8000"


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1", "127.0.0.1:8001", "127.0.0.1:8000.evil.example", ""]
)
def test_a_foreign_name_is_turned_away(visit: Visit, host: str) -> None:
    """A name bent to this machine (DNS rebinding) reads nothing; RFC 9110 calls it misdirected."""
    answer = visit().ask("GET", "/", headers={"host": host})
    assert answer.status_code == 421
    assert "Reedling" not in answer.text


@pytest.mark.parametrize(
    "origin",
    ["http://evil.example", "null", "", "https://127.0.0.1:8000", "http://127.0.0.1:8001"],
)
@pytest.mark.parametrize("path", ["/ask", "/open", "/try", "/check", "/edit", "/keep", "/new"])
def test_only_the_page_itself_may_post(visit: Visit, path: str, origin: str) -> None:
    """RFC 6454: the origin is scheme, host and port, and all three have to be the page's own."""
    answer = visit().ask("POST", path, json={}, headers={"origin": origin})
    assert answer.status_code == 403


def test_another_site_changes_nothing(visit: Visit) -> None:
    """A refused edit leaves the file as it is, byte by byte."""
    visitor = visit()
    file = visitor.desk.path / "plane.toml"
    before = file.read_bytes()
    visitor.ask(
        "POST",
        "/edit",
        json={"fields": {"name": "Evil"}, "revision": visitor.desk.revision()},
        headers={"origin": "http://evil.example"},
    )
    assert file.read_bytes() == before


@pytest.mark.parametrize("path", ["/", "/static/notebook.js", "/static/none.js", "/state"])
def test_every_answer_is_sealed(visit: Visit, path: str) -> None:
    """Nothing from elsewhere, nothing guessed, no frame around it; refusals included."""
    headers = visit().ask("GET", path).headers
    assert "default-src 'self'" in headers["content-security-policy"]
    assert "unsafe" not in headers["content-security-policy"]
    assert "frame-ancestors 'none'" in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["x-frame-options"] == "DENY"


def test_a_refusal_is_sealed_too(visit: Visit) -> None:
    """A refusal goes out with the same headers."""
    headers = visit().ask("GET", "/", headers={"host": "evil.example"}).headers
    assert headers["x-content-type-options"] == "nosniff"


def test_a_flood_that_is_told_is_refused_before_it_comes(visit: Visit) -> None:
    """The length in the header is enough: not a byte of the body is taken."""
    taken = 0

    async def body() -> AsyncIterator[bytes]:
        nonlocal taken
        for _ in range(3000):
            taken += 1000
            yield b" " * 1000

    answer = visit().ask("POST", "/edit", content=body(), headers={"content-length": "3000000"})
    assert answer.status_code == 413
    assert "1 MB" in answer.text
    assert taken <= 1000


def test_a_flood_that_is_not_told_is_cut_off_while_it_comes(visit: Visit) -> None:
    """Without a length the bytes are counted, and the rest is not waited for."""
    taken = 0

    async def body() -> AsyncIterator[bytes]:
        nonlocal taken
        for _ in range(100):
            taken += 1 << 16
            yield b" " * (1 << 16)

    answer = visit().ask("POST", "/edit", content=body())
    assert answer.status_code == 413
    assert taken < 2 << 20


@pytest.mark.parametrize("length", ["-1", "many", "1e9", "0x10", "1_000"])
def test_a_length_that_is_none_is_refused(visit: Visit, length: str) -> None:
    """A length has to be a plain number."""
    headers = {"content-length": length}
    assert visit().ask("POST", "/edit", content=b"{}", headers=headers).status_code == 400


def test_a_path_may_take_more(visit: Visit) -> None:
    """A leaf that takes files says so in the door, for its own path only."""
    door = Door(hosts=frozenset({HOST}), limits={"/ask": 4 << 20})
    visitor = visit(door=door)
    large = b"[" + b" " * (2 << 20) + b"]"
    assert visitor.ask("POST", "/ask", content=large).status_code == 400
    assert visitor.ask("POST", "/edit", content=large).status_code == 413


LAN_DOOR = Door(hosts=frozenset({HOST, "192.0.2.7:8000"}), token="a-long-token")  # noqa: S106 - of a test


def test_another_device_needs_the_token(visit: Visit) -> None:
    """Who comes from elsewhere without it sees nothing, whatever name it calls."""
    visitor = visit(door=LAN_DOOR)
    stranger = type(visitor)(app=visitor.app, address="192.0.2.9")
    for host in (HOST, "192.0.2.7:8000"):
        answer = stranger.ask("GET", "/", headers={"host": host})
        assert answer.status_code == 403
        assert "Reedling" not in answer.text
    wrong = stranger.ask("GET", "/?token=a-long-tokem")
    assert wrong.status_code == 403
    forged = stranger.ask("GET", "/revision", headers={"cookie": f"{COOKIE}=guess"})
    assert forged.status_code == 403


def test_the_token_lets_a_device_in_and_leaves_the_address_bar(visit: Visit) -> None:
    """The link sets a cookie scripts cannot read, and leads on without the token."""
    visitor = visit(door=LAN_DOOR)
    guest = type(visitor)(app=visitor.app, address="192.0.2.9")
    answer = guest.ask("GET", "/?token=a-long-token")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/"
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie
    inside = guest.ask("GET", "/revision", headers={"cookie": f"{COOKIE}=a-long-token"})
    assert inside.status_code == 200


def test_this_machine_needs_no_token(visit: Visit) -> None:
    """The builder's own browser comes in as ever."""
    assert visit(door=LAN_DOOR).ask("GET", "/revision").status_code == 200


def test_tokens_are_compared_whole() -> None:
    """A part of a token is none, and neither is nothing."""
    assert same("abc", "abc")
    assert not same("ab", "abc")
    assert not same("", "abc")
    assert token_of("other=1; foamwright=abc") == "abc"
    assert token_of("") == ""
    assert token_of("\x00;=;=") == ""
