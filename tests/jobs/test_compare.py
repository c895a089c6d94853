"""Variants beside the plane as planned, with the same luck."""

from pathlib import Path

import numpy as np
import pytest
from scipy.stats import norm

from foamwright.jobs import compare as job
from foamwright.jobs.ask import Settings, ask, opened
from foamwright.problems import CallProblem
from foamwright.questions.answer import Figure
from foamwright.questions.case import Measured
from foamwright.questions.chance import MASS, SPEED, figure
from foamwright.questions.register import QUESTIONS

REEDLING = Path(__file__).parents[2] / "examples" / "reedling"
SETTINGS = Settings(samples=256)


@pytest.fixture(scope="module")
def compared() -> job.Compared:
    """Return the glider beside both of its variants."""
    return job.compare(REEDLING, (), SETTINGS)


def change_in(compared: job.Compared, question: str, variant: str) -> job.Difference:
    """Return what a variant changes in one question."""
    row = next(row for row in compared.rows if row.question == question)
    return next(change for change in row.differences if change.variant == variant)


def measured(samples: list[float], name: str = "mass") -> Measured:
    """Return invented samples as what a question computes."""
    found = np.array(samples)
    return Measured(figures=(figure(name, name, found, MASS),), probability=None, deciding=found)


MEASURED = ("bench", "debrief")
"""Questions about what was measured: nothing was, so nothing can differ."""

OWN = ("pockets cut", "servos in front")
"""Variants of the file that are only about the build."""


def test_every_question_is_answered_for_every_variant(compared: job.Compared) -> None:
    """As planned first, then the variants of the file in their order."""
    assert tuple(row.question for row in compared.rows) == tuple(q.id for q in QUESTIONS)
    for row in compared.rows:
        assert [o.variant for o in row.outcomes] == [None, "two cells", "no GPS", *OWN]
        # Where nothing was measured at the bench yet, nothing can differ.
        wanted = () if row.question in MEASURED else ("two cells", "no GPS", *OWN)
        assert tuple(change.variant for change in row.differences) == wanted


def test_the_plane_as_planned_is_what_ask_tells(compared: job.Compared) -> None:
    """One luck for both commands, so verdicts, chances and figures are the same."""
    asked = ask(REEDLING, (), SETTINGS)
    for row, answer in zip(compared.rows, asked.answers, strict=True):
        planned = row.outcomes[0]
        assert (planned.verdict, planned.probability) == (answer.verdict, answer.probability)
        assert planned.figures == answer.figures


def test_a_part_left_out_weighs_what_was_written_with_its_spread(compared: job.Compared) -> None:
    """7 ± 0.5 g: the 10 and 90 % points of a normal lie 1.2816 deviations from its middle."""
    change = change_in(compared, "weight", "no GPS")
    reach = float(norm.ppf(0.9)) * 0.5e-3
    assert change.figure.value == pytest.approx(-7.0e-3, abs=0.03e-3)
    assert change.figure.low == pytest.approx(-7.0e-3 - reach, abs=0.08e-3)
    assert change.figure.high == pytest.approx(-7.0e-3 + reach, abs=0.08e-3)
    assert change.told == "less"


def test_a_loss_inside_both_bands_is_told_all_the_same(compared: job.Compared) -> None:
    """The bands of stall speed overlap; sample by sample the lighter plane is always slower."""
    row = next(row for row in compared.rows if row.question == "landing")
    planned, lighter = (row.outcomes[place].figures[0] for place in (0, 2))
    assert lighter.high is not None
    assert planned.low is not None
    assert lighter.high > planned.low
    assert change_in(compared, "landing", "no GPS").told == "less"


def test_stall_speed_grows_with_the_root_of_the_mass(
    compared: job.Compared, tmp_path: Path
) -> None:
    """20 g more in the centre of gravity: lift goes with the square of the speed."""
    balance = next(row for row in compared.rows if row.question == "balance")
    centre = next(f for f in balance.outcomes[0].figures if f.name == "cg_x").value or 0.0
    text = (REEDLING / "plane.toml").read_text(encoding="utf-8")
    heavy = f"""
[variants.heavy]
"items.lead" = {{ kind = "ballast", mass = "20 ± 0.1 g", at = {{ x = "{centre * 1e3:.1f} mm" }} }}
"""
    (tmp_path / "plane.toml").write_text(text + heavy, encoding="utf-8")
    rows = {row.question: row for row in job.compare(tmp_path, ("heavy",), SETTINGS).rows}
    mass, speed = (
        (rows[name].outcomes[1].figures[0].value or 0.0)
        / (rows[name].outcomes[0].figures[0].value or 1.0)
        for name in ("weight", "landing")
    )
    assert mass == pytest.approx(1 + 20 / 253, abs=0.001)
    assert speed - 1 == pytest.approx(np.sqrt(mass) - 1, rel=0.1)


def test_a_variant_is_told_the_same_whoever_stands_beside_it(compared: job.Compared) -> None:
    """Each variant has a branch of the draws to itself."""
    alone = job.compare(REEDLING, ("no GPS",), SETTINGS)
    for row in alone.rows:
        if row.question not in MEASURED:
            assert row.differences[0] == change_in(compared, row.question, "no GPS")


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ([0.1] * 10, "more"),
        ([-0.1] * 10, "less"),
        ([-0.1, 0.1] * 5, "cannot tell"),
        ([0.0] * 10, "same"),
        ([1e-12] * 10, "same"),
        ([0.0] * 5 + [0.1] * 5, "cannot tell"),
    ],
)
def test_the_word_follows_the_band_of_the_difference(change: list[float], word: str) -> None:
    """Wholly above nothing, wholly below, both, or no change but rounding."""
    found = job.difference("v", measured([1.0] * 10), measured([1.0 + c for c in change]))
    assert found is not None
    assert found.told == word


def test_what_most_planes_cannot_do_has_no_difference() -> None:
    """A top speed that is hardly ever reached is compared with nothing."""
    found = job.difference("v", measured([1.0] * 4), measured([np.nan] * 3 + [2.0]))
    assert found is not None
    assert found.figure.value is None
    assert found.told == "cannot tell"


def test_different_figures_are_not_taken_from_each_other() -> None:
    """Mass and speed have no difference; a question without figures has none either."""
    assert job.difference("v", measured([1.0] * 4), measured([1.0] * 4, "speed")) is None
    nothing = Measured(figures=(), probability=None, deciding=np.full(4, np.nan))
    assert job.difference("v", nothing, measured([1.0] * 4)) is None


def test_the_deciding_figure_has_the_median_of_the_deciding_samples() -> None:
    """Where the figure is not the first one, the question names it."""
    samples = np.array([1.0, 2.0, 3.0])
    figures: tuple[Figure, ...] = (
        figure("first", "first", 2 * samples, SPEED),
        figure("second", "second", samples, SPEED),
    )
    found = Measured(figures=figures, probability=0.5, deciding=samples, decides="second")
    assert found.key_figure == figures[1]


def test_every_key_figure_is_that_of_the_deciding_samples(compared: job.Compared) -> None:
    """Each question's named figure is the median of what it decides by."""
    _, case = opened(REEDLING, SETTINGS)
    for question, row in zip(QUESTIONS, compared.rows, strict=True):
        found = question.measure(case)
        if question.id in MEASURED:  # nothing was measured yet
            assert found.key_figure is None
            continue
        assert found.key_figure is not None
        assert found.key_figure == row.outcomes[0].key_figure
        assert found.key_figure.value == pytest.approx(float(np.nanmedian(found.deciding)))


def test_what_cannot_be_compared_is_refused(tmp_path: Path) -> None:
    """An unknown name, a name twice, a plane without variants."""
    with pytest.raises(CallProblem, match=r"no variant 'three cells'.*'two cells'"):
        job.compare(REEDLING, ("three cells",), SETTINGS)
    with pytest.raises(CallProblem, match="more than once"):
        job.compare(REEDLING, ("no GPS", "no GPS"), SETTINGS)
    text = (REEDLING / "plane.toml").read_text(encoding="utf-8")
    (tmp_path / "plane.toml").write_text(text.split("[variants.")[0], encoding="utf-8")
    with pytest.raises(CallProblem, match="has no variants"):
        job.compare(tmp_path, (), SETTINGS)


def test_json_has_the_keys_of_the_contract(compared: job.Compared) -> None:
    """Nothing more, nothing less."""
    told = job.as_json(compared)
    assert set(told) == {"schema", "plane", "variants", "rows"}
    rows = told["rows"]
    assert isinstance(rows, list)
    for row in rows:
        assert set(row) == {"question", "asks", "answers", "differences"}
        for answer in row["answers"]:
            assert set(answer) == {"variant", "verdict", "probability", "figures"}
        for change in row["differences"]:
            keys = {"variant", "figure", "value", "low", "high", "unit", "told"}
            assert set(change) == keys
            names = {f["name"] for f in row["answers"][0]["figures"]}
            assert change["figure"] in names
