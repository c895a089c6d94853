"""The main job: the JSON contract, the same numbers every time, odds that hold still."""

import csv
import io
import json
from pathlib import Path

import pytest

from foamwright.jobs.ask import (
    Asked,
    Settings,
    as_json,
    ask,
    draw_charts,
    opened,
    shopping_csv,
)
from foamwright.problems import CallProblem, WriteProblem
from foamwright.questions.answer import Answer
from foamwright.questions.register import QUESTIONS

EXAMPLES = Path(__file__).parents[2] / "examples"
REEDLING = EXAMPLES / "reedling"
SALTMARSH = Path(__file__).parents[1] / "journeys" / "planes" / "saltmarsh"
FEW = Settings(samples=128)

EXTRA = {"cost": ["shopping"], "fit": ["rules"]}
"""Keys that one question's answer has beyond those of every answer."""

FIGURES: dict[str, dict[str, str]] = {
    "fit": {
        "skin_min": "m",
        "overlaps": "-",
        "foam_removed_mass": "kg",
        "rules_broken": "-",
        "margin": "m",
        "stiffness_kept": "-",
        "edge_strength_kept": "-",
    },
    "weight": {
        "all_up_mass": "kg",
        "wing_loading": "kg m^-2",
        "empty_mass": "kg",
    },
    "balance": {
        "static_margin": "-",
        "cg_x": "m",
        "neutral_point_x": "m",
        "cg_y": "m",
        "cg_forward_limit": "m",
        "cg_rear_limit": "m",
        "chance_unstable": "-",
        "pack_x_for_target": "m",
        "margin_pack_foremost": "-",
        "margin_pack_rearmost": "-",
        "ballast_mass": "kg",
        "chance_one_place": "-",
    },
    "electrics": {
        "current_max": "A",
        "current_headroom": "-",
        "pack_voltage_min": "V",
        "bench_voltage": "V",
        "esc_current_borne": "A",
        "motor_current_borne": "A",
        "pack_temperature": "K",
    },
    "speed": {
        "top_speed": "m s^-1",
        "top_speed_current": "A",
        "static_thrust": "N",
        "thrust_to_weight": "-",
        "climb_rate": "m s^-1",
        "propeller_rpm": "s^-1",
        "pitch_speed": "m s^-1",
    },
    "endurance": {
        "endurance": "s",
        "cruise_speed": "m s^-1",
        "cruise_current": "A",
        "range": "m",
        "energy_per_km": "J m^-1",
        "loiter_speed": "m s^-1",
        "loiter_endurance": "s",
        "full_throttle_time": "s",
        "usable_share": "-",
    },
    "landing": {
        "stall_speed": "m s^-1",
        "approach_speed": "m s^-1",
        "stall_speed_45": "m s^-1",
        "glide_ratio": "-",
        "glide_speed": "m s^-1",
        "sink_rate": "m s^-1",
        "maximum_lift": "-",
        "approach_banked": "m s^-1",
        "elevator_speed": "m s^-1",
        "elevator_left": "rad",
        "flare_distance": "m",
        "stop_distance": "m",
        "approach_gusts": "m s^-1",
        "ground_speed_into": "m s^-1",
        "ground_speed_with": "m s^-1",
        "go_around_throttle": "-",
        "go_around_climb": "m s^-1",
    },
    "control": {
        "roll_rate": "rad s^-1",
        "servo_torque_margin": "-",
        "full_throw_speed": "m s^-1",
        "servo_time": "s",
        "slop": "m",
        "pushrod_margin": "-",
        "pitch_rate": "rad s^-1",
        "yaw_rate": "rad s^-1",
        "adverse_yaw": "rad",
        "trim": "rad",
        "wobble_speed": "m s^-1",
        "gain_ratio": "-",
        "throw_1_up_low": "m",
        "throw_1_up_high": "m",
        "throw_1_down_low": "m",
        "throw_1_down_high": "m",
        "throw_2_up_low": "m",
        "throw_2_up_high": "m",
        "throw_2_down_low": "m",
        "throw_2_down_high": "m",
        "throw_3_up_low": "m",
        "throw_3_up_high": "m",
        "throw_3_down_low": "m",
        "throw_3_down_high": "m",
    },
    "launch": {
        "launch_probability": "-",
        "chance_hands_off": "-",
        "chance_pilot": "-",
        "chance_stabiliser": "-",
        "launch_throttle": "-",
        "launch_angle": "rad",
        "torque_aileron": "rad",
        "release_speed": "m s^-1",
        "release_over_stall": "-",
        "least_height": "m",
        "launch_height": "m",
        "most_bank": "rad",
    },
    "rules": {
        "top_speed": "m s^-1",
        "all_up_mass": "kg",
        "kinetic_energy": "J",
    },
    "cost": {
        "cost_to_buy": "EUR",
        "cost_total": "EUR",
    },
    "bench": {},
    "debrief": {},
}
"""Every figure with its unit: others read these names, so they are here for good."""

TOP = ["schema", "plane", "variant", "seconds", "answers"]
ANSWER = [
    "question",
    "asks",
    "verdict",
    "probability",
    "figures",
    "because",
    "assumed",
    "carried_by",
    "remedies",
    "cautions",
]
FIGURE = ["name", "label", "value", "low", "high", "unit", "limit_low", "limit_high"]


@pytest.fixture(scope="module")
def glider() -> Asked:
    """Return all answers about the glider."""
    return ask(REEDLING, (), FEW)


def named(asked: Asked) -> dict[str, Answer]:
    """Return the answers by question."""
    return {answer.question: answer for answer in asked.answers}


def test_the_json_has_the_keys_of_the_contract_and_no_others(glider: Asked) -> None:
    """In their order; a shopping list with the costs only."""
    told = as_json(glider)
    assert list(told) == TOP
    answers = told["answers"]
    assert isinstance(answers, list)
    for answer in answers:
        extra = EXTRA.get(answer["question"], [])
        assert list(answer) == ANSWER + extra
        assert all(list(figure) == FIGURE for figure in answer["figures"])
        assert all(list(share) == ["input", "share"] for share in answer["carried_by"])
        for remedy in answer["remedies"]:
            assert list(remedy) == ["do", "effect"]
            assert all(list(e) == ["figure", "from", "to"] for e in remedy["effect"])


def test_the_figures_keep_their_names_and_units(glider: Asked) -> None:
    """A snapshot of keys and units, not of numbers: physics may move, names may not."""
    found = {
        answer.question: {figure.name: figure.unit for figure in answer.figures}
        for answer in glider.answers
    }
    assert {question: sorted(units.items()) for question, units in found.items()} == {
        question: sorted(units.items()) for question, units in FIGURES.items()
    }
    assert list(found) == list(FIGURES) == [question.id for question in QUESTIONS]


@pytest.mark.parametrize("folder", [REEDLING, SALTMARSH, EXAMPLES / "anvil"])
def test_the_json_is_strict(folder: Path) -> None:
    """No infinity, no 'not a number': strict parsers choke on them."""
    text = json.dumps(as_json(ask(folder, (), FEW)), allow_nan=False)
    assert json.loads(text)["schema"] == 1


def test_bands_are_ordered_and_si(glider: Asked) -> None:
    """Low, middle, high; metres, kilograms and kelvins, so no glider of 252 anything."""
    for answer in glider.answers:
        for figure in answer.figures:
            assert figure.value is not None
            assert figure.low is not None
            assert figure.high is not None
            assert figure.low <= figure.value <= figure.high
    mass = next(f for f in named(glider)["weight"].figures if f.name == "all_up_mass")
    assert 0.2 < (mass.value or 0.0) < 0.3


def test_the_same_seed_gives_the_same_answers(glider: Asked) -> None:
    """Seed 1 twice is the same to the last digit, seed 2 is not."""
    assert ask(REEDLING, (), FEW).answers == glider.answers
    other = ask(REEDLING, ("weight",), Settings(samples=128, seed=2))
    assert other.answers[0].figures != glider.answers[0].figures


@pytest.mark.parametrize("question", ["balance", "endurance", "cost"])
def test_asked_alone_a_question_tells_the_same(glider: Asked, question: str) -> None:
    """One among eight, or alone: the same answer."""
    (alone,) = ask(REEDLING, (question,), FEW).answers
    assert alone == named(glider)[question]


NO_MEDIANS = ("chance_", "launch_probability", "launch_throttle", "launch_angle")


def test_more_samples_move_no_median_beyond_the_sampling_error() -> None:
    """256 against 2048 samples: medians within 3 errors of the smaller one, chances within 0.1.

    The error of a median is 1.25 s / sqrt(n); s comes from the band (2.56 s wide). Chances among
    the figures, and the cells that a launch is best in, have no band.
    """
    few = ask(REEDLING, (), Settings(samples=256))
    many = ask(REEDLING, (), Settings(samples=2048))
    for small, large in zip(few.answers, many.answers, strict=True):
        assert small.probability == pytest.approx(large.probability, abs=0.1)
        for one, two in zip(small.figures, large.figures, strict=True):
            if one.value is None or two.value is None or one.name.startswith(NO_MEDIANS):
                continue
            spread = ((two.high or 0.0) - (two.low or 0.0)) / 2.56
            # A speed read off the drag curve's own steps may jump by one of them.
            step = 0.12 * abs(two.value) if one.name in ("glide_speed", "loiter_speed") else 0.0
            error = 3 * 1.25 * spread / 256**0.5 + 1e-3 * abs(two.value) + step
            assert abs(one.value - two.value) <= error, one.name


def test_what_is_missing_is_told_among_the_assumptions() -> None:
    """The swept wing has no propeller: the JSON says so, and the verdict is open."""
    told = as_json(ask(SALTMARSH, ("speed",), FEW))
    answers = told["answers"]
    assert isinstance(answers, list)
    assert answers[0]["verdict"] == "open"
    assert answers[0]["probability"] is None
    assert any(text.startswith("missing: ") for text in answers[0]["assumed"])


def test_a_variant_is_asked_by_its_name() -> None:
    """Without its 7 g of GPS the glider is 7 g lighter, and the JSON names the variant.

    Two calls draw each on their own: medians of 128 samples with 3.9 g of spread lie 0.6 g apart.
    """
    base = ask(REEDLING, ("weight",), FEW)
    lighter = ask(REEDLING, ("weight",), Settings(samples=128, variant="no GPS"))
    before, after = (asked.answers[0].figures[0].value or 0.0 for asked in (base, lighter))
    assert before - after == pytest.approx(0.007, abs=1.5e-3)
    assert as_json(lighter)["variant"] == "no GPS"
    assert as_json(base)["variant"] is None


def test_an_unknown_question_is_refused_with_those_there_are() -> None:
    """Nothing is computed for a typing error."""
    with pytest.raises(CallProblem, match="no question 'balanse'"):
        ask(REEDLING, ("balanse",), FEW)


@pytest.mark.parametrize("samples", [0, -5, 10**6])
def test_sample_counts_out_of_range_are_refused(samples: int) -> None:
    """1 to 65536."""
    with pytest.raises(CallProblem, match="out of range"):
        opened(REEDLING, Settings(samples=samples))


def test_one_sample_is_an_answer() -> None:
    """Silly but not an error: every band is a point."""
    for answer in ask(REEDLING, (), Settings(samples=1)).answers:
        assert all(figure.low == figure.high for figure in answer.figures)


def test_the_shopping_list_is_a_table(glider: Asked) -> None:
    """Header and one line an item; what is left to buy adds up to the figure told for it."""
    rows = list(csv.DictReader(io.StringIO(shopping_csv(glider))))
    assert len(rows) == 14
    assert {row["currency"] for row in rows} == {"EUR"}
    spares = {"propeller": 3}
    left = sum(
        float(row["price each"] or 0) * int(row["count"])
        if row["owned"] == "no"
        else float(row["price each"] or 0) * spares.get(row["item"], 0)
        for row in rows
    )
    figure = named(glider)["cost"].figures[0]
    assert figure.value == pytest.approx(left, rel=0.02)


def test_charts_are_written_into_a_folder_all_or_none(tmp_path: Path) -> None:
    """A file in the way is told before any is written."""
    (tmp_path / "stall-against-bank.svg").write_text("mine", encoding="utf-8")
    with pytest.raises(WriteProblem, match="exists already"):
        draw_charts(REEDLING, (), Settings(samples=64), tmp_path)
    assert [entry.name for entry in tmp_path.iterdir()] == ["stall-against-bank.svg"]
    drawn = draw_charts(REEDLING, ("landing", "cost"), Settings(samples=64), tmp_path, force=True)
    assert [file.name for file in drawn.files] == ["stall-against-bank.svg"]
    assert drawn.without == ("cost",)
    assert drawn.files[0].read_text(encoding="utf-8").startswith("<svg")
