"""How long and how far?"""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.questions import endurance
from foamwright.questions.case import Case

Named = Callable[[str], Case]


@pytest.mark.parametrize(("minutes", "word"), [("6", "yes"), ("17", "unsure"), ("40", "no")])
def test_the_wish_decides(case: Named, minutes: str, word: str) -> None:
    """Far below the middle of 17 minutes, on it, far above."""
    plane = case("reedling").changed({"targets.endurance": f"{minutes} min"})
    assert endurance.answer(plane).verdict == word


def test_without_a_wish_it_is_open_and_still_tells(case: Named) -> None:
    """The figures are there, the wish is asked for."""
    answer = endurance.answer(case("reedling").changed({"targets.endurance": None}))
    assert answer.verdict == "open"
    assert answer.missing == ("targets.endurance, the time you want",)
    assert answer.figures[0].value is not None


def test_time_is_charge_over_current(case: Named) -> None:
    """450 mAh, 80 % of it, at the current told: within what medians of quotients allow, 3 %."""
    measured = endurance.measure(case("reedling"))
    current = measured.named("cruise_current").value or np.nan
    assert measured.named("endurance").value == pytest.approx(0.8 * 0.45 * 3600 / current, rel=0.03)
    distance = measured.named("range").value or np.nan
    speed = measured.named("cruise_speed").value or np.nan
    assert distance == pytest.approx(speed * (measured.named("endurance").value or 0), rel=0.06)


def test_full_throttle_is_short_and_loiter_is_long(case: Named) -> None:
    """Three times and more between them."""
    measured = endurance.measure(case("reedling"))
    full, cruise, loiter = (
        measured.named(name).value or np.nan
        for name in ("full_throttle_time", "endurance", "loiter_endurance")
    )
    assert 2.5 * full < cruise <= loiter


def test_a_larger_pack_lasts_longer(case: Named) -> None:
    """650 for 450 mAh on 253 g: 30 to 44 % more, since it weighs 16 g more; offered so."""
    plane = case("reedling").changed({"targets.endurance": "18 min"})
    first = endurance.answer(plane).remedies[0]
    assert first.do == "Fit a 3S 650 mAh pack"
    lasting = next(entry for entry in first.effect if entry.figure == "endurance")
    assert 1.25 < (lasting.after or 0) / (lasting.before or 1) < 1.44


def test_the_gear_takes_its_share(case: Named) -> None:
    """Without video the same pack lasts longer, and the reason speaks of it."""
    plane = case("reedling")
    blind = plane.changed({"items.video transmitter": None})
    before, after = (endurance.measure(one).named("endurance").value or 0 for one in (plane, blind))
    assert after > 1.05 * before
    assert "feeds video, boards and servos" in endurance.answer(plane).because


def test_a_warning_comes_with_it(case: Named) -> None:
    """Packs burn; whatever the verdict."""
    assert any("can burn" in text for text in endurance.answer(case("reedling")).cautions)


def test_without_a_drive_it_is_open(case: Named) -> None:
    """The swept wing has no propeller yet."""
    answer = endurance.answer(case("saltmarsh"))
    assert answer.verdict == "open"
    assert any("propeller" in text for text in answer.missing)
    assert answer.figures == ()
