"""A plane that did not come back, looked for in a browser: log, typed fix, files, print."""

from collections.abc import Callable
from pathlib import Path

import gpxpy
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from tests.browser.stage import PHONE, WIDE, Server, until
from tests.jobs.lost_log import cut_log

Leaf = Callable[..., Page]
SIZES = pytest.mark.parametrize("looks", [(WIDE, "light"), (PHONE, "dark")], ids=["desk", "phone"])
Looks = tuple[dict[str, int], str]
DRAWN = """() => {
  const drawn = document.querySelector(".search-sheet img");
  return drawn && drawn.complete && drawn.naturalWidth > 0;
}"""


def sound(page: Page, size: dict[str, int]) -> None:
    """Check a leaf: axe finds nothing, nothing sticks out."""
    page.evaluate("() => window.scrollTo(0, 0)")
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("() => document.documentElement.scrollWidth") <= size["width"]


def looked(page: Page) -> None:
    """Wait until it was looked for."""
    page.wait_for_function("() => document.querySelector('#told').ariaBusy !== 'true'")
    page.wait_for_function(DRAWN, timeout=60_000)


@SIZES
def test_a_log_tells_where_to_look(
    server: Server, leaf: Leaf, tmp_path: Path, looks: Looks
) -> None:
    """Picked, searched, the GPX taken along; looked again with the wind that was typed."""
    size, scheme = looks
    page = leaf(f"{server.url}find", size, scheme=scheme)
    sound(page, size)
    page.set_input_files("#file", cut_log(tmp_path))
    looked(page)
    words = page.inner_text("#told")
    assert "Where to look first" in words
    assert "the wind is the mean one the log shows" in words
    drawn = page.evaluate("() => document.querySelector('.search-sheet img').currentSrc")
    assert drawn.endswith("area-dark.svg" if scheme == "dark" else "area.svg")
    sound(page, size)
    with page.expect_download() as taken:
        page.click("text=Take the GPX file along")
    assert taken.value.suggested_filename == "reedling-where-to-look.gpx"
    track = gpxpy.parse(Path(taken.value.path()).read_text(encoding="utf-8"))
    assert [one.name for one in track.tracks] == ["edge of the 50 % area", "edge of the 90 % area"]
    before = page.inner_text("#told .spot")
    page.fill("#wind", "fog")
    page.click("#again")
    page.wait_for_selector("#wind-problem:not([hidden])")
    assert "--wind" not in page.inner_text("#wind-problem")
    assert page.inner_text("#told .spot") == before
    page.fill("#wind", "9 m/s from N")
    page.click("#again")
    until(lambda: "the wind is the one you gave" in page.inner_text("#told"), "the new search")
    assert page.is_hidden("#wind-problem")
    assert not (server.folder / "flights").exists()


@SIZES
def test_a_fix_is_typed(server: Server, leaf: Leaf, looks: Looks) -> None:
    """What is wrong stands beside its field; mended, it is searched, every stop can be read."""
    size, scheme = looks
    page = leaf(f"{server.url}find", size, scheme=scheme)
    page.click("#typed-leaf summary")
    page.fill("#typed [name=fix]", "47.311229 8,523399")
    page.fill("#typed [name=height]", "62")
    page.press("#typed [name=height]", "Enter")
    page.wait_for_selector("#typed .problem:not([hidden])")
    assert page.locator("#typed .problem:visible").count() == 2
    assert page.evaluate("() => document.activeElement.name") == "fix"
    sound(page, size)
    page.fill("#typed [name=fix]", "47.311229, 8.523399")
    page.fill("#typed [name=height]", "62 m")
    page.click("#typed [type=submit]")
    looked(page)
    assert page.locator("#typed .problem:visible").count() == 0
    assert "as you typed it" in page.inner_text("#told")
    page.click(".walk-leaf summary")
    assert page.locator(".walk tbody tr").count() > 3
    sound(page, size)
    least = 44.0 if size == PHONE else 24.0
    for one in page.locator("#content :is(input, button, summary, .button):visible").all():
        box = one.bounding_box()
        assert box is not None
        assert box["height"] >= least, one.evaluate("(it) => it.outerHTML")


def test_a_flight_is_brought_along_from_the_flights(
    server: Server, leaf: Leaf, tmp_path: Path
) -> None:
    """Read there, looked for here, still in hand there."""
    page = leaf(f"{server.url}flights")
    page.set_input_files("#file", cut_log(tmp_path))
    page.wait_for_selector("text=See where it came down", timeout=60_000)
    page.click("text=See where it came down")
    looked(page)
    assert page.inner_text("#in-hand") == "In hand: lost.csv"


def test_a_log_is_dropped_and_a_killed_notebook_looks_again(
    server: Server, leaf: Leaf, tmp_path: Path
) -> None:
    """The log is in the tab's hands: it is sent again when the notebook was opened anew."""
    page = leaf(f"{server.url}find")
    text = cut_log(tmp_path).read_text(encoding="utf-8")
    page.evaluate(
        """(text) => {
          const moved = new DataTransfer();
          moved.items.add(new File([text], "dropped.csv"));
          for (const kind of ["dragenter", "drop"]) {
            const told = { dataTransfer: moved, bubbles: true, cancelable: true };
            document.dispatchEvent(new DragEvent(kind, told));
          }
        }""",
        text,
    )
    looked(page)
    assert page.inner_text("#in-hand") == "In hand: dropped.csv"
    server.kill()
    server.start()
    page.fill("#wind", "3 m/s from SW")
    page.click("#again")
    until(lambda: "the wind is the one you gave" in page.inner_text("#told"), "the new search")


def test_the_search_prints_whole(server: Server, leaf: Leaf) -> None:
    """Every stop on paper, the forms not."""
    page = leaf(f"{server.url}find")
    page.click("#typed-leaf summary")
    page.fill("#typed [name=fix]", "47.311229, 8.523399")
    page.click("#typed [type=submit]")
    looked(page)
    page.emulate_media(media="print")
    page.evaluate("() => window.dispatchEvent(new Event('beforeprint'))")
    assert page.is_visible(".walk tbody tr:last-child")
    assert page.is_visible(".search-sheet img")
    assert page.is_hidden("#typed-leaf")
    assert page.is_hidden("#blows")
