"""How a command ends: the only place that knows exit codes and words what went wrong."""

import os
import sys
import traceback
from collections.abc import Callable, Sequence
from typing import Any, NoReturn

import click

from foamwright.problems import Problem

ANSWERED = 0
"""Answered, whatever the verdict."""
FAULT = 1
"""Our own fault."""
PROBLEM = 2
"""Something in the input or the call that the user can mend."""
STOPPED = 130
"""Stopped by the user, as shells count it (128 + SIGINT)."""

TRACE = "FOAMWRIGHT_TRACE"
"""The environment variable that asks for the traceback of a fault."""


def tell(message: str) -> None:
    """Write one message to standard error; a terminal that is gone is no reason to complain."""
    try:
        click.echo(message, err=True)
    except OSError:
        silence()


def silence() -> None:
    """Point the standard streams nowhere, so that nothing is flushed into a closed pipe."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        try:
            os.dup2(nowhere, stream.fileno())
        except (OSError, ValueError):
            continue
    os.close(nowhere)


def mend(problem: Problem) -> int:
    """Say what the user can mend."""
    tell(str(problem))
    return PROBLEM


def misuse(error: click.ClickException) -> int:
    """Say in one line what is wrong with the call."""
    context = error.ctx if isinstance(error, click.UsageError) else None
    hint = f" See `{context.command_path} --help`." if context else ""
    message = error.format_message().rstrip()
    tell(message + ("" if message.endswith((".", "?", "!")) else ".") + hint)
    return PROBLEM


def stopped(abort: BaseException) -> int:
    """Tell a pressed Ctrl-C from answers that ran out."""
    if isinstance(abort.__context__, EOFError):
        tell("The input ended before the last question; write the answers to a file: --answers.")
        return PROBLEM
    tell("Stopped; nothing was written.")
    return STOPPED


def fault(error: Exception) -> int:
    """Own up in one sentence, and say what to send us."""
    if os.environ.get(TRACE) == "1":
        traceback.print_exception(error)
    words = " ".join(f"{type(error).__name__}: {error}".split()).rstrip(": ")
    tell(
        f"This is a fault in foamwright, not in your plane ({words}): please report it with the "
        f"plane folder and what {TRACE}=1 shows in front of the same command."
    )
    return FAULT


def gone(_: BaseException) -> int:
    """Take it quietly that the reader of our output has gone."""
    silence()
    return ANSWERED


ENDINGS: tuple[tuple[type[BaseException], Callable[[Any], int]], ...] = (
    (Problem, mend),
    (click.ClickException, misuse),
    (click.Abort, stopped),
    (KeyboardInterrupt, stopped),
    (BrokenPipeError, gone),
    (Exception, fault),
)
"""What may end a command, and how it is told; the first that fits."""


def ending(command: Callable[[], object]) -> int:
    """Run a command to its end and return its exit code."""
    try:
        code = command()
    except (Exception, KeyboardInterrupt) as error:  # noqa: BLE001 - the last resort is a sentence
        return next(told(error) for kind, told in ENDINGS if isinstance(error, kind))
    return code if isinstance(code, int) else ANSWERED


class Guarded(click.Group):
    """A command group that always ends in one of the codes above."""

    def invoke(self, ctx: click.Context) -> Any:  # noqa: ANN401 - click's own signature
        """Run the command; a reader that went away ends it quietly."""
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            silence()
            return ctx.exit(ANSWERED)

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,  # noqa: ARG002, FBT001, FBT002 - click's own signature
        windows_expand_args: bool = True,  # noqa: FBT001, FBT002
        **extra: Any,  # noqa: ANN401
    ) -> NoReturn:
        """Run the command line and end the program."""

        def command() -> object:
            return super(Guarded, self).main(
                args,
                prog_name,
                complete_var,
                standalone_mode=False,
                windows_expand_args=windows_expand_args,
                **extra,
            )

        sys.exit(ending(command))
