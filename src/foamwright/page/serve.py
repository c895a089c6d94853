"""Serving the page: on this machine alone, unless the house is invited."""

import contextlib
import socket
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from foamwright.jobs.ask import Settings
from foamwright.page.app import app_of
from foamwright.page.desk import Desk
from foamwright.page.flights import LIMITS
from foamwright.page.guard import Door
from foamwright.page.lan import Invitation, invited, own_addresses
from foamwright.page.sketch import sketch
from foamwright.problems import CallProblem, Problem

NAMES = ("127.0.0.1", "localhost")
"""What this machine calls itself."""

FIRST_PORT = 8765
"""Tried first; the next free one is taken where nobody named one."""

PORTS_TRIED = 40


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Where the page is served."""

    address: str
    port: int | None = None
    """None takes the first free one."""
    lan: bool = False
    """Whether other devices in the house may come in."""


def bound(place: Place) -> socket.socket:
    """Return a socket at the place; raises CallProblem where its port is taken."""
    ports = range(FIRST_PORT, FIRST_PORT + PORTS_TRIED) if place.port is None else (place.port,)
    for port in ports:
        # Named by its protocol, small answers are sent at once instead of 40 ms later.
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((place.address, port))
            found.listen(128)  # two of us may bind one port, but only one may listen
        except OSError:
            found.close()
        else:
            return found
    told = f"port {place.port} is taken" if place.port is not None else "no port is free"
    raise CallProblem(told, expected="name another with --port")


def door_for(port: int, invitation: Invitation | None) -> Door:
    """Return who may come in: this machine's names, and with an invitation its addresses."""
    names = [*NAMES, *(own_addresses() if invitation else ())]
    return Door(
        hosts=frozenset(f"{name}:{port}" for name in names),
        token=invitation.token if invitation else "",
        limits=LIMITS,
    )


def warmed(desk: Desk) -> None:
    """Read the plane and place its names; what is wrong with it is told when it is asked for."""
    with contextlib.suppress(Problem):
        sight = desk.sight()
        sketch(sight.case, sight.variant)


def serve(
    path: Path,
    settings: Settings,
    place: Place,
    *,
    tell: Callable[[str, Invitation | None], None],
    browser: bool,
) -> None:
    """Serve the page of a plane until Ctrl-C."""
    with bound(place) as listening:
        port = int(listening.getsockname()[1])
        invitation = invited(own_addresses(), port) if place.lan else None
        if invitation is not None and not invitation.links:
            raise CallProblem(
                "this machine has no address in a house network", expected="open without --lan"
            )
        app = app_of(path, settings, door_for(port, invitation), invitation)
        link = f"http://127.0.0.1:{port}/"
        server = uvicorn.Server(
            uvicorn.Config(
                app,
                log_level="warning",
                access_log=False,
                server_header=False,
                lifespan="off",
                proxy_headers=False,  # who asks is who the socket says
            )
        )
        # Read while the browser starts, so that the first page is there when it asks.
        threading.Thread(target=warmed, args=(app.state.desk,), daemon=True).start()
        tell(link, invitation)
        if browser:
            webbrowser.open(link)
        server.run(sockets=[listening])
