"""Slow work: done in a thread of its own, looked after by polling, kept for whoever asks again.

A phone sleeps through a stream, so a page asks now and then how far the work is. Work of one kind
is done one after the other; no lock of the page is held meanwhile.
"""

import secrets
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable

from foamwright.problems import Problem

Told = dict[str, object]
Step = Callable[[str], None]
Work = Callable[[Step], Told]

KEPT = 12
"""Errands remembered; the oldest done are forgotten first."""

LONGEST = 120
"""Most letters of a step that are shown."""


class Errand:
    """One piece of slow work."""

    def __init__(self, key: Hashable) -> None:
        """Nothing is done yet."""
        self.name = secrets.token_urlsafe(9)
        self.key = key
        self.doing = "waiting for other work"
        self.told: Told | None = None
        self.problem: Problem | None = None
        self.fault: Exception | None = None
        self.done = threading.Event()

    def step(self, words: str) -> None:
        """Say what is being done."""
        self.doing = words[:LONGEST]

    def failed(self) -> bool:
        """Return whether it was done in vain."""
        return self.problem is not None or self.fault is not None


class Errands:
    """All slow work of one page."""

    def __init__(self) -> None:
        """Nothing is under way."""
        self._lock = threading.Lock()
        self._errands: OrderedDict[str, Errand] = OrderedDict()
        self._lanes: dict[str, threading.Lock] = {}

    def start(self, lane: str, key: Hashable, work: Work) -> Errand:
        """Return the errand of a key: one under way or well done already, else a new one."""
        with self._lock:
            for known in self._errands.values():
                if known.key == (lane, key) and not known.failed():
                    return known
            errand = Errand((lane, key))
            self._errands[errand.name] = errand
            self.forget()
            turn = self._lanes.setdefault(lane, threading.Lock())
        threading.Thread(target=run, args=(errand, work, turn), daemon=True).start()
        return errand

    def known(self, lane: str, key: Hashable) -> Told | None:
        """Return what was found for a key already; none where nobody asked, or not to an end."""
        with self._lock:
            for errand in self._errands.values():
                if errand.key == (lane, key) and errand.done.is_set():
                    return errand.told
        return None

    def forget(self) -> None:
        """Forget the oldest that are done."""
        done = [name for name, errand in self._errands.items() if errand.done.is_set()]
        for name in done[: max(len(self._errands) - KEPT, 0)]:
            del self._errands[name]

    def named(self, name: str) -> Errand | None:
        """Return an errand by its name; none for one long forgotten."""
        with self._lock:
            return self._errands.get(name)


def run(errand: Errand, work: Work, turn: threading.Lock) -> None:
    """Do some work when it is its turn; what goes wrong is kept for who asks."""
    with turn:
        try:
            errand.told = work(errand.step)
        except Problem as problem:
            errand.problem = problem
        except Exception as fault:  # noqa: BLE001 - raised again where it is asked for
            errand.fault = fault
        finally:
            errand.done.set()
