"""How commands end."""

from collections.abc import Callable

import click
import pytest

from foamwright.cli import exits
from foamwright.problems import CallProblem, Finding, PlaneFileProblem


def raising(error: BaseException) -> Callable[[], object]:
    """Return a command that raises."""

    def command() -> object:
        raise error

    return command


def test_a_problem_is_told_in_its_own_words(capsys: pytest.CaptureFixture[str]) -> None:
    """The user's problem is one message on standard error, nothing on standard output."""
    code = exits.ending(raising(CallProblem("no such thing", expected="name another")))
    told = capsys.readouterr()
    assert code == 2
    assert told.err == "no such thing; name another\n"
    assert told.out == ""


def test_all_findings_are_told_at_once() -> None:
    """A file with two faults is mended in one go."""
    problem = PlaneFileProblem((Finding(what="one"), Finding(what="two", key="b")))
    assert str(problem).splitlines() == ["one", "b: two"]
    assert exits.ending(raising(problem)) == exits.PROBLEM


def test_our_own_fault_is_owned_without_a_traceback(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """One sentence that says whose fault it is, what it was and how to report it."""
    monkeypatch.delenv(exits.TRACE, raising=False)
    assert exits.ending(raising(ZeroDivisionError("by nothing"))) == 1
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "ZeroDivisionError: by nothing" in told
    assert "report" in told
    assert "Traceback" not in told


def test_the_traceback_comes_when_asked_for(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """FOAMWRIGHT_TRACE=1 shows where it happened."""
    monkeypatch.setenv(exits.TRACE, "1")
    assert exits.ending(raising(KeyError("x"))) == 1
    assert "Traceback" in capsys.readouterr().err


@pytest.mark.parametrize("error", [KeyboardInterrupt(), click.Abort()])
def test_a_pressed_key_stops_it_cleanly(
    error: BaseException, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ctrl-C is 130, as shells count it, and says that nothing was written."""
    assert exits.ending(raising(error)) == 130
    assert capsys.readouterr().err == "Stopped; nothing was written.\n"


def test_answers_that_run_out_are_a_problem(capsys: pytest.CaptureFixture[str]) -> None:
    """The end of piped answers is no pressed key: it is 2, with what to do instead."""

    def next_line() -> str:
        raise EOFError

    def command() -> object:
        try:
            return next_line()
        except EOFError:
            raise click.Abort from None

    assert exits.ending(command) == 2
    assert "--answers" in capsys.readouterr().err


def test_a_reader_that_went_away_is_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """`| head` ends the command quietly."""
    silenced: list[bool] = []
    monkeypatch.setattr(exits, "silence", lambda: silenced.append(True))
    assert exits.ending(raising(BrokenPipeError())) == 0
    assert silenced == [True]


def test_a_wrong_call_is_one_line_with_the_way_to_help(capsys: pytest.CaptureFixture[str]) -> None:
    """A misspelt option is told with where the right ones are listed."""

    @click.command("saw")
    def saw() -> None:
        """Do nothing."""

    error = click.NoSuchOption("--tooth", ctx=click.Context(saw, info_name="saw"))
    assert exits.ending(raising(error)) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "--tooth" in told
    assert told.rstrip().endswith("See `saw --help`.")


def test_a_command_that_ends_well_is_answered() -> None:
    """Nothing returned means answered; a code that was returned is kept."""
    assert exits.ending(lambda: None) == 0
    assert exits.ending(lambda: 2) == 2
