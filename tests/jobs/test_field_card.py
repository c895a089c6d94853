"""The card for the field: figures as the answers tell them, and when to turn back."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.page.stage import EXAMPLES

from foamwright.jobs.ask import Settings, ask, opened
from foamwright.jobs.field_card import (
    WANTED,
    card_of,
    chosen,
    field_card,
    fits,
    pack_figures,
    turn_back,
)
from foamwright.plane.variants import overridden
from foamwright.questions.answer import Answer, Figure
from foamwright.questions.case import Case

SETTINGS = Settings(samples=128)


@pytest.fixture(scope="module")
def case() -> Case:
    """Return the example plane under question."""
    return opened(EXAMPLES / "reedling", SETTINGS)[1]


def a_figure(name: str, value: float | None = 1.0) -> Figure:
    """Return some figure."""
    return Figure(name=name, label=name, value=value, low=value, high=value, unit="-")


def an_answer(question: str = "weight", *, names: tuple[str, ...] = (), **more: object) -> Answer:
    """Return some answer."""
    told: dict[str, object] = {
        "question": question,
        "asks": f"{question}?",
        "verdict": "likely",
        "probability": 0.8,
        "figures": tuple(a_figure(name) for name in names),
        "because": "",
    }
    return Answer(**{**told, **more})  # type: ignore[arg-type]  # a table of keys


def test_the_card_tells_what_the_answers_tell() -> None:
    """Every figure on the card has the number that `foamwright ask` prints."""
    asked = ask(EXAMPLES / "reedling", (), SETTINGS)
    answers = reversed(asked.answers)  # where two tell a figure, the first counts
    told = {one.name: one for answer in answers for one in answer.figures}
    card = field_card(opened(EXAMPLES / "reedling", SETTINGS)[1])
    shown = {one.name: one for heading in card.headings for one in heading.figures}
    own = {"turn_back_charge", "landed_charge"}
    assert own < set(shown)
    assert {name: told[name] for name in set(shown) - own} == {
        name: one for name, one in shown.items() if name not in own
    }
    assert [heading.title for heading in card.headings] == list(WANTED)
    assert len([name for name in shown if name.startswith("throw_")]) == 12


def test_a_flight_out_and_home_uses_what_there_is() -> None:
    """Flown second by second: downwind out, turned where told, home against the wind."""
    cruise, wind, current, charge = 12.0, 4.0, 2.0, 1200.0
    back = float(turn_back(*(np.array([v]) for v in (charge, cruise + wind, cruise - wind)))[0])
    used = place = 0.0
    step = 0.001
    while used < back:
        place += (cruise + wind) * step
        used += current * step
    while place > 0.0:
        place -= (cruise - wind) * step
        used += current * step
    assert used == pytest.approx(charge, rel=1e-4)


def test_the_point_of_safe_return() -> None:
    """The formula of air navigation, time out = endurance * home / (out + home): 5 h at 200 and
    160 kn is 2 h 13 min (worked by hand; the formula from memory)."""
    hours = turn_back(np.array([5.0]), np.array([200.0]), np.array([160.0]))
    assert hours[0] == pytest.approx(2.0 + 13.33 / 60.0, abs=1e-3)


@given(st.floats(1.0, 60.0), st.floats(0.0, 80.0))
def test_a_wind_never_takes_you_farther(cruise: float, wind: float) -> None:
    """Half of the charge in still air, less in wind, none where the wind is as fast as you."""
    out, home = np.array([cruise + wind]), np.array([cruise - wind])
    share = turn_back(np.array([1.0]), out, home)[0]
    assert 0.0 <= share <= 0.5
    assert (share == 0.0) == (wind >= cruise)


def test_who_cannot_fly_level_is_told_nothing() -> None:
    """A sample without a cruise has no charge to turn at."""
    nothing = np.array([np.nan])
    assert np.isnan(turn_back(np.array([1.0]), nothing, nothing)[0])


def test_more_wind_turns_back_earlier(case: Case) -> None:
    """On the example plane, with the same luck."""
    windy = case.changed({"site.wind": "6 ± 1 m/s"})
    calm = case.changed({"site.wind": "0 ± 0.1 m/s"})
    used = [pack_figures(one)[0].value for one in (windy, case, calm)]
    assert used == sorted(used)  # type: ignore[type-var]  # numbers, all of them
    assert pack_figures(windy)[1] == pack_figures(calm)[1]


def test_without_a_motor_there_is_no_charge_to_tell(case: Case) -> None:
    """A glider's card has no pack, and says what would have to be told."""
    glider = case.changed({"items.motor": None})
    assert pack_figures(glider) == []
    card = field_card(glider)
    assert "Balance" in [heading.title for heading in card.headings]
    assert card.missing


def test_a_figure_comes_once_and_only_with_a_value() -> None:
    """Two questions may tell the all-up mass; the first counts."""
    found = chosen([a_figure("all_up_mass"), a_figure("all_up_mass", 2.0), a_figure("cg_x", None)])
    assert [(h.title, [(f.name, f.value) for f in h.figures]) for h in found] == [
        ("Balance", [("all_up_mass", 1.0)])
    ]
    assert fits("throw_1_up_low", "throw_")
    assert not fits("all_up_mass_2", "all_up_mass")


def test_cautions_come_once_and_doubts_by_their_verdict() -> None:
    """A caution belongs to a question that has figures here; a doubt to any question."""
    card = card_of(
        [
            an_answer(names=("all_up_mass",), cautions=("mind", "mind")),
            an_answer("cost", names=("total",), cautions=("not here",), verdict="no"),
            an_answer("speed", verdict="open", missing=("items",)),
            an_answer("bench", verdict="open", missing=("a scale",)),
        ]
    )
    assert card.cautions == ("mind",)
    assert [(doubt.asks, doubt.verdict) for doubt in card.doubts] == [("cost?", "no")]
    assert card.missing == ("items",)


def test_every_example_has_its_card() -> None:
    """Whatever layout: mass, balance, throws."""
    for folder in (path for path in EXAMPLES.iterdir() if (path / "plane.toml").exists()):
        titles = [h.title for h in field_card(opened(Path(folder), SETTINGS)[1]).headings]
        assert {"Balance", "Throws", "In the air"} <= set(titles), folder


def test_overrides_of_a_case_are_those_of_the_file(case: Case) -> None:
    """The card of what is tried is the card of what is written then."""
    loaded, _ = opened(EXAMPLES / "reedling", SETTINGS)
    heavy = overridden(loaded, {"airframe.bare_mass": "160 ± 1 g"})
    assert heavy.plane.airframe.bare_mass is not None
    mass = field_card(case.changed({"airframe.bare_mass": "160 ± 1 g"})).headings[0].figures[0]
    plain = field_card(case).headings[0].figures[0]
    assert mass.value is not None
    assert plain.value is not None
    assert mass.value - plain.value == pytest.approx(0.048, abs=1e-3)
