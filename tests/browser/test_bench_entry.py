"""Results of tests, entered on the leaf of the next steps: noted, refused, taken back."""

import re
from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from tests.browser.stage import PHONE, WIDE, Server, until

Leaf = Callable[..., Page]

RANKED = "() => !document.getElementById('steps').hasAttribute('aria-busy')"


def sound(page: Page, size: dict[str, int]) -> None:
    """Check a leaf: axe finds nothing, nothing sticks out."""
    page.evaluate("() => window.scrollTo(0, 0)")
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("() => document.documentElement.scrollWidth") <= size["width"]


def notes(server: Server) -> str:
    """Return the bench notes of the served plane."""
    file = server.folder / "bench.toml"
    return file.read_text(encoding="utf-8") if file.exists() else ""


def enter(page: Page, test: str, fields: dict[str, str]) -> None:
    """Fill a form in and send it."""
    for key, text in fields.items():
        field = page.locator(f"#test-{test} [name={key}]")
        if field.evaluate("(one) => one.tagName") == "SELECT":
            field.select_option(text)
        else:
            field.fill(text)
    page.click(f"#test-{test} [type=submit]")


@pytest.mark.parametrize(("size", "scheme"), [(WIDE, "light"), (PHONE, "dark")])
def test_a_result_is_entered_judged_and_taken_back(
    server: Server, leaf: Leaf, size: dict[str, int], scheme: str
) -> None:
    """From the address of a form to bench.toml and back, while the list stands as it was ranked."""
    page = leaf(f"{server.url}next#test-thrust", size, scheme=scheme)
    page.wait_for_selector("#test-thrust[open]")
    until(lambda: page.evaluate("() => document.activeElement.name") == "thrust", "the focus")
    page.wait_for_function(RANKED, timeout=90_000)
    before = page.inner_text("#steps")

    enter(page, "thrust", {"thrust": "410 g", "current": "8"})
    page.wait_for_selector("#test-thrust .problem:not([hidden])")
    assert "has no unit" in page.inner_text("#test-thrust")
    assert page.evaluate("() => document.activeElement.getAttribute('aria-invalid')") == "true"
    assert notes(server) == ""

    enter(page, "thrust", {"current": "8 A"})
    page.wait_for_selector(".bench-says")
    assert 'thrust = "410 g"' in notes(server)
    said = page.inner_text(".bench-says")
    assert re.search(r"Does what I measured behave as planned\? (yes|likely)", said)
    assert "WHAT IT TAUGHT" in said.upper()
    assert page.locator(".bench-says .taught tbody tr").count() >= 1
    assert page.input_value("#test-thrust [name=thrust]") == ""
    sound(page, size)

    page.wait_for_timeout(3500)  # the leaf looks for changes of others every three seconds
    assert page.inner_text("#steps") == before
    assert page.is_visible("#outdated")
    page.click("#noted-leaf summary")
    assert page.inner_text("#noted-count") == "1"
    sound(page, size)

    page.click("#noted .take-out")
    until(lambda: page.inner_text("#noted-count") == "0", "the note to go")
    assert "410 g" not in notes(server)
    assert page.locator(".bench-says").count() == 0


def test_several_parts_are_weighed_one_after_the_other(server: Server, leaf: Leaf) -> None:
    """The next part is offered once one is noted; ranked anew when asked, they count."""
    page = leaf(f"{server.url}next")
    page.wait_for_function(RANKED, timeout=90_000)
    page.click("#test-weigh summary")
    first = page.input_value("#test-weigh [name=item]")
    enter(page, "weigh", {"mass": "17.6 g"})
    page.wait_for_selector(".bench-says")
    second = page.input_value("#test-weigh [name=item]")
    assert second != first
    enter(page, "weigh", {"mass": "3 g"})
    until(lambda: f'item = "{second}"' in notes(server), "the second part")
    until(lambda: page.inner_text("#noted-count") == "2", "both on the list")
    page.click("#outdated .rank-anew")
    page.wait_for_function(RANKED, timeout=90_000)
    assert page.is_hidden("#outdated")


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["desk", "phone"])
def test_every_form_is_sound_and_large_enough(
    server: Server, leaf: Leaf, size: dict[str, int]
) -> None:
    """All of them open: axe finds nothing, a finger hits every field."""
    page = leaf(f"{server.url}next", size)
    page.evaluate("() => document.querySelectorAll('.test').forEach((one) => { one.open = true; })")
    sound(page, size)
    least = 44.0 if size == PHONE else 24.0
    for one in page.locator("#tests :is(input, select, button, summary):visible").all():
        box = one.bounding_box()
        assert box is not None
        assert box["height"] >= least, one.evaluate("(it) => it.outerHTML")
