"""GPX 1.1: what is written for a search is held against the rules of the schema.

Source: the schema of GPX 1.1, as a table by hand (data/gpx_README.md says what is in it).
"""

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import gpxpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.debrief.test_falls import STILL, luck, seen_at
from tests.debrief.test_find import planes

from foamwright.debrief.falls import parabolic
from foamwright.debrief.find import SearchArea, find, lying
from foamwright.debrief.geodesy import Spot
from foamwright.debrief.search_gpx import gpx_of

pytestmark = pytest.mark.published

RULES: dict[str, Any] = tomllib.loads(
    (Path(__file__).parent / "data" / "gpx_elements.toml").read_text(encoding="utf-8")
)
SPACE = "{" + RULES["namespace"] + "}"
ELSEWHERE = "{http://www.w3.org/2001/XMLSchema-instance}"
"""Attributes that any document may carry."""
HEAD = '<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="x">'


def text_broken(text: str, kind: str) -> str:
    """Return what a simple type has against a text; empty where nothing."""
    rule = RULES["texts"][kind]
    text = text if kind == "string" else " ".join(text.split())
    if not re.fullmatch(rule["form"], text):
        return f"'{text}' is no {kind}"
    if "low" in rule:
        value = float(text)
        above = value >= rule["high"] if rule.get("open") else value > rule["high"]
        if value < rule["low"] or above:
            return f"{text} is out of the range of {kind}"
    return ""


def attributes_broken(element: ET.Element, wanted: Mapping[str, str]) -> list[str]:
    """Return what is wrong with the attributes of an element."""
    found = []
    for name, text in element.attrib.items():
        if name.startswith(ELSEWHERE):
            continue
        if name not in wanted:
            found.append(f"attribute {name} is not allowed")
        else:
            found.append(text_broken(text, wanted[name].rstrip("!")))
    missing = [name for name, kind in wanted.items() if kind.endswith("!")]
    found += [f"attribute {name} is missing" for name in missing if name not in element.attrib]
    return found


def children_broken(element: ET.Element, wanted: Mapping[str, str]) -> list[str]:
    """Return what is wrong with the elements inside an element, and inside those."""
    found, order, last = [], list(wanted), -1
    if (element.text or "").strip() or any((child.tail or "").strip() for child in element):
        found.append("holds text between its elements")
    for child in element:
        name = child.tag.removeprefix(SPACE)
        if name not in wanted or not child.tag.startswith(SPACE):
            found.append(f"element {child.tag} is not allowed")
            continue
        place = order.index(name)
        if place < last:
            found.append(f"element {name} stands too late")
        if place == last and not wanted[name].endswith("*"):
            found.append(f"element {name} stands twice")
        last = max(last, place)
        found += [f"{name}: {words}" for words in broken(child, wanted[name].rstrip("*")) if words]
    return found


def broken(element: ET.Element, kind: str) -> list[str]:
    """Return everything that the rules have against an element of some type."""
    if kind == "extensionsType":
        return [f"{child.tag} is of GPX's own" for child in element if child.tag.startswith(SPACE)]
    if kind in RULES["texts"]:
        told = [text_broken(element.text or "", kind)]
        told += ["holds elements"] if len(element) else []
        return told + attributes_broken(element, {})
    rule = RULES["types"][kind]
    return [
        *attributes_broken(element, rule.get("attributes", {})),
        *children_broken(element, rule.get("elements", {})),
    ]


def objections(text: str) -> list[str]:
    """Return everything that the rules have against a file."""
    root = ET.fromstring(text)  # noqa: S314 - our own file
    if root.tag != f"{SPACE}{RULES['root']}":
        return [f"the root is {root.tag}"]
    return [words for words in broken(root, "gpxType") if words]


def area_at(spot: Spot, **changed: object) -> SearchArea:
    """Return a search area around a last fix."""
    seen = seen_at(spot=spot, **{"start": spot, **changed})
    return find(seen, STILL, parabolic(*planes()), luck(), count=400)


@pytest.mark.parametrize(
    "spot",
    [
        Spot(latitude=47.31, longitude=8.52),
        Spot(latitude=-33.9, longitude=-70.6),
        Spot(latitude=0.0, longitude=0.0),
        Spot(latitude=4e-7, longitude=-3e-7),
        Spot(latitude=65.0, longitude=179.9999),
        Spot(latitude=65.0, longitude=-179.9999),
        Spot(latitude=65.0, longitude=180.0),
        Spot(latitude=-89.999, longitude=12.0),
    ],
)
def test_a_search_is_valid_gpx_all_over_the_earth(spot: Spot) -> None:
    """Also where small numbers tempt to an exponent, and where east becomes west."""
    assert objections(gpx_of(area_at(spot), "Reedling")) == []


def test_every_kind_of_search_is_valid_gpx() -> None:
    """In the air, on the ground, without a first fix; whatever the plane is called."""
    here = Spot(latitude=47.31, longitude=8.52)
    assert objections(gpx_of(lying(seen_at(grounded=True)), "Reedling")) == []
    assert objections(gpx_of(area_at(here, start=None), "Reedling")) == []
    for name in ("Reed & <ling>", "a \"b\" 'c'", "Möwe 鳥", "]]>", "<!-- x -->"):
        text = gpx_of(area_at(here), name)
        assert objections(text) == []
        assert gpxpy.parse(text).name == f"where {name} may lie"


@settings(max_examples=40, deadline=None)
@given(
    st.floats(-90.0, 90.0, allow_nan=False),
    st.floats(-180.0, 180.0, allow_nan=False),
)
def test_any_place_is_written_as_the_schema_writes_one(latitude: float, longitude: float) -> None:
    """A decimal without an exponent, 180 degrees east as 180 west."""
    seen = seen_at(spot=Spot(latitude=latitude, longitude=longitude), grounded=True)
    assert objections(gpx_of(lying(seen), "x")) == []


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (f"{HEAD}</gpx>", ""),
        (f'{HEAD}<wpt lat="1" lon="2"><ele>3.5</ele><name>a</name></wpt></gpx>', ""),
        (f'{HEAD}<wpt lat="1" lon="2"/><wpt lat="1" lon="2"/></gpx>', ""),
        (f"{HEAD}<rte><name>a</name></rte><metadata/></gpx>", "metadata stands too late"),
        (
            f'{HEAD}<wpt lat="1" lon="2"><name>a</name><ele>3</ele></wpt></gpx>',
            "ele stands too late",
        ),
        (f"{HEAD}<metadata/><metadata/></gpx>", "metadata stands twice"),
        (f'{HEAD}<wpt lat="1"/></gpx>', "attribute lon is missing"),
        (f'{HEAD}<wpt lat="1e-07" lon="2"/></gpx>', "'1e-07' is no latitude"),
        (f'{HEAD}<wpt lat="91" lon="2"/></gpx>', "91 is out of the range of latitude"),
        (f'{HEAD}<wpt lat="1" lon="180.0"/></gpx>', "180.0 is out of the range of longitude"),
        (f'{HEAD}<wpt lat="1" lon="2" alt="3"/></gpx>', "attribute alt is not allowed"),
        (f"{HEAD}<trk><trkpt/></trk></gpx>", "trkpt is not allowed"),
        (f'{HEAD}<rte><rtept lat="1" lon="2"/><name>a</name></rte></gpx>', "name stands too late"),
        (f"{HEAD}<metadata>words</metadata></gpx>", "holds text"),
        (f"{HEAD}<metadata><time>today</time></metadata></gpx>", "'today' is no dateTime"),
        (HEAD.replace("GPX/1/1", "GPX/1/0") + "</gpx>", "the root is"),
        (HEAD.replace('version="1.1"', 'version="1.0"') + "</gpx>", "'1.0' is no version"),
        (HEAD.replace(' creator="x"', "") + "</gpx>", "attribute creator is missing"),
        ('<gpx version="1.1" creator="x"/>', "the root is gpx"),
        (f'{HEAD}<wpt xmlns="" lat="1" lon="2"/></gpx>', "wpt is not allowed"),
    ],
)
def test_the_rules_tell_a_broken_file(text: str, says: str) -> None:
    """What the schema refuses, they refuse; what it takes, they take."""
    found = objections(text)
    assert any(says in words for words in found) if says else found == []


def test_every_type_that_is_named_has_its_rules() -> None:
    """No element of the table leads nowhere."""
    for rule in RULES["types"].values():
        for kind in (*rule.get("attributes", {}).values(), *rule.get("elements", {}).values()):
            name = kind.rstrip("!*")
            assert name == "extensionsType" or name in RULES["types"] or name in RULES["texts"]
