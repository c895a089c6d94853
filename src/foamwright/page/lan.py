"""A phone in the same house: the machine's own addresses, a link with a token, its code."""

import contextlib
import secrets
import socket
from dataclasses import dataclass

import segno


@dataclass(frozen=True, kw_only=True, slots=True)
class Invitation:
    """What another device needs to come in."""

    links: tuple[str, ...]
    """One for each address of this machine."""
    token: str
    """What they all carry."""

    @property
    def code(self) -> str:
        """The first link as a code to photograph, as SVG."""
        made = segno.make(self.links[0], error="m")
        drawn: str = made.svg_inline(scale=4, border=3, light="white", dark="black", omitsize=True)
        return drawn

    def lines(self) -> list[str]:
        """Return the first link as a code for a terminal."""
        rows = [list(row) for row in segno.make(self.links[0], error="l").matrix_iter(border=2)]
        if len(rows) % 2:
            rows.append([0] * len(rows[0]))
        signs = {(0, 0): "█", (0, 1): "▀", (1, 0): "▄", (1, 1): " "}
        return [
            "".join(signs[bool(up), bool(down)] for up, down in zip(upper, lower, strict=True))
            for upper, lower in zip(rows[::2], rows[1::2], strict=True)
        ]


def own_addresses() -> tuple[str, ...]:
    """Return the addresses this machine has in its house; asks nobody, sends nothing."""
    found: list[str] = []
    probe = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
    with probe, contextlib.suppress(OSError):
        # Choosing a way sends no packet; the address is one kept for examples.
        probe.connect(("192.0.2.1", 9))
        found.append(probe.getsockname()[0])
    with contextlib.suppress(OSError):
        found += [str(entry[4][0]) for entry in socket.getaddrinfo(socket.gethostname(), None)]
    return tuple(
        a for a in dict.fromkeys(found) if ":" not in a and not a.startswith(("127.", "0."))
    )


def invited(addresses: tuple[str, ...], port: int) -> Invitation:
    """Return a fresh invitation."""
    token = secrets.token_urlsafe(18)
    return Invitation(
        links=tuple(f"http://{address}:{port}/?token={token}" for address in addresses),
        token=token,
    )
