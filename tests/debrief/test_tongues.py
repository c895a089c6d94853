"""Headers in other tongues, by plain words of the dictionary."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.debrief.conftest import Write

from foamwright.debrief.csv_log import read_table
from foamwright.debrief.judging import Expected
from foamwright.debrief.naming import meanings_of
from foamwright.debrief.tongues import (
    ACCENTED,
    DICTIONARY,
    FOREIGN,
    folded,
    plain_letters,
    spellings,
)
from foamwright.debrief.words import MEANING, SHORT, TOGETHER, parted, pieces_of, words_of

HEADERS = {
    "German": (
        ("Zeit (s)", "time", "s"),
        ("Geschwindigkeit [km/h]", "ground_speed", "km/h"),
        ("Geschwindigkeit über Grund (km/h)", "ground_speed", "km/h"),
        ("Höhe (m)", "height", "m"),
        ("Flughoehe [Meter]", "height", "m"),
        ("Breitengrad", "latitude", ""),
        ("Längengrad", "longitude", ""),
        ("Kurs (Grad)", "course", "deg"),
        ("Rollwinkel (°)", "roll", "deg"),
        ("Nickrate (°/s)", "pitch_rate", "deg/s"),
        ("Steiggeschwindigkeit (m/s)", "climb_rate", "m/s"),
        ("Spannung (V)", "voltage", "V"),
        ("Akkuspannung", "voltage", ""),
        ("Zellenspannung (V)", "cell_voltage", "V"),
        ("Strom (A)", "current", "A"),
        ("verbrauchte Kapazität (mAh)", "charge_used", "mAh"),
        ("Leistung [W]", "power", "W"),
        ("Drehzahl (U/min)", "rotation_speed", "rpm"),
        ("Höhenruder (%)", "elevator", "%"),
        ("Querruder", "aileron", ""),
    ),
    "French": (
        ("temps (secondes)", "time", "s"),
        ("vitesse (km/h)", "ground_speed", "km/h"),
        ("vitesse sol", "ground_speed", ""),
        ("vitesse d'air (m/s)", "airspeed", "m/s"),
        ("vitesse verticale (m/s)", "climb_rate", "m/s"),
        ("altitude", "height", ""),
        ("hauteur (mètres)", "height", "m"),
        ("latitude", "latitude", ""),
        ("cap (°)", "heading", "deg"),
        ("roulis (degrés)", "roll", "deg"),
        ("tension (V)", "voltage", "V"),
        ("courant (A)", "current", "A"),
        ("intensité", "current", ""),
        ("mAh consommés", "charge_used", "mAh"),
        ("capacité consommée (mAh)", "charge_used", "mAh"),
        ("régime (tr/min)", "rotation_speed", "rpm"),
        ("température (°C)", "temperature", "degC"),
    ),
    "Spanish": (
        ("tiempo (segundos)", "time", "s"),
        ("velocidad (km/h)", "ground_speed", "km/h"),
        ("velocidad del aire", "airspeed", ""),
        ("velocidad vertical (m/s)", "climb_rate", "m/s"),
        ("altura (m)", "height", "m"),
        ("altitud", "height", ""),
        ("latitud", "latitude", ""),
        ("longitud", "longitude", ""),
        ("rumbo (grados)", "course", "deg"),
        ("alabeo", "roll", ""),
        ("tensión (V)", "voltage", "V"),
        ("voltaje", "voltage", ""),
        ("corriente (A)", "current", "A"),
        ("capacidad consumida (mAh)", "charge_used", "mAh"),
        ("temperatura (ºC)", "temperature", "degC"),
        ("satélites", "satellites", ""),
    ),
    "Italian": (
        ("tempo (s)", "time", "s"),
        ("velocità (km/h)", "ground_speed", "km/h"),
        ("velocità aria (m/s)", "airspeed", "m/s"),
        ("velocità verticale", "climb_rate", ""),
        ("quota (m)", "height", "m"),
        ("altezza", "height", ""),
        ("latitudine", "latitude", ""),
        ("longitudine", "longitude", ""),
        ("rotta (gradi)", "course", "deg"),
        ("rollio", "roll", ""),
        ("beccheggio", "pitch", ""),
        ("tensione (V)", "voltage", "V"),
        ("corrente (A)", "current", "A"),
        ("potenza (W)", "power", "W"),
        ("giri (giri/min)", "rotation_speed", "rpm"),
    ),
    "Portuguese": (
        ("tempo", "time", ""),
        ("velocidade (km/h)", "ground_speed", "km/h"),
        ("altura (metros)", "height", "m"),
        ("tensão (V)", "voltage", "V"),
        ("corrente (A)", "current", "A"),
        ("potência (W)", "power", "W"),
        ("guinada (graus)", "heading", "deg"),
        ("aceleração x (m/s²)", "forward_acceleration", "m/s2"),
    ),
    "Dutch": (
        ("tijd (s)", "time", "s"),
        ("snelheid (km/u)", "ground_speed", "km/h"),
        ("hoogte (m)", "height", "m"),
        ("breedtegraad", "latitude", ""),
        ("koers", "course", ""),
        ("spanning (V)", "voltage", "V"),
        ("accuspanning", "voltage", ""),
        ("stroom (A)", "current", "A"),
        ("toerental (omw/min)", "rotation_speed", "rpm"),
    ),
    "Polish": (
        ("czas (s)", "time", "s"),
        ("prędkość (km/h)", "ground_speed", "km/h"),
        ("predkosc [km/h]", "ground_speed", "km/h"),
        ("wysokość (m)", "height", "m"),
        ("szerokość geograficzna", "latitude", ""),
        ("długość geograficzna", "longitude", ""),
        ("napięcie (V)", "voltage", "V"),
        ("prąd (A)", "current", "A"),
        ("przechylenie (stopnie)", "roll", "deg"),
    ),
    "Czech": (
        ("čas (s)", "time", "s"),
        ("Čas", "time", ""),
        ("rychlost (km/h)", "ground_speed", "km/h"),
        ("výška (m)", "height", "m"),
        ("zeměpisná šířka", "latitude", ""),
        ("napětí (V)", "voltage", "V"),
        ("proud (A)", "current", "A"),
        ("otáčky (ot/min)", "rotation_speed", "rpm"),
        ("teplota (°C)", "temperature", "degC"),
    ),
}
"""Plain words as the dictionary of each tongue has them, from memory; no device's header."""

NO_MEASUREMENT = (
    "Windgeschwindigkeit (m/s)",
    "maximale Höhe (m)",
    "velocità del vento",
    "Restkapazität (mAh)",
    "Empfängerspannung (V)",
    "tension du récepteur",
    "Entfernung (m)",
    "distancia",
    "Bemerkung",
)
"""Not the plane's own, or no word of it known."""


@pytest.mark.parametrize(
    ("name", "taken_as", "unit"), [row for rows in HEADERS.values() for row in rows]
)
def test_a_name_in_another_tongue_is_known(name: str, taken_as: str, unit: str) -> None:
    """The likeliest meaning comes first, with its unit; sure enough to be believed."""
    first = meanings_of(name)[0]
    assert (first.taken_as, first.unit) == (taken_as, unit)
    assert first.strength >= 0.75


@pytest.mark.parametrize("name", [row[0] for rows in HEADERS.values() for row in rows])
def test_accents_and_capitals_do_not_matter(name: str) -> None:
    """Written small, large or without accents; only `cas` is an airspeed then."""
    wanted = meanings_of(name)[0].taken_as
    for other in (name.lower(), folded(name)):
        if "cas" not in pieces_of(other):
            assert meanings_of(other)[0].taken_as == wanted


@pytest.mark.parametrize("name", NO_MEASUREMENT)
def test_what_is_not_the_planes_own_stays_nothing(name: str) -> None:
    """Wind, maxima, what is left, the receiver, the way home: as in English."""
    assert meanings_of(name) == ()


def test_no_foreign_word_changes_an_english_one() -> None:
    """Every abbreviation known before means what it meant; an airspeed may be called CAS."""
    for word, shorts in SHORT.items():
        for short in shorts:
            assert MEANING[short] == (word,)
            assert short not in FOREIGN or FOREIGN[short] == word, short
    for short, words in TOGETHER.items():
        assert MEANING[short] == words
    assert words_of(pieces_of("CAS (kn)")) >= {"air", "speed"}


def test_every_english_word_of_the_dictionary_is_used() -> None:
    """Each means something to a rule, or bars one, and no word of a tongue means two things."""
    meant: dict[str, set[str]] = {}
    for english, words in DICTIONARY.items():
        for word in words.split():
            for spelled in spellings(word):
                meant.setdefault(spelled, set()).add(english)
    assert {word: found for word, found in meant.items() if len(found) > 1} == {}
    assert set(FOREIGN) == set(meant)


@pytest.mark.parametrize("word", ["groundspeed", "temporary", "portrait", "climbrate", "banana"])
def test_english_words_are_not_taken_apart_by_other_tongues(word: str) -> None:
    """Only a run wholly made of known words is, and the short foreign ones are no part."""
    assert not [part for part in parted(word) if part in FOREIGN]


@pytest.mark.parametrize(
    ("text", "plain"),
    [("Höhe", "Hohe"), ("Łódź", "Lodz"), ("größe", "grosse"), ("µs", "µs"), ("m/s²", "m/s²")],
)
def test_accents_are_folded_and_signs_of_units_stay(text: str, plain: str) -> None:
    """As Unicode takes them apart; the few letters that are none with an accent by hand."""
    assert folded(text) == plain


def test_german_is_read_without_umlauts_as_well() -> None:
    """`Höhe` as Hoehe and as Hohe."""
    assert spellings("höhe") == ("hohe", "hoehe")
    assert spellings("strom") == ("strom",)


def test_elided_letters_are_no_words() -> None:
    """The d of `vitesse d'air` is no way down."""
    assert "down" not in words_of(pieces_of("vitesse d'air"))
    assert plain_letters("l’altitude") == "altitude"


def test_letters_that_come_in_two_signs_are_one() -> None:
    """Some systems write an accent as a sign of its own."""
    assert meanings_of("Ho\u0308he (m)")[0].taken_as == "height"
    assert meanings_of("C\u030cas")[0].taken_as == "time"


@given(st.text(max_size=40))
def test_any_text_is_a_name(text: str) -> None:
    """Nothing written into a header ends the reading."""
    plain_letters(text)
    for meaning in meanings_of(text):
        assert 0.0 < meaning.strength <= 1.0


def test_accented_words_are_told_apart_first() -> None:
    """Every one of them by its own letters."""
    assert all(folded(word) != word for word in ACCENTED)
    assert plain_letters("čas") == " time "


ROWS = 600

FOREIGN_LOGS = {
    "de": ("Zeit (s)", "Breite", "Länge", "Höhe (m)", "Geschwindigkeit [km/h]", "Spannung (V)"),
    "fr": ("temps (s)", "latitude", "longitude", "altitude (m)", "vitesse (km/h)", "tension (V)"),
    "es": ("tiempo (s)", "latitud", "longitud", "altura (m)", "velocidad (km/h)", "tensión (V)"),
    "it": ("tempo (s)", "latitudine", "longitudine", "quota (m)", "velocità (km/h)", "tensione"),
    "nl": ("tijd (s)", "breedtegraad", "lengtegraad", "hoogte (m)", "snelheid (km/u)", "spanning"),
    "pl": ("czas (s)", "szerokość", "długość", "wysokość (m)", "prędkość (km/h)", "napięcie (V)"),
    "cs": ("čas (s)", "šířka", "délka", "výška (m)", "rychlost (km/h)", "napětí (V)"),
}


@pytest.mark.parametrize(
    ("tongue", "encoding"),
    [*((tongue, "utf-8") for tongue in FOREIGN_LOGS), ("de", "cp1252"), ("fr", "utf-8-sig")],
)
def test_a_log_with_decimal_commas_is_read(tongue: str, encoding: str, write: Write) -> None:
    """Semicolons between cells, commas in numbers, as spreadsheets of those countries write."""
    names = FOREIGN_LOGS[tongue]
    time = np.arange(ROWS) * 0.2
    way = 14.0 * time
    table = np.column_stack(
        [
            time,
            47.0 + np.degrees(30.0 * np.sin(way / 30.0) / 6.371e6),
            8.0 + np.degrees(30.0 * np.cos(way / 30.0) / 6.371e6) / np.cos(np.radians(47.0)),
            60.0 + 5.0 * np.sin(time / 20.0),
            np.full(ROWS, 14.0 * 3.6) + np.sin(time),
            12.1 - time / 200.0,
        ]
    )
    places = ("1f", "8f", "8f", "2f", "2f", "3f")
    rows = [
        ";".join(f"{value:.{form}}" for value, form in zip(row, places, strict=True))
        for row in table
    ]
    commas = "\n".join(rows).replace(".", ",")
    path = write(f"{';'.join(names)}\n{commas}\n", encoding=encoding)
    log = read_table(path, (), None, Expected(cells=3))
    channels = log.recording.channels
    assert {"latitude", "longitude", "height", "ground_speed", "voltage"} <= set(channels)
    assert log.not_said == ()
    assert np.nanmean(channels["ground_speed"]) == pytest.approx(14.0, rel=0.02)
    assert np.nanmean(channels["height"]) == pytest.approx(table[:, 3].mean(), abs=0.1)
    assert np.nanmean(channels["voltage"]) == pytest.approx(table[:, 5].mean(), abs=0.01)
    assert np.degrees(np.nanmean(channels["latitude"])) == pytest.approx(47.0, abs=1e-3)
