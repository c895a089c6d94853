"""The command line as its user drives it."""

import csv
import io
import json
import os
import pty
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from foamwright.cli.main import main
from foamwright.jobs import ask as job
from foamwright.plane.document import load
from foamwright.questions.register import QUESTIONS

ROOT = Path(__file__).parent.parent.parent
REEDLING = str(ROOT / "examples" / "reedling")
FEW = ("--samples", "64")

EXTRA = {"cost": {"shopping"}, "fit": {"rules"}}
ANSWER_KEYS = {
    *("question", "asks", "verdict", "probability", "figures", "because"),
    *("assumed", "carried_by", "remedies", "cautions"),
}
FIGURE_KEYS = {
    *("name", "label", "value", "low", "high", "unit", "limit_low", "limit_high"),
}


def run(*arguments: str, typed: str | None = None) -> Result:
    """Return how a call ends, in this process."""
    return CliRunner().invoke(main, list(arguments), input=typed, prog_name="foamwright")


def started(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """Return how a call ends, in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "foamwright", *arguments],
        check=False,
        capture_output=True,
        encoding="utf-8",
        cwd=ROOT,
        env={**os.environ, **environment},
    )


def told(result: Result) -> dict[str, Any]:
    """Return the JSON object a call printed."""
    assert result.exit_code == 0, result.stderr
    assert result.stderr == ""
    found: dict[str, Any] = json.loads(result.stdout)
    return found


def refusal(result: Result) -> str:
    """Return the one message of a call that cannot be answered."""
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.endswith("\n")
    return result.stderr.strip()


def test_every_question_is_answered_for_the_example() -> None:
    """One block a question, with its sentence, and the odds at the foot."""
    result = run("ask", REEDLING, *FEW)
    assert result.exit_code == 0, result.stderr
    assert result.stderr == ""
    assert "Does it balance with the pack where I can reach it?" in result.stdout
    assert "Odds from 64 planes like yours (seed 1)" in result.stdout
    assert "\x1b" not in result.stdout
    assert max(len(line) for line in result.stdout.splitlines()) <= 80


def test_one_question_opens_in_full() -> None:
    """All figures of balance, none of the other questions."""
    result = run("ask", REEDLING, "balance", *FEW)
    assert result.exit_code == 0, result.stderr
    assert "neutral point" in result.stdout
    assert "Is it light enough?" not in result.stdout


def test_json_has_exactly_the_keys_of_the_contract() -> None:
    """Nothing more, nothing less, so that a script can rely on it; `cost` adds its list."""
    found = told(run("ask", REEDLING, "--json", *FEW))
    assert set(found) == {"schema", "plane", "variant", "seconds", "answers"}
    assert found["schema"] == 1
    assert found["plane"] == "Reedling"
    assert found["variant"] is None
    assert tuple(a["question"] for a in found["answers"]) == tuple(q.id for q in QUESTIONS)
    for answer in found["answers"]:
        extra = EXTRA.get(answer["question"], set())
        assert set(answer) == ANSWER_KEYS | extra
        assert answer["verdict"] in ("yes", "likely", "unsure", "unlikely", "no", "open")
        assert all(set(figure) == FIGURE_KEYS for figure in answer["figures"])
        assert all(set(share) == {"input", "share"} for share in answer["carried_by"])
        for remedy in answer["remedies"]:
            assert set(remedy) == {"do", "effect"}
            assert all(set(effect) == {"figure", "from", "to"} for effect in remedy["effect"])


def test_values_in_json_are_si_and_lie_in_their_band() -> None:
    """Masses in kilograms, the median between the 10 and the 90 % point."""
    (answer,) = told(run("ask", REEDLING, "weight", "--json", *FEW))["answers"]
    mass = next(f for f in answer["figures"] if f["name"] == "all_up_mass")
    assert mass["unit"] == "kg"
    assert 0.2 < mass["low"] <= mass["value"] <= mass["high"] < 0.3


def test_the_same_seed_gives_the_same_answer() -> None:
    """Same input and seed, same output; another seed, another luck."""
    first, second = (
        told(run("ask", REEDLING, "balance", "--json", *FEW, "--seed", "5"))["answers"]
        for _ in range(2)
    )
    other = told(run("ask", REEDLING, "balance", "--json", *FEW, "--seed", "6"))["answers"]
    assert first == second
    assert first != other


def test_questions_are_answered_in_asking_order() -> None:
    """However they are typed."""
    found = told(run("ask", REEDLING, "cost", "weight", "--json", *FEW))
    assert [answer["question"] for answer in found["answers"]] == ["weight", "cost"]


def test_the_shopping_list_is_a_table() -> None:
    """`--csv` prints a header and a line a part, and asks nothing but cost."""
    result = run("ask", REEDLING, "--csv", *FEW)
    assert result.exit_code == 0, result.stderr
    rows = list(csv.DictReader(io.StringIO(result.stdout)))
    assert len(rows) == len(load(Path(REEDLING)).plane.items)
    assert {"item", "kind", "count", "price each", "currency", "owned"} <= set(rows[0])


def test_units_are_the_users_choice() -> None:
    """Imperial answers speak of ounces; JSON stays SI."""
    page = run("ask", REEDLING, "weight", *FEW, "--units", "imperial")
    assert " oz" in page.stdout
    (answer,) = told(run("ask", REEDLING, "weight", "--json", *FEW, "--units", "imperial"))[
        "answers"
    ]
    assert answer["figures"][0]["unit"] == "kg"


def test_level_flight_is_told_for_every_speed_asked() -> None:
    """Repeated speeds and a range make a row each, with the figures of the contract."""
    found = told(
        run(
            *("level", REEDLING, "--json", *FEW),
            *("--speed", "60 km/h", "--speed", "14 m/s to 18 m/s step 2 m/s"),
        )
    )
    assert set(found) == {"schema", "rows"}
    assert [row["speed"] for row in found["rows"]] == pytest.approx([16.667, 14, 16, 18], abs=1e-3)
    for row in found["rows"]:
        assert set(row) == {"speed", "figures"}
        assert [figure["name"] for figure in row["figures"]] == [
            *("throttle", "current", "power", "propeller_rpm"),
            *("angle_of_attack", "thrust", "efficiency"),
        ]
    page = run("level", REEDLING, "--speed", "60 km/h", *FEW)
    assert "at 16.7 m/s" in page.stdout


def test_the_stock_can_be_looked_into() -> None:
    """Kinds, a kind of two words, one part in full, and a name that is not there."""
    assert "video transmitter" in run("stock").stdout
    assert "25 mW" in run("stock", "video", "transmitter").stdout
    assert 'stock = "motor 2204 2300"' in run("stock", "motor", "2204").stdout
    assert "nearest" in refusal(run("stock", "motr"))


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("ask", "no/such/plane"), "no/such/plane"),
        (("ask", REEDLING, "ballance"), "balance"),
        (("ask", REEDLING, "--variant", "none"), "none"),
        (("ask", REEDLING, "--samples", "0"), "--samples"),
        (("ask", REEDLING, "--samples", "many"), "--samples"),
        (("ask", REEDLING, "--seed", "-1"), "--seed"),
        (("ask", REEDLING, "--units", "furlongs"), "furlongs"),
        (("ask", REEDLING, "--json", "--csv"), "--csv"),
        (("ask", REEDLING, "weight", "--csv"), "cost"),
        (("ask",), "PLANE"),
        (("level", REEDLING), "--speed"),
        (("level", REEDLING, "--speed", "60"), "60"),
        (("level", REEDLING, "--speed", "60 g"), "60 g"),
        (("fly", REEDLING), "fly"),
        (("--loud",), "--loud"),
        (("new", "x", "--answers", "no-such.toml"), "no-such.toml"),
    ],
)
def test_a_call_that_cannot_be_answered_ends_in_one_message(
    arguments: tuple[str, ...], says: str
) -> None:
    """Exit code 2, one line on standard error that names what is wrong, nothing printed."""
    message = refusal(run(*arguments))
    assert says in message
    assert "Traceback" not in message
    assert len(message.splitlines()) == 1


def test_a_plane_file_is_sent_back_with_every_finding(tmp_path: Path) -> None:
    """File, line, key and correction for each, all at once."""
    text = (Path(REEDLING) / "plane.toml").read_text(encoding="utf-8")
    text = text.replace('top_speed = "24 m/s"', 'top_speeed = "24 m/s"')
    text = text.replace('mass_line = "260 g"', "mass_line = 260")
    (tmp_path / "plane.toml").write_text(text, encoding="utf-8")
    lines = refusal(run("ask", str(tmp_path))).splitlines()
    assert len(lines) == 2
    assert any("top_speeed" in line and "did you mean top_speed?" in line for line in lines)
    assert any("mass_line" in line and "260 g" in line for line in lines)
    assert all("plane.toml, line " in line for line in lines)


def test_asking_writes_nothing(tmp_path: Path) -> None:
    """A question leaves the plane folder as it was."""
    file = tmp_path / "plane.toml"
    file.write_bytes((Path(REEDLING) / "plane.toml").read_bytes())
    before = file.stat().st_mtime_ns
    run("ask", str(tmp_path), "weight", *FEW)
    assert [path.name for path in tmp_path.iterdir()] == ["plane.toml"]
    assert file.stat().st_mtime_ns == before


def test_our_own_fault_is_told_as_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    """Exit code 1, one sentence, no traceback, nothing on standard output."""

    def fails(*_: object) -> None:
        raise ZeroDivisionError("by nothing")

    monkeypatch.setattr(job, "ask", fails)
    monkeypatch.delenv("FOAMWRIGHT_TRACE", raising=False)
    result = run("ask", REEDLING)
    assert result.exit_code == 1
    assert result.stdout == ""
    assert len(result.stderr.strip().splitlines()) == 1
    assert "report" in result.stderr


def test_help_waits_for_no_heavy_library() -> None:
    """`--help` imports none of the libraries only an answer needs."""
    code = (
        "import sys\n"
        "from foamwright.cli.main import main\n"
        "try:\n    main(['ask', '--help'])\n"
        "except SystemExit as end:\n    print(end.code)\n"
        "print({'scipy', 'rich', 'pint', 'numpy', 'pydantic', 'tomlkit'} & set(sys.modules))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True, cwd=ROOT
    )
    assert done.stdout.splitlines()[-2:] == ["0", "set()"]


@pytest.mark.parametrize("arguments", [(), ("--help",), ("ask", "-h"), ("new", "--help")])
def test_help_is_an_answer(arguments: tuple[str, ...]) -> None:
    """Help is asked for, so it ends with 0 on standard output; so does no argument at all."""
    result = run(*arguments)
    assert result.exit_code == 0
    assert result.stdout.startswith("Usage: foamwright")
    assert result.stderr == ""


def test_a_reader_that_goes_away_is_no_fault() -> None:
    """`foamwright stock motor | head -0` ends quietly."""
    script = f'"{sys.executable}" -m foamwright stock motor; echo "code $?" >&2'
    done = subprocess.run(
        ["sh", "-c", f"({script}) | true"], check=False, capture_output=True, text=True, cwd=ROOT
    )
    assert done.stderr == "code 0\n"


def test_a_terminal_without_our_marks_gets_plain_letters() -> None:
    """Where only ASCII can be printed the page is ASCII, and complete."""
    done = started("ask", REEDLING, "weight", *FEW, PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert done.returncode == 0, done.stderr
    assert done.stdout.isascii()
    assert "Is it light enough?" in done.stdout


@pytest.mark.parametrize(("no_colour", "inked"), [("", True), ("1", False)])
def test_ink_is_for_terminals_that_want_it(no_colour: str, inked: bool) -> None:  # noqa: FBT001
    """A terminal gets colours, unless NO_COLOR says that it wants none."""
    reader, terminal = pty.openpty()
    done = subprocess.run(
        [sys.executable, "-m", "foamwright", "ask", REEDLING, "weight", *FEW],
        check=False,
        stdout=terminal,
        stderr=subprocess.PIPE,
        cwd=ROOT,
        env={**os.environ, "NO_COLOR": no_colour, "TERM": "xterm"},
    )
    os.close(terminal)
    page = os.read(reader, 65536).decode("utf-8")
    os.close(reader)
    assert done.returncode == 0
    assert done.stderr == b""  # no terminal there, so no progress either
    assert "Is it light enough?" in page
    assert ("\x1b[" in page) == inked


def test_a_pressed_key_ends_it_with_130(tmp_path: Path) -> None:
    """Ctrl-C in the middle of an interview: one line, code 130, nothing written."""
    process = subprocess.Popen(
        [sys.executable, "-m", "foamwright", "new", str(tmp_path / "wren")],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=ROOT,
        text=True,
        # Started in the background, a shell has the key ignored, and children inherit that.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),  # noqa: PLW1509
    )
    assert process.stdout is not None
    while "tail aft" not in process.stdout.readline():
        time.sleep(0.01)
    time.sleep(0.3)
    process.send_signal(signal.SIGINT)
    _, errors = process.communicate(timeout=20)
    assert process.returncode == 130
    assert "nothing was written" in errors
    assert "Traceback" not in errors
    assert list(tmp_path.iterdir()) == []


ANSWERS = """\
name = "Wren"
layout = "T-tail"

[ruler]
span = "700 mm"

[scale]
bare_mass = "82 g"

[labels]
motor = "2204 2300"
pack = "3S 450"

[targets]
mass_line = "250 g"
"""


def test_a_new_plane_can_be_asked_at_once(tmp_path: Path) -> None:
    """From a file of answers to a plane and its odds in two commands."""
    answers, folder = tmp_path / "answers.toml", tmp_path / "wren"
    answers.write_text(ANSWERS, encoding="utf-8")
    made = run("new", str(folder), "--answers", str(answers))
    assert made.exit_code == 0, made.stderr
    assert "not measured" in made.stdout
    found = told(run("ask", str(folder), "--json", *FEW))
    assert found["plane"] == "Wren"
    verdicts = {answer["question"]: answer["verdict"] for answer in found["answers"]}
    assert verdicts["weight"] in ("yes", "likely")
    assert verdicts["balance"] != "open"


def test_answers_that_cannot_be_taken_write_nothing(tmp_path: Path) -> None:
    """File, line, key and correction of both faults; no folder."""
    answers = tmp_path / "answers.toml"
    text = ANSWERS.replace("bare_mass", "bear_mass").replace('"700 mm"', '"700 millimetres"')
    answers.write_text(text, encoding="utf-8")
    lines = refusal(run("new", str(tmp_path / "wren"), "--answers", str(answers))).splitlines()
    assert len(lines) == 2
    assert all(line.startswith(f"{answers}, line ") for line in lines)
    assert any("scale.bare_mass" in line for line in lines)
    assert [path.name for path in tmp_path.iterdir()] == ["answers.toml"]


def test_an_existing_plane_is_not_overwritten(tmp_path: Path) -> None:
    """The refusal comes before the first question is asked."""
    file = tmp_path / "plane.toml"
    file.write_text("mine", encoding="utf-8")
    assert "exists already" in refusal(run("new", str(tmp_path)))
    assert file.read_text(encoding="utf-8") == "mine"


def test_the_interview_asks_again_and_takes_what_stands_in(tmp_path: Path) -> None:
    """A plank by number, a span with a slip, then Enter to the end: a plane that loads."""
    typed = "4\n\n60 mm\n600 mm\n" + "\n" * 60
    result = run("new", str(tmp_path / "wren"), typed=typed)
    assert result.exit_code == 0, result.stderr
    assert "600 mm" in result.stderr + result.stdout  # the slip's correction
    assert "Tail (or canard)" not in result.stdout
    plane = load(tmp_path / "wren").plane
    assert plane.layout == "plank"
    assert plane.name == "wren"


def test_an_interview_that_ends_early_writes_nothing(tmp_path: Path) -> None:
    """Piped answers that run out are a problem of the input: code 2, with the way out."""
    result = run("new", str(tmp_path / "wren"), typed="4\n\n600 mm\n")
    assert result.exit_code == 2
    assert "--answers" in result.stderr
    assert list(tmp_path.iterdir()) == []
