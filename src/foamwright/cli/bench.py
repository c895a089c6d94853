"""The commands that note what was weighed and measured: weigh, bench."""

import datetime as dt
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from foamwright.cli.ask import PLANE, SETTINGS, print_json
from foamwright.jobs.bench_tests import KEYS, TESTS
from foamwright.problems import CallProblem

if TYPE_CHECKING:
    from foamwright.jobs.bench import Noted

TEXTS = (
    ("thrust", "Pull of the propeller, as grams or newtons."),
    ("current", "Amps from the pack."),
    ("volts", "Volts under that load."),
    ("rpm", "Speed of the propeller, with its unit."),
    ("throttle", "Of the stick; full where it is not given."),
    ("axis", "roll, pitch or yaw: the one that stood upright."),
    ("distance", "Between the strings."),
    ("length", "Of either string."),
    ("time", "Of all swings; how long the motor ran; of a servo's sweep."),
    ("mass", "Of what swung."),
    ("speed", "Of the throw; or flown most of the time."),
    ("angle", "Of the throw; or of the servo's sweep."),
    ("at", "x of the fingertips; or from the root to the load."),
    ("front", "What the front scale shows."),
    ("front-at", "x of the front support."),
    ("rear", "What the rear scale shows."),
    ("rear-at", "x of the rear support."),
    ("pack-at", "Where the pack's middle was, if not where planned."),
    ("surface", "Which surface was loaded."),
    ("load", "What hung on it."),
    ("arm", "From the line it twists about to the load."),
    ("twist", "How far it twisted."),
    ("flight", "Which flight was charged for."),
)
"""Options of the tests."""


def noting(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options every note has."""
    options = (
        click.option("--note", "words", metavar="TEXT", help="Anything worth keeping."),
        click.option(
            "--date",
            "day",
            type=click.DateTime(formats=["%Y-%m-%d"]),
            help="The day, as 2026-05-01; today where it is not given.",
        ),
        click.option("--dry", is_flag=True, help="Show what it says; write nothing."),
        *SETTINGS[1:],
    )
    for option in reversed(options):
        command = option(command)
    return command


def testing(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options of all tests."""
    command = click.option("--swings", type=int, help="Full ones: there and back again.")(command)
    for name, words in reversed(TEXTS):
        command = click.option(f"--{name}", help=words)(command)
    return command


@click.command(short_help="Note what the scale showed: it replaces the plan at once.")
@PLANE
@click.argument("item")
@click.argument("mass")
@click.option("--pieces", type=int, default=1, show_default=True, help="How many lay on it.")
@noting
def weigh(plane: Path, item: str, mass: str, pieces: int, **options: Any) -> None:  # noqa: ANN401
    """Note in bench.toml what the scale showed.

    ITEM is the name of an item in the plane file, "bare foam", or "all" for the plane ready to
    fly. MASS is what the scale shows, with a spread if you like: "9.7 g", "41 ± 1 g". Every later
    answer takes it instead of the plan.
    """
    from foamwright.jobs.bench import record_of

    told = {"item": item, "mass": mass, "pieces": None if pieces == 1 else pieces}
    words = {"item": "ITEM", "mass": "MASS", "pieces": "--pieces"}
    show(plane, lambda day, note: record_of("weighings", {**told, **day, **note}, words), options)


@click.command(short_help="Note a bench test, or ask how all of them fit the plan.")
@PLANE
@click.argument("test", required=False)
@click.argument("value", required=False)
@testing
@noting
def bench(plane: Path, test: str | None, value: str | None, **options: Any) -> None:  # noqa: ANN401
    """Note a bench test in bench.toml and hold it against the plan.

    \b
        bench PLANE thrust --thrust "285 g" --current "11.2 A" --volts "11.7 V"
        bench PLANE swing --axis roll --distance "300 mm" --length "1.2 m"
                          --time "28.3 s" --swings 20
        bench PLANE throw --speed "8 m/s" --angle "10 deg"
        bench PLANE balance --at "251 mm"
        bench PLANE hang --surface wing --load "200 g" --arm "40 mm" --at "350 mm"
                         --twist "2 deg"
        bench PLANE charge "508 mAh" --time "6 min" --speed "14 m/s"
        bench PLANE servo "aileron servos" --angle "60 deg" --time "0.11 s"
        bench PLANE rebuild

    Without a test, all notes are held against the plan. `rebuild` learns from all notes and
    flights anew and says what each of them taught.

    Full throttle: plane held down, propeller clear of hands and faces, ten seconds at most.
    """  # noqa: D301 - click reads the backspace
    if test is None or test == "rebuild":
        given = [f"--{key.replace('_', '-')}" for key in test_options() if options.get(key)]
        if value is not None or given:
            raise CallProblem("a value without its test", expected=f"one of {', '.join(TESTS)}")
        (anew if test else asked)(plane, options)
        return
    if test not in TESTS:
        raise CallProblem(f"no test '{test}'", expected=f"one of {', '.join(TESTS)}, rebuild")
    kind, words, told = told_of(test, value, options)
    from foamwright.jobs.bench import record_of

    show(plane, lambda day, note: record_of(kind, {**told, **day, **note}, words), options)


def test_options() -> tuple[str, ...]:
    """Return the options of all tests as click names them."""
    return (*(name.replace("-", "_") for name, _ in TEXTS), "swings")


def told_of(
    test: str, value: str | None, options: Mapping[str, Any]
) -> tuple[str, dict[str, str], dict[str, object]]:
    """Return the list a test is noted in, its options by key, and what was told."""
    kind, own, takes = TESTS[test]
    if value is not None and own is None:
        raise CallProblem(f"'{value}' has no option", expected=f"for instance --{takes[0]}")
    words = {KEYS.get(name, name): f"--{name.replace('_', '-')}" for name in takes}
    told: dict[str, object] = {
        KEYS.get(name, name): options[name] for name in test_options() if options.get(name)
    }
    if own is not None and (value is not None or own not in told):
        words[own] = "VALUE" if own not in test_options() else f"--{own}"
        told[own] = value
    elif own is not None:
        words[own] = f"--{own}"
    for key in told:
        if key not in words:
            known = ", ".join(words.values())
            name = next((n for n, k in KEYS.items() if k == key), key).replace("_", "-")
            raise CallProblem(f"--{name} says nothing of the test '{test}'", expected=known)
    return kind, words, told


def show(
    plane: Path,
    recorded: Callable[[dict[str, Any], dict[str, Any]], Any],
    options: Mapping[str, Any],
) -> None:
    """Note a record and print what it says."""
    from foamwright.cli import notes, screen
    from foamwright.jobs import bench as job
    from foamwright.plane.bench import today

    day = options["day"].date() if isinstance(options["day"], dt.datetime) else today()
    record = recorded({"date": day}, {"note": options["words"]})
    with screen.waiting("holding it against the plan"):
        noted: Noted = job.note(plane, record, settings_of(options), dry=options["dry"])
    if options["as_json"]:
        print_json(job.as_json(noted))
        return
    page = screen.Screen.of_terminal(noted.units, noted.currency)
    odds = screen.Odds(samples=options["samples"], seed=options["seed"])
    page.write(notes.noted_page(page, noted, odds))


def settings_of(options: Mapping[str, Any]) -> Any:  # noqa: ANN401 - imported when it is needed
    """Return the settings of a call."""
    from foamwright.jobs.ask import Settings

    return Settings(samples=options["samples"], seed=options["seed"], units=options["units"])


def asked(plane: Path, options: Mapping[str, Any]) -> None:
    """Hold all notes against the plan."""
    from foamwright.cli import screen
    from foamwright.jobs import ask as job

    settings = settings_of(options)
    with screen.waiting("holding all notes against the plan"):
        found = job.ask(plane, ("bench",), settings)
    if options["as_json"]:
        print_json(job.as_json(found))
        return
    page = screen.Screen.of_terminal(found.units, found.currency)
    heading = screen.Heading(plane=found.plane, variant=None, seconds=found.seconds)
    odds = screen.Odds(samples=found.samples, seed=found.seed)
    page.write(page.answers(found.answers, heading, odds, opened=True))


def anew(plane: Path, options: Mapping[str, Any]) -> None:
    """Learn from everything anew and say what each test and flight taught."""
    from foamwright.cli import notes, screen
    from foamwright.jobs import bench as job

    with screen.waiting("learning from all notes and flights"):
        rebuilt = job.rebuild(plane, settings_of(options))
    if options["as_json"]:
        print_json(job.rebuilt_json(rebuilt))
        return
    page = screen.Screen.of_terminal(rebuilt.units, rebuilt.currency)
    page.write(notes.rebuilt_page(page, rebuilt))
