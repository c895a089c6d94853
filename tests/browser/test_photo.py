"""An outline from a photo in a real browser: by mouse, by finger, by keys; nothing leaves here."""

import tomllib
from collections.abc import Callable, Iterable
from pathlib import Path

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from tests.browser import photo_scene as scene
from tests.browser.stage import PHONE, WIDE, Server, until
from tests.model.photo_stage import STATIONS

SIZES = pytest.mark.parametrize("size", [WIDE, PHONE], ids=["desk", "phone"])
SCHEMES = pytest.mark.parametrize("scheme", ["light", "dark"])

LOOK = """() => {
  const stage = document.getElementById("stage");
  stage.scrollIntoView({ block: "center" });
  const { left, top, width } = stage.getBoundingClientRect();
  const [x, y, w] = stage.getAttribute("viewBox").split(" ").map(Number);
  return [left, top, width / w, x, y];
}"""

PAIRS = [*zip(scene.LEADING, scene.TRAILING, strict=True)]
EVERYTHING = [*scene.CORNERS[[0, 2, 1, 3]], scene.NOSE, scene.TAIL, *(s for p in PAIRS for s in p)]
"""Corners crosswise, nose, tail, then edge by edge: what comes next is always at hand."""


@pytest.fixture(scope="session")
def photo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the photo, drawn once."""
    return scene.write_photo(tmp_path_factory.mktemp("photo") / "table.png")


def loaded(page: Page, photo: Path) -> None:
    """Load a photo as a user does."""
    page.set_input_files("#file", str(photo))
    page.wait_for_selector("#stage image")


def on_screen(page: Page, spot: np.ndarray) -> tuple[float, float]:
    """Return where a pixel of the photo is on the screen."""
    left, top, scale, x, y = page.evaluate(LOOK)
    return left + (spot[0] - x) * scale, top + (spot[1] - y) * scale


def click(page: Page, spots: Iterable[np.ndarray]) -> None:
    """Click, or tap, pixels of the photo."""
    for spot in spots:
        x, y = on_screen(page, spot)
        if page.viewport_size == PHONE:
            page.touchscreen.tap(x, y)
        else:
            page.mouse.click(x, y)


def numbers(page: Page) -> np.ndarray:
    """Return the stations that are shown once all three are [mm]."""
    until(lambda: page.locator("#table tbody tr").count() == len(STATIONS), "the stations")
    cells = page.locator("#table td b").all_inner_texts()
    return np.array([float(text.split()[0]) for text in cells]).reshape(-1, 3)


def points(page: Page) -> list[list[float]]:
    """Return every point as the table of points tells it: across, down, off."""
    found: list[list[float]] = page.evaluate(
        "() => [...document.querySelectorAll('#points tbody tr')].map("
        "(row) => [...row.querySelectorAll('input')].map((one) => one.valueAsNumber))"
    )
    return found


def wing(server: Server) -> list[dict[str, str]]:
    """Return the stations of the wing as they are written."""
    found: list[dict[str, str]] = tomllib.loads(server.text())["airframe"]["surfaces"][0][
        "stations"
    ]
    return found


def sound(page: Page, size: dict[str, int]) -> None:
    """Check that no rule of accessibility is broken and nothing stands over the edge."""
    found = Axe().run(page).response["violations"]
    assert [(rule["id"], [node["html"] for node in rule["nodes"]][:2]) for rule in found] == []
    assert page.evaluate("() => document.documentElement.scrollWidth") <= size["width"]


@SIZES
@SCHEMES
def test_a_wing_is_clicked_and_written(
    server: Server, leaf: Callable[..., Page], photo: Path, *, size: dict[str, int], scheme: str
) -> None:
    """Twelve clicks: the true wing within its bands, drawn, written with spreads, taken out."""
    page = leaf(f"{server.url}photo", size, scheme=scheme)
    sound(page, size)
    loaded(page, photo)
    click(page, EVERYTHING)
    assert numbers(page) == pytest.approx(STATIONS, abs=8.0)
    assert page.locator("#stage .rim polygon.inked").count() == 2
    assert "corners of the sheet" in page.inner_text("#carried")
    sound(page, size)
    before = wing(server)
    page.click("#write button")
    page.wait_for_selector("#written-into:not([hidden])")
    after = wing(server)
    assert len(after) == 3
    assert all("±" in station["chord"] for station in after)
    assert after[0]["thickness"] == before[0]["thickness"]
    page.click("#written-into button")
    until(lambda: wing(server) == before, "the stations taken out again")
    sound(page, size)


def test_looking_nearer_makes_the_spread_smaller(
    server: Server, leaf: Callable[..., Page], photo: Path
) -> None:
    """The same points clicked four times as near are known better, and say so."""
    page = leaf(f"{server.url}photo")
    loaded(page, photo)
    click(page, scene.CORNERS[:1])
    coarse = points(page)[0][2]
    page.click("#back")
    page.click('[data-do="in"]')
    page.click('[data-do="in"]')
    for _ in range(2):  # the corner may lie outside what is seen now
        page.click('[data-do="up"]') if on_screen(page, scene.CORNERS[0])[1] < 60 else None
    click(page, scene.CORNERS[:1])
    (found,) = points(page)
    assert found[:2] == pytest.approx(scene.CORNERS[0], abs=0.7)
    assert found[2] < coarse


def test_everything_goes_by_keys(server: Server, leaf: Callable[..., Page], photo: Path) -> None:
    """Enter places at the cross, arrows nudge by a pixel, Tab goes on, Delete takes away."""
    page = leaf(f"{server.url}photo")
    loaded(page, photo)
    page.focus("#stage")
    for across in (-6, 6):
        page.keyboard.press("ArrowRight")  # the cross appears
        for _ in range(abs(across)):
            page.keyboard.press("ArrowLeft" if across < 0 else "ArrowRight")
        page.keyboard.press("Enter")
        assert page.is_visible(".point:focus")
        page.keyboard.press("Enter")  # on with the next
    one, other = points(page)
    assert other[0] > one[0]
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.getAttribute('aria-label')") == "corner 1"
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Shift+ArrowLeft")
    moved = points(page)[1]
    assert moved[:2] == pytest.approx([other[0] - 10.0, other[1] - 1.0])
    assert page.is_visible("#loupe")
    page.keyboard.press("Delete")
    assert points(page) == [one]
    page.keyboard.press("Control+z")
    assert points(page)[1] == moved
    page.keyboard.press("Control+z")
    page.keyboard.press("Control+z")
    assert points(page)[1] == other
    page.keyboard.press("+")
    near = page.evaluate(
        "() => Number(document.getElementById('stage').getAttribute('viewBox').split(' ')[2])"
    )
    page.keyboard.press("0")
    assert near < page.evaluate(
        "() => Number(document.getElementById('stage').getAttribute('viewBox').split(' ')[2])"
    )


def test_points_can_be_typed(server: Server, leaf: Callable[..., Page], photo: Path) -> None:
    """Every point is a row of number fields; what is no pixel is told and changes nothing."""
    page = leaf(f"{server.url}photo")
    loaded(page, photo)
    click(page, EVERYTHING[:7])
    field = page.get_by_label("leading edge 1: across, pixels")
    field.fill("500.5")
    field.press("Tab")
    assert points(page)[6][0] == 500.5
    field = page.get_by_label("leading edge 1: across, pixels")
    field.fill("-3")
    field.press("Tab")
    assert "from 0 to 1200" in page.inner_text("#said")
    page.reload()
    page.wait_for_selector("#stage image")
    assert points(page)[6][0] == 500.5


def test_a_finger_sees_what_it_covers(
    server: Server, leaf: Callable[..., Page], photo: Path
) -> None:
    """While it is down the glass shows the spot, enlarged; where it lifts the point is placed."""
    page = leaf(f"{server.url}photo", PHONE)
    loaded(page, photo)
    x, y = on_screen(page, scene.CORNERS[0] + np.array([30.0, 12.0]))
    devtools = page.context.new_cdp_session(page)

    def touch(kind: str, *spots: tuple[float, float]) -> None:
        fingers = [{"x": x, "y": y, "id": at} for at, (x, y) in enumerate(spots)]
        devtools.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": fingers})

    touch("touchStart", (x, y))
    page.wait_for_selector("#loupe", state="visible")
    to = on_screen(page, scene.CORNERS[0])
    touch("touchMove", to)
    shown = page.evaluate(
        "() => { const [x, y, w, h] = document.getElementById('loupe').getAttribute('viewBox')"
        ".split(' ').map(Number); return [x + w / 2, y + h / 2]; }"
    )
    assert shown == pytest.approx(scene.CORNERS[0], abs=4.0)
    assert points(page) == []
    touch("touchEnd")
    assert points(page)[0][:2] == pytest.approx(scene.CORNERS[0], abs=4.0)
    assert not page.is_visible("#loupe")
    # Two fingers look nearer and place nothing.
    wide = "() => Number(document.getElementById('stage').getAttribute('viewBox').split(' ')[2])"
    before = page.evaluate(wide)
    touch("touchStart", (100.0, to[1]), (200.0, to[1]))
    touch("touchMove", (60.0, to[1]), (260.0, to[1]))
    touch("touchEnd")
    assert page.evaluate(wide) == pytest.approx(before / 2.0, rel=0.05)
    assert len(points(page)) == 1


def test_buttons_are_large_enough_for_a_thumb(
    server: Server, leaf: Callable[..., Page], photo: Path
) -> None:
    """44 px each way (WCAG 2.2, 2.5.5), and every gesture has a button."""
    page = leaf(f"{server.url}photo", PHONE)
    loaded(page, photo)
    for button in page.locator(".tools button").all():
        box = button.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 43.9


def test_a_killed_server_costs_no_click(
    server: Server, leaf: Callable[..., Page], photo: Path
) -> None:
    """Points outlive a restart and a reload, the photo too; then all goes on."""
    page = leaf(f"{server.url}photo")
    loaded(page, photo)
    click(page, EVERYTHING[:9])
    server.kill()
    click(page, EVERYTHING[9:10])
    page.wait_for_function(
        "() => document.getElementById('photo-problem').textContent.includes('closed')"
    )
    server.start()
    page.reload()
    page.wait_for_selector("#stage image")
    assert len(points(page)) == 10
    until(lambda: page.locator("#table tbody tr").count() == 2, "what was clicked so far")
    click(page, EVERYTHING[10:])
    assert numbers(page) == pytest.approx(STATIONS, abs=8.0)
    page.click("#write button")
    page.wait_for_selector("#written-into:not([hidden])")
    assert len(wing(server)) == 3


def test_another_photo_starts_anew(
    server: Server, leaf: Callable[..., Page], photo: Path, tmp_path: Path
) -> None:
    """The same photo keeps its points; another has none, and the old ones can be taken back."""
    page = leaf(f"{server.url}photo")
    loaded(page, photo)
    click(page, EVERYTHING[:3])
    page.set_input_files("#file", str(photo))
    until(lambda: "1200 × 900" in page.inner_text("#loaded"), "the same photo")
    assert len(points(page)) == 3
    other = tmp_path / "other.png"
    other.write_bytes(photo.read_bytes())
    page.set_input_files("#file", str(other))
    until(lambda: "other.png, 1200" in page.inner_text("#loaded"), "the other photo")
    until(lambda: points(page) == [], "no points on it")
    page.click("#back")
    assert len(points(page)) == 3


def test_before_there_is_a_plane_it_measures(
    leaf: Callable[..., Page], photo: Path, tmp_path: Path
) -> None:
    """From the interview to the photo: stations to read off, nothing to write into, no nav."""
    (tmp_path / "empty").mkdir()
    server = Server(tmp_path / "empty")
    try:
        page = leaf(f"{server.url}new", PHONE)
        page.click('a[href="/photo"]')
        loaded(page, photo)
        click(page, EVERYTHING)
        assert numbers(page) == pytest.approx(STATIONS, abs=8.0)
        assert page.locator("#write").count() == 0
        assert page.locator("nav.leaves").count() == 0
        sound(page, PHONE)
    finally:
        server.kill()


def test_what_is_no_picture_is_told(
    server: Server, leaf: Callable[..., Page], photo: Path, tmp_path: Path
) -> None:
    """In one sentence; the photo and the points that were there stay."""
    page = leaf(f"{server.url}photo")
    wrong = tmp_path / "notes.png"
    wrong.write_text("no picture", encoding="utf-8")
    page.set_input_files("#file", str(wrong))
    until(lambda: "no picture this browser can show" in page.inner_text("#said"), "the problem")
    loaded(page, photo)
    click(page, EVERYTHING[:2])
    page.set_input_files("#file", str(wrong))
    until(lambda: "no picture this browser can show" in page.inner_text("#said"), "the problem")
    assert len(points(page)) == 2
    assert "table.png" in page.inner_text("#loaded")


def test_odd_clicks_are_told_and_mended(
    server: Server, leaf: Callable[..., Page], photo: Path
) -> None:
    """Three corners on one line: told; taken back, and all is well again."""
    page = leaf(f"{server.url}photo")
    loaded(page, photo)
    middle = (scene.CORNERS[0] + scene.CORNERS[1]) / 2.0
    click(
        page, [scene.CORNERS[0], scene.CORNERS[1], middle, scene.CORNERS[3], scene.NOSE, scene.TAIL]
    )
    until(lambda: "on one line" in page.inner_text("#photo-problem"), "the problem")
    page.fill("#distance", "two metres")
    until(lambda: page.is_visible('[data-key="distance"] .problem'), "the problem beside its field")
    page.fill("#distance", "")
    for _ in range(4):
        page.click("#back")
    click(page, [scene.CORNERS[2], scene.CORNERS[3], scene.NOSE, scene.TAIL])
    until(lambda: page.inner_text("#photo-problem") == "", "no problem any more")
    until(lambda: page.locator("#stage .squares polyline").count() > 10, "squares in the plane")
    assert not page.is_visible('[data-key="distance"] .problem')


def test_a_length_serves_where_there_is_no_sheet(
    server: Server, leaf: Callable[..., Page], photo: Path
) -> None:
    """Nose to tail is 690 mm: asked for, then taken; what is assumed of the camera is told."""
    page = leaf(f"{server.url}photo")
    loaded(page, photo)
    page.select_option('[name="scale"]', "length")
    click(page, [scene.NOSE + 1.0, scene.TAIL + 1.0])
    until(lambda: "how long" in page.inner_text("#next"), "the question for the length")
    page.fill('[name="length"]', "690 ± 1 mm")
    # Points in hand are moved, not placed again: nose and tail are told as numbers.
    page.check('[value="middle"]')
    click(page, [scene.NOSE + np.array([14.0, 30.0]), scene.TAIL + np.array([-14.0, 30.0])])
    for name, spot in (("nose", scene.NOSE), ("tail", scene.TAIL)):
        for axis, value in zip(("across", "down"), spot, strict=True):
            field = page.get_by_label(f"{name}: {axis}, pixels")
            field.fill(f"{value:.1f}")
            field.press("Tab")
    click(page, [s for p in PAIRS for s in p])
    found = numbers(page)
    assert found[:, 2] == pytest.approx(STATIONS[:, 2], rel=0.12)
    assert "square to the plane" in page.locator("#assumed").text_content()  # type: ignore[operator]


def test_a_file_changed_elsewhere_is_not_written_over(
    server: Server, leaf: Callable[..., Page], photo: Path
) -> None:
    """An editor was quicker: told; the second time it is meant."""
    page = leaf(f"{server.url}photo")
    loaded(page, photo)
    click(page, EVERYTHING)
    numbers(page)
    file = server.folder / "plane.toml"
    file.write_text(server.text() + "\n# mine\n", encoding="utf-8")
    page.click("#write button")
    until(lambda: "Not written" in page.inner_text("#write .problem"), "the refusal")
    assert len(wing(server)) == 2
    page.click("#write button")
    until(lambda: len(wing(server)) == 3, "the second time")
    assert "# mine" in server.text()
