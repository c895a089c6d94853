"""The door of the page: who may ask, how much may be sent, what a browser may do with an answer."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

READING = ("GET", "HEAD", "OPTIONS")
"""Methods that change nothing."""

SMALL = 1 << 20
"""Most bytes of a request where its place says nothing else."""

COOKIE = "foamwright"
"""Name of the cookie that carries the token of a phone."""

HEADERS = {
    "content-security-policy": (
        "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; "
        "frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}
"""What goes with every answer: nothing from elsewhere, nothing guessed, no frame around it."""

HERE = ("127.0.0.1", "::1")
"""Addresses of this machine's own browser."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Door:
    """What the guard lets in."""

    hosts: frozenset[str]
    """Names and ports the page answers to, so that no foreign name can be bent to this machine."""
    token: str = ""
    """What another device in the house has to know; empty where only this machine is served."""
    limits: Mapping[str, int] = field(default_factory=dict)
    """Most bytes by path."""

    def limit(self, path: str) -> int:
        """Return how many bytes may be sent to a path."""
        return self.limits.get(path, SMALL)


class TooMuch(Exception):
    """More bytes came than were allowed or told."""


class Guard:
    """Refuses before anything is read."""

    def __init__(self, app: ASGIApp, door: Door) -> None:
        """Stand before an app."""
        self.app = app
        self.door = door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through or answer it."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":  # the page has no sockets
            return
        started = False

        async def sealed(message: Message) -> None:
            nonlocal started
            if message["type"] == "http.response.start":
                started = True
                told = {name for name, _ in message["headers"]}
                message["headers"] += [
                    (name.encode(), value.encode())
                    for name, value in HEADERS.items()
                    if name.encode() not in told
                ]
            await send(message)

        answer = self.refused(scope) or self.welcomed(scope)
        if answer is not None:
            await answer(scope, receive, sealed)
            return
        try:
            await self.app(scope, self.counted(scope, receive), sealed)
        except TooMuch:
            if not started:
                await too_much(self.door.limit(scope["path"]))(scope, receive, sealed)

    def refused(self, scope: Scope) -> Response | None:
        """Return the refusal of a foreign name, a foreign page or a flood; none if it may pass."""
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if host.lower() not in self.door.hosts:
            return refusal(421, "This page answers only to its own address.")
        if scope["method"] not in READING and headers.get("origin", "") != f"http://{host}":
            return refusal(403, "Only the page itself may change anything.")
        length = headers.get("content-length", "0")
        limit = self.door.limit(scope["path"])
        if not length.isascii() or not length.isdigit():
            return refusal(400, "The length of what is sent has to be a number.")
        if int(length) > limit:
            return too_much(limit)
        return None

    def welcomed(self, scope: Scope) -> Response | None:
        """Return what a device without the token gets; none for one that knows it."""
        if not self.door.token or (scope["client"] and scope["client"][0] in HERE):
            return None
        given = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[0]
        if same(given, self.door.token):
            answer = RedirectResponse(scope["path"], status_code=303)
            answer.set_cookie(COOKIE, given, httponly=True, samesite="strict")
            return answer
        if same(token_of(Headers(scope=scope).get("cookie", "")), self.door.token):
            return None
        return refusal(403, "Open the link, or the code, that `foamwright open --lan` shows.")

    def counted(self, scope: Scope, receive: Receive) -> Receive:
        """Return a receive that counts what really comes."""
        left = self.door.limit(scope["path"])

        async def counting() -> Message:
            nonlocal left
            message = await receive()
            left -= len(message.get("body", b""))
            if left < 0:
                raise TooMuch
            return message

        return counting


def same(given: str, wanted: str) -> bool:
    """Return whether two tokens are the same, in a time that tells nothing."""
    return secrets.compare_digest(given.encode(), wanted.encode())


def token_of(cookies: str) -> str:
    """Return the token a browser sends along; empty if there is none."""
    try:
        found = SimpleCookie(cookies).get(COOKIE)
    except CookieError:
        return ""
    return found.value if found else ""


def refusal(status: int, words: str) -> Response:
    """Return a refusal in one sentence."""
    return PlainTextResponse(words + "\n", status_code=status, headers={"connection": "close"})


def too_much(limit: int) -> Response:
    """Return the refusal of a flood."""
    size = f"{limit / 2**20:.0f} MB" if limit >= 1 << 20 else f"{limit / 2**10:.0f} kB"
    return refusal(413, f"That is too much at once: {size} at most here.")
