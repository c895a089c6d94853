"""The other leaves in a real browser: build order, flights, outline, field card."""

import tomllib
from collections.abc import Callable

import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from tests.browser.stage import PHONE, WIDE, Server, until

SIZES = pytest.mark.parametrize("size", [WIDE, PHONE], ids=["desk", "phone"])
SCHEMES = pytest.mark.parametrize("scheme", ["light", "dark"])


def sound(page: Page, size: dict[str, int], inside: str | None = None) -> None:
    """Check what holds of every leaf: no rule of accessibility broken, nothing over the edge.

    While a dialog is shown only what is `inside` it can be read or reached: HTML makes the rest
    inert, behind a veil.
    """
    found = Axe().run(page, context=inside).response["violations"]
    assert [(rule["id"], [node["html"] for node in rule["nodes"]][:2]) for rule in found] == []
    assert page.evaluate("() => document.documentElement.scrollWidth") <= size["width"]


def noted(server: Server) -> list[str]:
    """Return the steps noted as done."""
    file = server.folder / "bench.toml"
    text = file.read_text(encoding="utf-8") if file.exists() else ""
    return [step["step"] for step in tomllib.loads(text).get("steps", [])]


@SIZES
@SCHEMES
def test_ticks_at_the_bench(
    server: Server, leaf: Callable[..., Page], size: dict[str, int], scheme: str
) -> None:
    """A tick is written and shown, what stands against a step is asked about, a tick goes back."""
    page = leaf(f"{server.url}order", size, scheme=scheme)
    ready = page.locator(".step.ready >> nth=0")
    name = ready.get_attribute("data-step")
    box = ready.locator(".tick").bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= 44.0  # WCAG 2.2, 2.5.5: 44 by 44 px
    ready.locator(".tick").click()
    page.wait_for_selector(f'.step.done[data-step="{name}"]')
    assert noted(server) == [name]
    waiting = page.locator(".step.waiting >> nth=0")
    held = waiting.get_attribute("data-step")
    waiting.locator(".tick").click()
    assert page.locator("#anyway").is_visible()
    assert "first" in page.inner_text("#anyway .against")
    sound(page, size, "#anyway")
    page.keyboard.press("Escape")
    assert noted(server) == [name]
    waiting.locator(".tick").click()
    page.click("#anyway .danger")
    page.wait_for_selector(f'.step.done[data-step="{held}"]')
    assert noted(server) == [name, held]
    page.click(f'.step.done[data-step="{held}"] .tick')
    until(lambda: noted(server) == [name], "the tick taken back")
    sound(page, size)


def test_a_bench_note_written_elsewhere_is_told(server: Server, leaf: Callable[..., Page]) -> None:
    """An editor ticks a step; the leaf says so and shows it."""
    page = leaf(f"{server.url}order")
    name = page.get_attribute(".step.ready >> nth=0", "data-step")
    text = f'[[steps]]\ndate = 2026-05-01\nstep = "{name}"\n'
    (server.folder / "bench.toml").write_text(text, encoding="utf-8")
    page.wait_for_selector(f'.step.done[data-step="{name}"]')
    assert "changed elsewhere" in page.inner_text("#said")


@SIZES
@SCHEMES
def test_the_field_card(
    server: Server, leaf: Callable[..., Page], size: dict[str, int], scheme: str
) -> None:
    """Mass, balance, throws, launch, speeds, charge, cautions; sound on both screens."""
    page = leaf(f"{server.url}field", size, scheme=scheme)
    titles = page.locator(".part h2").all_inner_texts()
    assert titles == ["Balance", "Throws", "Launch", "In the air", "Pack"]
    assert page.locator(".care li").count() >= 3
    sound(page, size)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_field_card_prints_on_one_page(
    server: Server, leaf: Callable[..., Page], paper: str
) -> None:
    """With a margin of 1 cm, all cautions on it."""
    page = leaf(f"{server.url}field")
    margin = dict.fromkeys(("top", "bottom", "left", "right"), "1cm")
    printed = page.pdf(format=paper, margin=margin)  # type: ignore[arg-type]  # a plain dict
    document = pypdfium2.PdfDocument(printed)
    assert len(document) == 1
    text = document[0].get_textpage().get_text_bounded()
    assert "turn back" in text
    assert "No legal advice" in text
