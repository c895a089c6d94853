"""The rules of fit as data."""

import pytest

from foamwright.questions.fit_rules import fit_rules


def test_every_foam_has_a_least_skin() -> None:
    """3 mm in EPS and EPO, 4 to 5 in EPP: common practice, no source."""
    skin = {foam: rule.least for foam, rule in fit_rules().skin.items()}
    assert skin == {"EPS": 0.003, "EPO": 0.003, "XPS": 0.003, "EPP": 0.0045}


def test_every_rule_says_where_it_comes_from() -> None:
    """A tag, a sentence, and a name of its own."""
    rules = fit_rules()
    for rule in (*rules.rules.values(), *rules.skin.values()):
        assert rule.tag
        assert rule.says
    assert all(spacing.tag for spacing in rules.spacings)


@pytest.mark.parametrize(
    ("name", "least"),
    [
        ("GPS from carbon", 0.030),
        ("GPS from video transmitter", 0.150),
        ("video transmitter from receiver", 0.150),
        ("GPS from camera", 0.100),
        ("receiver from carbon", 0.010),
    ],
)
def test_spacings_are_those_of_the_trade(name: str, least: float) -> None:
    """Common practice, no source."""
    found = next(s for s in fit_rules().spacings if s.id == name)
    assert found.least == least


def test_the_verdict_hangs_on_geometry_not_on_habits() -> None:
    """Skin, overlap, propeller and hatch must hold; the rest is worth keeping."""
    must = {rule.id for rule in fit_rules().rules.values() if rule.must}
    assert must == {"overlap", "on the foam", "propeller beside foam", "hatch"}
