"""The next cheap step: changes and tests, ranked by what they do for the questions."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from foamwright.model.launched_together import can_be_thrown, launched_together
from foamwright.physics.arrays import Samples
from foamwright.problems import InputProblem
from foamwright.questions.case import Case, Measured
from foamwright.questions.register import QUESTIONS
from foamwright.search.candidates import Candidate, candidates
from foamwright.search.cheap_tests import CheapTest, cheap_tests, settled
from foamwright.search.worth import chances_after, decided, read_of, value_of_test

LEFT_OUT = ("rules", "bench", "debrief")
"""Questions that are no wish of the builder's."""

MINUTES_PER_MONEY, MINUTES_PER_GRAM = 2.0, 1.0
"""What a unit of money and a gram weigh against a minute of work: our own weights."""

LEAST_EFFORT = 1.0
"""Minutes that anything takes."""

LEAST_GAIN = 0.01
"""Gain in questions that stand, all together, worth telling."""

LEAST_MOVE = 0.005
"""Change of a chance worth telling."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StepEffect:
    """What a step does to one question."""

    question: str
    before: float
    after: float


@dataclass(frozen=True, kw_only=True, slots=True)
class NextStep:
    """One step."""

    do: str
    """What to do, in the imperative."""
    kind: Literal["test", "change"]
    minutes: float
    mass: float
    """What the plane gains in mass [kg]."""
    price: float
    """What it costs to buy, in the plane's currency."""
    effect: tuple[StepEffect, ...]
    """Questions whose chance it changes; for a test, the chance of deciding it rightly."""
    gain: float
    """Questions that stand, all together, more than before."""
    worth: float
    """Percentage points, all questions together, for a minute of effort."""
    because: str
    """Why."""
    keys: Mapping[str, object] = field(default_factory=dict)
    """Dotted keys of the plane file and their new values; none for a test."""
    call: str = ""
    """The command that notes the result of a test; empty where it goes into the plane file."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Outcome:
    """What all questions say of one choice."""

    do: str
    """The choice; empty for the plane as it is."""
    case: Case
    """The plane with it."""
    measured: dict[str, Measured]
    """By question, those with a chance."""

    def chance(self, question: str) -> float:
        """Return the chance of a question."""
        return self.measured[question].probability or 0.0


def outcome(case: Case, do: str = "") -> Outcome:
    """Return what all questions say of a plane."""
    found = {}
    for question in QUESTIONS:
        if question.id not in LEFT_OUT:
            measured = question.stands(case)
            if measured.probability is not None:
                found[question.id] = measured
    return Outcome(do=do, case=case, measured=found)


def standing(found: Outcome, questions: tuple[str, ...]) -> Samples:
    """Return how many questions stand in each sample (n,)."""
    samples = found.case.computed.samples
    total = np.zeros(samples)
    for name in questions:
        measured = found.measured[name]
        if measured.holds is None:
            total += measured.probability or 0.0
        else:
            total += np.broadcast_to(measured.holds, samples)
    return total


def money(found: Outcome) -> float:
    """Return what a plane still costs to buy."""
    cost = next(question for question in QUESTIONS if question.id == "cost")
    measured = found.measured.get("cost") or cost.measure(found.case)
    return measured.named("cost_to_buy").value or 0.0


def effort(minutes: float, mass: float, price: float) -> float:
    """Return all that a step asks for, as minutes."""
    asked = minutes + MINUTES_PER_GRAM * max(mass, 0.0) * 1e3
    return max(asked + MINUTES_PER_MONEY * max(price, 0.0), LEAST_EFFORT)


def shared(outcomes: list[Outcome]) -> tuple[str, ...]:
    """Return the questions that every choice answers with a chance."""
    names = [set(found.measured) for found in outcomes]
    return tuple(q.id for q in QUESTIONS if all(q.id in name for name in names))


def effects(
    before: Outcome, after: Callable[[str], float], questions: tuple[str, ...]
) -> tuple[StepEffect, ...]:
    """Return the questions whose chance moves, most moved first."""
    found = [
        StepEffect(question=name, before=before.chance(name), after=after(name))
        for name in questions
    ]
    moved = [e for e in found if abs(e.after - e.before) >= LEAST_MOVE]
    return tuple(sorted(moved, key=lambda e: -abs(e.after - e.before)))


def change_step(
    before: Outcome, after: Outcome, candidate: Candidate, questions: tuple[str, ...]
) -> NextStep:
    """Return a change as a step."""
    mass = float(np.median(after.case.computed.masses.all_up - before.case.computed.masses.all_up))
    price = money(after) - money(before)
    gain = float(np.mean(standing(after, questions) - standing(before, questions)))
    told = effects(before, after.chance, questions)
    asked = effort(candidate.minutes, mass, price)
    most = ", ".join(f"{e.question} {e.before:.0%} to {e.after:.0%}" for e in told[:2])
    return NextStep(
        do=candidate.do,
        kind="change",
        minutes=candidate.minutes,
        mass=mass,
        price=max(price, 0.0),
        effect=told,
        gain=gain,
        worth=100.0 * gain / asked,
        because=f"recomputed through all questions: {most or 'nothing moves'}",
        keys=candidate.keys,
    )


def tried(case: Case, step: Callable[[str], None]) -> list[tuple[Candidate, Outcome]]:
    """Return every change that the plane file accepts, with what all questions say of it."""
    changed = []
    for candidate in candidates(case):
        step(candidate.do)
        try:
            other = case.changed(candidate.keys)
            if can_be_thrown(other.computed):
                other.computed.launch_setup  # noqa: B018 - a part nobody knows is told here
            changed.append((candidate, other))
        except InputProblem:
            continue  # no such part, or no room for it
    step("all of them, through every question")
    launched_together([other.computed for _, other in changed])
    return [(candidate, outcome(other, candidate.do)) for candidate, other in changed]


def normals_of(case: Case, keys: tuple[str, ...]) -> Samples:
    """Return the draws of some inputs (n, k)."""
    known = {entry.key: entry.normals for entry in case.computed.draws.inputs()}
    if not keys:
        return np.zeros((case.computed.samples, 0))
    return np.stack([known[key] for key in keys], axis=1)


def labels_of(case: Case, keys: tuple[str, ...]) -> str:
    """Return the words for some inputs, a few of them."""
    known = {entry.key: entry.label for entry in case.computed.draws.inputs()}
    words = list(dict.fromkeys(known[key] for key in keys))
    return ", ".join(words[:3]) + (f" and {len(words) - 3} more" if len(words) > 3 else "")


def test_step(
    case: Case, test: CheapTest, choices: list[Outcome], questions: tuple[str, ...]
) -> NextStep | None:
    """Return a test as a step; none where it settles nothing of this plane."""
    keys = settled(test, case)
    if not keys:
        return None
    normals = normals_of(case, keys)
    stands = np.stack(
        [np.stack([flags(choice, name) for name in questions], axis=-1) for choice in choices],
        axis=1,
    )
    gain = value_of_test(normals, test.leaves, stands)
    told, moves = decisions(read_of(normals, test.leaves, stands), stands, questions)
    because = f"settles {labels_of(case, keys)}"
    if moves >= 0.01:
        because += f"; in {moves:.0%} of the cases its result makes another choice the best one"
    return NextStep(
        do=test.do,
        kind="test",
        minutes=test.minutes,
        mass=0.0,
        price=0.0,
        effect=told,
        gain=gain,
        worth=100.0 * gain / effort(test.minutes, 0.0, 0.0),
        because=because,
        call=test.call,
    )


def decisions(
    read: Samples, stands: Samples, questions: tuple[str, ...]
) -> tuple[tuple[StepEffect, ...], float]:
    """Return the chance to decide each question rightly, now and after a result.

    The second number is how often the result makes another choice the best one.
    """
    after = chances_after(read, stands)
    best = decided(after).argmax(axis=1)
    now = int(decided(stands.mean(axis=0)).argmax())
    found = []
    for place, name in enumerate(questions):
        chance = float(stands[:, 0, place].mean())
        known = after[:, 0, place]
        right = float(np.maximum(known, 1.0 - known).mean())
        found.append(StepEffect(question=name, before=max(chance, 1.0 - chance), after=right))
    moved = [effect for effect in found if effect.after - effect.before >= LEAST_MOVE]
    told = tuple(sorted(moved, key=lambda effect: effect.before - effect.after))
    return told, float(np.mean(best != now))


def flags(choice: Outcome, question: str) -> Samples:
    """Return for which samples a question stands (n,), or its chance where it is one number."""
    measured = choice.measured[question]
    samples = choice.case.computed.samples
    told = measured.probability if measured.holds is None else measured.holds
    return np.broadcast_to(np.asarray(told, dtype=float), (samples,))


def next_steps(case: Case, step: Callable[[str], None] = lambda _: None) -> tuple[NextStep, ...]:
    """Return the steps worth taking, best first; `step` is told what is being tried."""
    now = outcome(case)
    changes = tried(case, step)
    choices = [now, *(found for _, found in changes)]
    questions = shared(choices)
    found = [change_step(now, after, candidate, questions) for candidate, after in changes]
    for test in cheap_tests():
        told = test_step(case, test, choices, questions)
        if told is not None:
            found.append(told)
    worthwhile = [one for one in found if one.gain >= LEAST_GAIN]
    return tuple(sorted(worthwhile, key=lambda one: -one.worth))
