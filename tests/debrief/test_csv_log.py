"""Tables of many styles, one flight: every column recognised, in SI, or left out and said."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import numpy as np
import pytest

from foamwright.debrief.csv_log import read_table
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.judging import Expected
from foamwright.debrief.taking import kept_text, takes_of
from foamwright.problems import CallProblem, DataFileProblem

Values = np.ndarray
Truth = Mapping[str, Values]
Spec = tuple[str, Values, str]
Write = Callable[..., Path]
Table = Callable[..., str]

KNOT = 1852 / 3600
PLANE = Expected(
    cells=3, pack_charge=1300 * 3.6, pitch=0.1016, no_load=2300 / 60, most_voltage=12.6
)
CLOSE = {
    "latitude": 2e-8,
    "longitude": 2e-8,
    "height": 0.6,
    "ground_speed": 0.3,
    "course": 0.05,
    "climb_rate": 0.06,
    "airspeed": 0.06,
    "voltage": 0.06,
    "current": 0.06,
    "charge_used": 4.0,
    "throttle": 0.011,
    "rotation_speed": 0.6,
    "roll": 0.01,
    "pitch": 0.01,
    "heading": 0.01,
    "roll_rate": 0.01,
    "pitch_rate": 0.01,
    "yaw_rate": 0.01,
    "up_acceleration": 0.06,
    "satellites": 0.0,
}
"""How far a value read may be from the value flown: half of what the styles write [SI]."""


def read(path: Path, *takes: str, expected: Expected = PLANE) -> FlightLog:
    """Return a log read for the plane of these tests."""
    return read_table(path, takes, None, expected)


def degrees(values: Values) -> Values:
    """Return an angle in degrees."""
    return np.asarray(np.degrees(values))


def plain_style(truth: Truth) -> list[Spec]:
    """Return units after underscores."""
    return [
        ("time_s", truth["time"], ".2f"),
        ("lat_deg", degrees(truth["latitude"]), ".7f"),
        ("lon_deg", degrees(truth["longitude"]), ".7f"),
        ("alt_m", truth["height"], ".1f"),
        ("speed_kmh", truth["ground_speed"] * 3.6, ".1f"),
        ("climb_ms", truth["climb_rate"], ".1f"),
        ("volt_V", truth["voltage"], ".2f"),
        ("current_A", truth["current"], ".2f"),
        ("used_mAh", truth["charge_used"] / 3.6, ".0f"),
    ]


def bracket_style(truth: Truth) -> list[Spec]:
    """Return short names, units in round brackets."""
    return [
        ("Time (ms)", truth["time"] * 1000, ".0f"),
        ("Lat", degrees(truth["latitude"]), ".7f"),
        ("Lon", degrees(truth["longitude"]), ".7f"),
        ("Alt(m)", truth["height"], ".1f"),
        ("GSpd(kn)", truth["ground_speed"] / KNOT, ".1f"),
        ("Crs(deg)", degrees(truth["course"]), ".1f"),
        ("VSpd(m/s)", truth["climb_rate"], ".1f"),
        ("VBat(mV)", truth["voltage"] * 1e3, ".0f"),
        ("Curr(mA)", truth["current"] * 1e3, ".0f"),
        ("Sats", truth["satellites"], ".0f"),
        ("Thr(%)", truth["throttle"] * 100, ".0f"),
    ]


def square_style(truth: Truth) -> list[Spec]:
    """Return long names, units in square brackets, the clock in microseconds since 1970."""
    return [
        ("Timestamp [us]", 1.7e15 + truth["time"] * 1e6, ".0f"),
        ("Latitude [deg]", degrees(truth["latitude"]), ".7f"),
        ("Longitude [deg]", degrees(truth["longitude"]), ".7f"),
        ("Altitude [ft]", truth["height"] / 0.3048, ".0f"),
        ("Ground speed [mph]", truth["ground_speed"] / 0.44704, ".1f"),
        ("Airspeed [km/h]", truth["airspeed"] * 3.6, ".1f"),
        ("Battery voltage [V]", truth["voltage"], ".2f"),
        ("Battery current [A]", truth["current"], ".2f"),
        ("Motor speed [1/min]", truth["rotation_speed"] * 60, ".0f"),
    ]


def bare_style(truth: Truth) -> list[Spec]:
    """Return no unit at all: sizes and agreement have to tell."""
    return [
        ("t", truth["time"] * 1000, ".0f"),
        ("lat", degrees(truth["latitude"]) * 1e7, ".0f"),
        ("lng", degrees(truth["longitude"]) * 1e7, ".0f"),
        ("altitude", truth["height"], ".1f"),
        ("spd", truth["ground_speed"] / KNOT, ".1f"),
        ("cog", degrees(truth["course"]), ".0f"),
        ("vario", truth["climb_rate"], ".2f"),
        ("vbat", truth["voltage"], ".2f"),
        ("amps", truth["current"], ".2f"),
        ("mah", truth["charge_used"] / 3.6, ".0f"),
        ("rpm", truth["rotation_speed"] * 60, ".0f"),
        ("thr", 1000 + 1000 * truth["throttle"], ".0f"),
        ("nsat", truth["satellites"], ".0f"),
    ]


def body_style(truth: Truth) -> list[Spec]:
    """Return attitude and rates in degrees, accelerations in g, glued names."""
    return [
        ("TimeUS", truth["time"] * 1e6, ".0f"),
        ("roll", degrees(truth["roll"]), ".2f"),
        ("pitch", degrees(truth["pitch"]), ".2f"),
        ("yaw", degrees(truth["heading"]), ".2f"),
        ("gyroX", degrees(truth["roll_rate"]), ".2f"),
        ("gyroY", degrees(truth["pitch_rate"]), ".2f"),
        ("gyroZ", degrees(truth["yaw_rate"]), ".2f"),
        ("accZ", truth["up_acceleration"] / 9.80665, ".3f"),
        ("groundspeed", truth["ground_speed"], ".2f"),
        ("throttle", truth["throttle"], ".3f"),
    ]


def radian_style(truth: Truth) -> list[Spec]:
    """Return flight-mechanics letters, radians, north and east speeds."""
    return [
        ("t_s", truth["time"], ".3f"),
        ("phi_rad", truth["roll"], ".4f"),
        ("theta_rad", truth["pitch"], ".4f"),
        ("psi_rad", np.remainder(truth["heading"] + np.pi, 2 * np.pi) - np.pi, ".4f"),
        ("p_rad_s", truth["roll_rate"], ".4f"),
        ("q_rad_s", truth["pitch_rate"], ".4f"),
        ("r_rad_s", truth["yaw_rate"], ".4f"),
        ("v_north_m_s", truth["north_speed"], ".3f"),
        ("v_east_m_s", truth["east_speed"], ".3f"),
        ("v_down_m_s", -truth["climb_rate"], ".3f"),
        ("az_m_s2", -truth["up_acceleration"], ".3f"),
    ]


def shouted_style(truth: Truth) -> list[Spec]:
    """Return capitals, abbreviations, centimetres."""
    return [
        ("MILLIS", truth["time"] * 1000 + 5000, ".0f"),
        ("GPS_LAT", degrees(truth["latitude"]), ".7f"),
        ("GPS_LNG", degrees(truth["longitude"]), ".7f"),
        ("GPS_SPEED_CMS", truth["ground_speed"] * 100, ".0f"),
        ("GPS_COURSE", degrees(truth["course"]), ".0f"),
        ("BARO_ALT_CM", truth["height"] * 100, ".0f"),
        ("VBAT", truth["voltage"], ".2f"),
        ("IBAT", truth["current"], ".2f"),
    ]


def spoken_style(truth: Truth) -> list[Spec]:
    """Return names as said aloud, units after a comma."""
    return [
        ("elapsed time, s", truth["time"], ".2f"),
        ("GPS latitude", degrees(truth["latitude"]), ".7f"),
        ("GPS longitude", degrees(truth["longitude"]), ".7f"),
        ("height above ground, m", truth["height"], ".1f"),
        ("speed over ground, km/h", truth["ground_speed"] * 3.6, ".1f"),
        ("course over ground", degrees(truth["course"]), ".1f"),
        ("pack voltage, V", truth["voltage"], ".2f"),
        ("charge drawn, mAh", truth["charge_used"] / 3.6, ".0f"),
    ]


STYLES: Mapping[str, Callable[[Truth], list[Spec]]] = {
    "underscores": plain_style,
    "round brackets": bracket_style,
    "square brackets": square_style,
    "no units": bare_style,
    "attitude in degrees": body_style,
    "letters and radians": radian_style,
    "capitals": shouted_style,
    "spoken": spoken_style,
}
HELD: Mapping[str, str] = {
    "underscores": "latitude longitude height ground_speed climb_rate voltage current charge_used",
    "round brackets": "latitude longitude height ground_speed course climb_rate voltage current "
    "satellites throttle",
    "square brackets": "latitude longitude height ground_speed airspeed voltage current "
    "rotation_speed",
    "no units": "latitude longitude height ground_speed course climb_rate voltage current "
    "charge_used rotation_speed throttle satellites",
    "attitude in degrees": "roll pitch heading roll_rate pitch_rate yaw_rate up_acceleration "
    "throttle",
    "letters and radians": "roll pitch heading roll_rate pitch_rate yaw_rate ground_speed course "
    "climb_rate up_acceleration",
    "capitals": "latitude longitude ground_speed course height voltage current",
    "spoken": "latitude longitude height ground_speed course voltage charge_used",
}


def off(log: FlightLog, truth: Truth, name: str) -> float:
    """Return how far a channel is from what was flown, at worst, angles the short way round."""
    found = log.recording.channels[name]
    away = found - truth[name][-found.size :]
    if name in {"course", "heading", "roll", "longitude"}:
        away = np.remainder(away + np.pi, 2 * np.pi) - np.pi
    return float(np.nanpercentile(np.abs(away), 99))


@pytest.mark.parametrize("style", STYLES)
def test_every_column_of_a_style_is_recognised(
    style: str, truth: Truth, table: Table, write: Write
) -> None:
    """Channels and units are those that were written, to the digits that were written."""
    log = read(write(table(STYLES[style](truth))))
    lacking = set(HELD[style].split()) - set(log.recording.channels)
    assert lacking == set(), log.not_said
    wrong = {
        name: off(log, truth, name)
        for name in HELD[style].split()
        if off(log, truth, name) > CLOSE[name]
    }
    assert wrong == {}
    assert all(column.because for column in log.columns)


def test_a_semicolon_table_with_decimal_commas_in_two_byte_letters(
    truth: Truth, table: Table, write: Write
) -> None:
    """Encoding, delimiter and decimal sign are found out; the values stay the same."""
    text = table(bracket_style(truth), ";", comma=True)
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"):
        log = read(write(text, encoding=encoding))
        assert set(HELD["round brackets"].split()) <= set(log.recording.channels), encoding
        assert off(log, truth, "ground_speed") < CLOSE["ground_speed"]
        assert off(log, truth, "voltage") < CLOSE["voltage"]


def test_tabs_bars_and_blanks_part_columns_too(truth: Truth, table: Table, write: Write) -> None:
    """The delimiter is the sign that makes a table of numbers."""
    for delimiter in ("\t", "|", "   "):
        log = read(write(table(plain_style(truth), delimiter)))
        assert set(HELD["underscores"].split()) <= set(log.recording.channels), delimiter


def test_several_header_lines_comments_and_a_row_of_units(
    truth: Truth, table: Table, write: Write
) -> None:
    """A group row, a name row and a unit row are joined; lines of chat are passed over."""
    head, _, body = table(
        [
            ("x", truth["time"], ".2f"),
            ("x", degrees(truth["latitude"]), ".7f"),
            ("x", degrees(truth["longitude"]), ".7f"),
            ("x", truth["ground_speed"] * 3.6, ".1f"),
            ("x", truth["voltage"], ".2f"),
            ("x", truth["current"], ".2f"),
        ]
    ).partition("\n")
    assert head == "x,x,x,x,x,x"
    rows = body.splitlines()
    rows.insert(700, "# landed and took off again")
    start = [
        "# a logger of our own",
        "# flown on a Sunday",
        "",
        ",GPS,,,Battery,",
        "time,lat,lon,speed,voltage,current",
        "[s],[deg],[deg],[km/h],[V],[A]",
    ]
    log = read(write("\n".join([*start, *rows]) + "\n"))
    held = {"latitude", "longitude", "ground_speed", "voltage", "current"}
    assert held <= set(log.recording.channels)
    assert log.rows == truth["time"].size
    assert off(log, truth, "ground_speed") < CLOSE["ground_speed"]
    units = {column.taken_as: column.unit for column in log.columns}
    assert (units["ground_speed"], units["voltage"]) == ("km/h", "V")


def clock_text(seconds: Values, form: str) -> list[str]:
    """Return times of day from 23:59 on in some form."""
    texts = []
    for value in seconds + 23 * 3600 + 59 * 60:
        day, rest = divmod(float(round(value, 2)), 86400.0)
        hour, minute, second = int(rest // 3600), int(rest // 60 % 60), rest % 60
        half = "AM" if hour < 12 else "PM"
        texts.append(
            form.format(
                day=int(24 + day),
                h=hour,
                m=minute,
                s=second,
                half=half,
                h12=(hour - 1) % 12 + 1,
                whole=int(second),
            )
        )
    return texts


CLOCKS = {
    "hours": "{h:02d}:{m:02d}:{s:04.1f}",
    "ISO": "2026-05-{day}T{h:02d}:{m:02d}:{s:04.1f}Z",
    "date and time": "2026-05-{day} {h:02d}:{m:02d}:{s:04.1f}",
    "date apart": "2026-05-{day},{h:02d}:{m:02d}:{s:04.1f}",
    "half days": "{h12}:{m:02d}:{s:04.1f} {half}",
    "whole seconds": "{h:02d}:{m:02d}:{whole:02d}",
}


@pytest.mark.parametrize("form", CLOCKS)
def test_a_clock_in_any_form_runs_on_over_midnight(
    form: str, truth: Truth, table: Table, write: Write
) -> None:
    """A flight from 23:59 to 0:03 lasts four minutes, ten rows a second, without a gap."""
    head, *rows = table(plain_style(truth)).splitlines()
    name = "date,time" if form == "date apart" else "time"
    texts = clock_text(truth["time"], CLOCKS[form])
    rows = [f"{text},{row.partition(',')[2]}" for text, row in zip(texts, rows, strict=True)]
    text = "\n".join([f"{name},{head.partition(',')[2]}", *rows])
    log = read(write(text + "\n"))
    assert log.recording.time[-1] == pytest.approx(239.9, abs=1e-6)
    assert log.recording.step == pytest.approx(0.1, abs=1e-6)
    assert log.recording.gaps == ()
    assert off(log, truth, "ground_speed") < CLOSE["ground_speed"]


def test_positions_in_one_cell_are_taken_apart(truth: Truth, table: Table, write: Write) -> None:
    """A cell like `47.123 8.456` is a latitude and a longitude."""
    head, *rows = table(plain_style(truth)).splitlines()
    rows = [row.replace(",", "|", 1).replace(",", " ", 1).replace("|", ",") for row in rows]
    text = "\n".join([head.replace("lat_deg,lon_deg", "GPS"), *rows]) + "\n"
    log = read(write(text))
    assert off(log, truth, "latitude") < CLOSE["latitude"]
    assert off(log, truth, "longitude") < CLOSE["longitude"]


def test_units_in_the_cells_are_read(truth: Truth, table: Table, write: Write) -> None:
    """`12.3 V` and `48 km/h` carry their unit in every row."""
    head, *rows = table(
        [
            ("time_s", truth["time"], ".2f"),
            ("speed", truth["ground_speed"] * 3.6, ".1f"),
            ("battery voltage", truth["voltage"], ".2f"),
        ]
    ).splitlines()
    rows = ["{} s,{} km/h,{} V".format(*row.split(",")) for row in rows]
    log = read(write("\n".join([head.replace("_s", ""), *rows]) + "\n"))
    assert off(log, truth, "ground_speed") < 0.02
    assert off(log, truth, "voltage") < 0.006


def test_knots_are_found_out_by_the_positions(truth: Truth, table: Table, write: Write) -> None:
    """A column `spd` 1.94 times the speed of the positions is in knots, and why is told."""
    log = read(write(table(bare_style(truth))))
    spd = next(column for column in log.columns if column.column == "spd")
    assert (spd.taken_as, spd.unit) == ("ground_speed", "kn")
    assert spd.scale == pytest.approx(KNOT)
    assert spd.sure > 0.9
    assert "where the positions move 1 m/s" in spd.because
    assert "1.94" in spd.because


def test_a_speed_without_unit_or_positions_is_left_out(
    truth: Truth, table: Table, write: Write
) -> None:
    """Nothing tells metres a second from knots, so it is not taken, and how to take it is told."""
    style = [
        ("time_s", truth["time"], ".2f"),
        ("speed", truth["ground_speed"] * 3.6, ".1f"),
        ("volt_V", truth["voltage"], ".2f"),
    ]
    path = write(table(style))
    log = read(path)
    assert "ground_speed" not in log.recording.channels
    assert any("'speed' is left out" in line and "--take" in line for line in log.not_said)
    taken = read(path, "speed = ground_speed in km/h")
    assert off(taken, truth, "ground_speed") < 0.02
    column = next(column for column in taken.columns if column.column == "speed")
    assert (column.sure, column.because) == (1.0, "you said so")


def test_a_header_that_contradicts_the_positions_is_not_believed(
    truth: Truth, table: Table, write: Write
) -> None:
    """`km/h` over values that are metres a second is left out, both sides told."""
    style = plain_style(truth)
    style[4] = ("speed_kmh", truth["ground_speed"], ".1f")
    log = read(write(table(style)))
    assert any("header says km/h" in line and "m/s" in line for line in log.not_said)
    column = next(column for column in log.columns if column.column == "speed_kmh")
    assert column.taken_as == ""
    assert column.sure < 0.5


def test_a_silent_column_is_no_measurement(truth: Truth, table: Table, write: Write) -> None:
    """A current of zero all the time is left out, and said."""
    style = plain_style(truth)
    style[7] = ("current_A", np.zeros(truth["time"].size), ".1f")
    log = read(write(table(style)))
    assert "current" not in log.recording.channels
    assert any("'current_A'" in line and "no measurement" in line for line in log.not_said)


def test_gaps_stay_gaps(truth: Truth, table: Table, write: Write) -> None:
    """22 % of the rows missing in bursts up to 2.4 s: coverage 78 %, nothing put in between."""
    random = np.random.default_rng(3)
    keep = np.ones(truth["time"].size, dtype=bool)
    while keep.mean() > 0.78:
        start = int(random.integers(5, keep.size - 30))
        keep[start : start + int(random.integers(2, 24))] = False
    head, *rows = table(plain_style(truth)).splitlines()
    text = "\n".join([head, *(row for row, kept in zip(rows, keep, strict=True) if kept)])
    log = read(write(text + "\n"))
    assert log.recording.coverage == pytest.approx(keep.mean(), abs=0.005)
    assert log.recording.time.size == np.count_nonzero(keep)
    assert max(gap.end - gap.start for gap in log.recording.gaps) > 1.0


def test_a_fast_log_is_thinned_and_its_rates_kept(
    flown: Callable[..., Truth], table: Table, write: Write
) -> None:
    """500 rows a second become 25; the rates stay as fast as they are."""
    fast = flown(500.0, 30.0)
    log = read(write(table(body_style(fast))))
    assert log.rows == 15000
    assert log.recording.step == pytest.approx(0.04)
    assert log.recording.time.size == pytest.approx(750, abs=2)
    assert log.fast is not None
    assert log.fast.time.size == 15000
    assert np.nanmax(np.abs(log.fast.channels["roll_rate"] - fast["roll_rate"])) < 0.02


BROKEN = {
    "empty": ("", "is empty"),
    "blank": ("\n \n\n", "is empty"),
    "one header": ("time,alt\n", "no row of numbers|no table|no row of data"),
    "one row": ("time_s,volt_V\n1,12\n", "no flight"),
    "words": ("the quick brown fox\njumps over\nthe lazy dog\n", "no table"),
    "no clock": ("alt_m,volt_V\n1,12\n2,11\n3,12\n", "no column that is a clock"),
    "unknown names": ("aaa,bbb\n1,2\n2,3\n3,4\n", "no column whose name is known"),
    "still clock": ("time_s,volt_V\n5,12\n5,11\n5,10\n", "unsure clock|no flight"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_what_is_no_flight_is_one_clear_problem(name: str, write: Write) -> None:
    """One finding, with the file, and what would be right."""
    text, what = BROKEN[name]
    with pytest.raises(DataFileProblem, match=what) as caught:
        read(write(text))
    assert len(caught.value.findings) == 1
    assert caught.value.findings[0].file is not None


def test_binary_data_are_refused(tmp_path: Path) -> None:
    """Bytes that are no text are told as such."""
    path = tmp_path / "log.bin"
    path.write_bytes(bytes(range(256)) * 40)
    with pytest.raises(DataFileProblem, match="binary"):
        read(path)


def test_a_log_cut_off_in_its_last_row_loses_that_row_only(
    truth: Truth, table: Table, write: Write
) -> None:
    """Half a number is no number."""
    text = table(plain_style(truth)).rstrip("\n")
    log = read(write(text[: text.rindex(",")]))
    assert log.rows == truth["time"].size - 1
    assert any("broke off" in line for line in log.not_said)


def test_what_the_user_says_has_to_fit(truth: Truth, table: Table, write: Write) -> None:
    """A column, a channel and a unit that do not exist are told with the nearest ones."""
    path = write(table(plain_style(truth)))
    for text, what in (
        ("speed = ground_speed in kn", "no column 'speed'.*speed_kmh"),
        ("speed_kmh = groundspeed in kn", "nothing is called 'groundspeed'.*ground_speed"),
        ("speed_kmh = ground_speed in parsec", "no unit of a speed.*km/h"),
        ("speed_kmh", "says nothing"),
    ):
        with pytest.raises(CallProblem, match=what):
            read(path, text)


def specs_named(style: Sequence[Spec]) -> tuple[str, ...]:
    """Return the headers of a style."""
    return tuple(name for name, _, _ in style)


def test_confirmed_columns_are_remembered(
    truth: Truth, table: Table, write: Write, tmp_path: Path
) -> None:
    """A file of the plane says the same next time; another header is not touched by it."""
    style = [
        ("time_s", truth["time"], ".2f"),
        ("speed", truth["ground_speed"] * 3.6, ".1f"),
        ("volt_V", truth["voltage"], ".2f"),
    ]

    names = specs_named(style)
    kept = tmp_path / "columns.toml"
    kept.write_text(kept_text("", names, takes_of(("speed=ground_speed in km/h",), names)))
    path = write(table(style))
    log = read_table(path, (), kept, PLANE)
    assert off(log, truth, "ground_speed") < 0.02
    assert any(column.because == "confirmed before" for column in log.columns)


def test_a_pulse_beside_the_clock_is_no_clock(write: Write) -> None:
    """Of a column in microseconds only the unit is known: it is named, and can be told."""
    rows = "\n".join(f"{0.1 * k:.1f},{11.0 - 0.001 * k:.3f},{1000 + k}" for k in range(200))
    path = write(f"time_s,volts (V),CH3 (us)\n{rows}\n")
    told = next(line for line in read(path).not_said if "no word of their names" in line)
    assert "'CH3 (us)'" in told
    assert "time_s" not in told
    taken = read(path, "CH3 (us)=throttle in us")
    assert taken.recording.channel("throttle")[-1] == pytest.approx(0.199, abs=0.002)


def test_columns_that_nobody_knows_are_named_not_dropped_in_silence(write: Write) -> None:
    """Their numbers may be what is missing; the words to tell them stand beside."""
    rows = "\n".join(f"{0.1 * k:.1f},{11.0 - 0.001 * k:.3f},{k % 7},{k % 5}" for k in range(200))
    log = read(write(f"time_s,Spannung (V),xyzzy,Kram\n{rows}\n"), "Spannung (V)=voltage in V")
    told = next(line for line in log.not_said if "no word of their names" in line)
    assert "'xyzzy', 'Kram'" in told
    assert "Spannung" not in told
    assert "--take" in told
