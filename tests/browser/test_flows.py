"""The main flows in a real browser, at the desk and on a phone."""

import re
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from tests.browser.stage import PHONE, WIDE, Server, answered, until

HANDLE = '.handle[data-part="pack"][data-view="top"]'
LINE = '[data-question="balance"] .line'


def at(server: Server, name: str = "pack") -> str:
    """Return where a part is by the plane file."""
    items = tomllib.loads(server.text())["items"]
    return str(next(i for i in items if i["name"] == name)["at"]["x"])


def drag(page: Page, dx: float) -> None:
    """Take hold of the pack, which others may lie on, and drag it along by some pixels."""
    page.focus(HANDLE)
    box = page.locator(f"{HANDLE} .part rect").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 6):
        page.mouse.move(x + dx * step / 5, y)
    page.mouse.up()


def test_a_part_dragged_answers_and_is_written(server: Server, leaf: Callable[..., Page]) -> None:
    """Dragging the pack forward moves the balance on the page and the value in the file."""
    page = leaf(server.url)
    answered(page)
    before = page.inner_text(LINE)
    drag(page, -20.0)
    until(lambda: at(server) != "120 mm", "the move in the file")
    answered(page)
    assert page.inner_text(LINE) != before
    moved = float(at(server).split()[0])
    assert 60.0 <= moved < 119.0
    until(lambda: page.get_attribute(HANDLE, "aria-valuenow") == f"{moved:g}", "the drawing")


def test_a_part_cannot_leave_its_reach(server: Server, leaf: Callable[..., Page]) -> None:
    """The pack stops where the builder said it can still be reached: 60 to 150 mm."""
    page = leaf(server.url)
    answered(page)
    drag(page, -400.0)
    until(lambda: at(server) == "60 mm", "the foremost place")
    answered(page)
    drag(page, 800.0)
    until(lambda: at(server) == "150 mm", "the rearmost place")
    assert page.get_attribute(HANDLE, "aria-valuemin") == "60"
    assert page.get_attribute(HANDLE, "aria-valuemax") == "150"


def test_keys_alone_do_the_main_flow(server: Server, leaf: Callable[..., Page]) -> None:
    """Without a mouse: reach the pack, move it, open an answer, take the move back."""
    page = leaf(server.url)
    answered(page)
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("() => document.activeElement.dataset?.part") == "pack":
            break
    assert page.evaluate("() => document.activeElement.getAttribute('role')") == "slider"
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Shift+ArrowLeft")
    until(lambda: at(server) == "109 mm", "11 mm forward in the file")
    answered(page)
    assert page.evaluate("() => document.activeElement.dataset?.part") == "pack"
    for _ in range(120):
        page.keyboard.press("Tab")
        if page.evaluate("() => document.activeElement.closest('.question')?.dataset.question") == (
            "balance"
        ):
            break
    page.keyboard.press("Enter")
    page.wait_for_selector("#leaf-balance table")
    page.keyboard.press("Control+z")
    until(lambda: at(server) == "120 mm", "the move taken back")


def test_a_remedy_is_tried_thrown_away_and_kept(server: Server, leaf: Callable[..., Page]) -> None:
    """Trying changes the answers and not the file; keeping writes a variant."""
    page = leaf(server.url)
    answered(page)
    before = server.text()
    page.click('[data-question="speed"] h3 button')
    page.click("#leaf-speed button.try >> nth=0")
    page.wait_for_selector("#trial:not([hidden])")
    answered(page)
    tried = page.inner_text('[data-question="speed"] .line')
    assert server.text() == before
    page.click("#trial .drop")
    page.wait_for_selector("#trial", state="hidden")
    answered(page)
    assert page.inner_text('[data-question="speed"] .line') != tried
    until(lambda: page.locator("#leaf-speed button.try").count() > 0, "the remedies")
    page.click("#leaf-speed button.try >> nth=0")
    page.wait_for_selector("#trial:not([hidden])")
    page.fill("#trial input", "faster")
    page.click("#trial button[type=submit]")
    page.wait_for_selector('.variants [aria-current]:text("faster")')
    answered(page)
    assert page.inner_text('[data-question="speed"] .line') == tried
    assert "faster" in tomllib.loads(server.text())["variants"]


def test_a_bad_value_is_told_beside_its_field(server: Server, leaf: Callable[..., Page]) -> None:
    """What is wrong stands beside the field, nothing is written, nothing typed is lost."""
    page = leaf(server.url)
    before = server.text()
    page.click('[data-group="items.pack"] > summary')
    field = page.locator('[id="key:items.pack.mass"]')
    field.fill("41")
    field.press("Tab")
    problem = page.locator('.field[data-key="items.pack.mass"] .problem')
    until(lambda: 'did you mean "41 g' in problem.inner_text(), "the problem")
    assert server.text() == before
    assert field.input_value() == "41"
    assert field.get_attribute("aria-invalid") == "true"
    field.fill("43 ± 0.5 g")
    field.press("Tab")
    until(lambda: 'mass = "43 ± 0.5 g"' in server.text(), "the value in the file")
    until(problem.is_hidden, "the problem gone")


def test_two_tabs_do_not_undo_each_other(server: Server, leaf: Callable[..., Page]) -> None:
    """The later tab is told what the earlier changed, and writes nothing over it."""
    first, second = leaf(server.url), leaf(server.url)
    for page in (first, second):
        answered(page)
        # Neither tab looks by itself meanwhile, as when the machine sleeps.
        page.evaluate("() => { Object.defineProperty(document, 'hidden', { get: () => true }); }")
    first.focus(HANDLE)
    first.keyboard.press("Shift+ArrowLeft")
    until(lambda: at(server) == "110 mm", "the first tab's move")
    second.focus(HANDLE)
    second.keyboard.press("Shift+ArrowRight")
    until(lambda: "120 mm is now 110 mm" in second.inner_text("#said"), "what changed")
    assert at(server) == "110 mm"
    until(lambda: second.get_attribute(HANDLE, "aria-valuenow") == "110", "the drawing as it is")
    second.keyboard.press("ArrowRight")
    until(lambda: at(server) == "111 mm", "the second tab's own move")


def test_a_killed_server_loses_no_edit(server: Server, leaf: Callable[..., Page]) -> None:
    """Killed after an edit and started anew: the file has it, and the open page goes on."""
    page = leaf(server.url)
    answered(page)
    page.focus(HANDLE)
    page.keyboard.press("Shift+ArrowLeft")
    until(lambda: at(server) == "110 mm", "the move")
    server.kill()
    page.keyboard.press("Shift+ArrowLeft")
    until(lambda: "closed" in page.inner_text("#said"), "word that it is closed")
    assert at(server) == "110 mm"
    server.start()
    answered(leaf(server.url))
    page.keyboard.press("ArrowLeft")
    until(lambda: at(server) != "110 mm", "the page going on")
    answered(page)
    page.click("#undo")
    until(lambda: at(server) == "110 mm", "taking back across the restart")


def test_an_editor_outside_is_noticed(server: Server, leaf: Callable[..., Page]) -> None:
    """A save in another program shows on the page within seconds."""
    page = leaf(server.url)
    answered(page)
    file = server.folder / "plane.toml"
    file.write_text(server.text().replace('at = { x = "120 mm" }', 'at = { x = "77 mm" }'))
    until(lambda: page.get_attribute(HANDLE, "aria-valuenow") == "77", "the new place")
    assert "changed elsewhere" in page.inner_text("#said")


def test_a_phone_steps_a_part_by_a_millimetre(server: Server, leaf: Callable[..., Page]) -> None:
    """At 390 px: the parts one by one, a look at one, one millimetre at a touch."""
    page = leaf(server.url, PHONE)
    answered(page)
    page.tap("#parts-leaf > summary")
    whole = page.get_attribute(".plane", "viewBox")
    page.tap('tr[data-part="pack"] .look')
    assert page.get_attribute(".plane", "viewBox") != whole
    page.tap('tr[data-part="pack"] [data-axis="x"] button[data-step="1"]')
    until(lambda: at(server) == "121 mm", "one millimetre aft")
    answered(page)
    page.tap("#whole")
    assert page.get_attribute(".plane", "viewBox") == whole


def test_a_phone_has_room_for_a_finger(server: Server, leaf: Callable[..., Page]) -> None:
    """Looked at, a part can be taken hold of by a finger: 44 px, as WCAG 2.2 asks at best."""
    page = leaf(server.url, PHONE)
    answered(page)
    page.tap("#parts-leaf > summary")
    page.tap('tr[data-part="pack"] .look')
    box = page.locator(f"{HANDLE} .grab").bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= 44.0
    step = page.locator('tr[data-part="pack"] button[data-step="1"]').first.bounding_box()
    assert step is not None
    assert min(step["width"], step["height"]) >= 44.0


def test_a_phone_shows_the_questions_first_when_asked(
    server: Server, leaf: Callable[..., Page]
) -> None:
    """One button puts the questions above the drawing, and the choice stays."""
    page = leaf(server.url, PHONE)
    answered(page)

    def above() -> bool:
        return bool(
            page.evaluate(
                "() => document.querySelector('.asked').getBoundingClientRect().top"
                " < document.querySelector('.drawing').getBoundingClientRect().top"
            )
        )

    assert not above()
    page.tap("#order")
    assert above()
    page.reload()
    assert above()


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["desk", "phone"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(
    server: Server, leaf: Callable[..., Page], size: dict[str, int], scheme: str
) -> None:
    """No rule of axe is broken: closed, with answers and fields open, and while trying."""
    page = leaf(server.url, size, scheme=scheme)
    answered(page)
    page.click('[data-question="speed"] h3 button')
    page.click('[data-question="cost"] h3 button')
    page.wait_for_selector("#leaf-cost table")
    page.wait_for_selector("#leaf-speed button.try")
    page.click("#parts-leaf > summary")
    page.click('[data-group="items.pack"] > summary')
    page.click("#leaf-speed button.try >> nth=0")
    page.wait_for_selector("#trial:not([hidden])")
    answered(page)
    found = Axe().run(page).response["violations"]
    assert [(rule["id"], [node["html"] for node in rule["nodes"]][:2]) for rule in found] == []


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["desk", "phone"])
def test_nothing_hangs_over_the_edge(
    server: Server, leaf: Callable[..., Page], size: dict[str, int]
) -> None:
    """The page is never wider than the screen, with everything open."""
    page = leaf(server.url, size)
    answered(page)
    for name in ("fit", "balance", "cost"):
        page.click(f'[data-question="{name}"] h3 button')
        page.wait_for_selector(f"#leaf-{name} table")
    page.evaluate("() => document.querySelectorAll('details').forEach((d) => { d.open = true; })")
    wide = page.evaluate("() => document.documentElement.scrollWidth")
    assert wide <= size["width"]


def test_the_verdicts_need_no_colour(server: Server, leaf: Callable[..., Page]) -> None:
    """Each verdict on the page has its word, and words of different verdicts different shapes."""
    page = leaf(server.url)
    answered(page)
    marks = page.evaluate(
        "() => [...document.querySelectorAll('.verdict')].map((v) =>"
        " [v.querySelector('b').textContent, v.querySelector('svg').innerHTML])"
    )
    shapes = dict(marks)
    assert len(set(shapes.values())) == len(shapes)
    assert set(shapes) <= {"yes", "likely", "unsure", "unlikely", "no", "open"}


def test_a_new_plane_by_interview(tmp_path: Path, leaf: Callable[..., Page]) -> None:
    """An empty folder starts with the interview; a slip is told beside its field."""
    folder = tmp_path / "dabbler"
    folder.mkdir()
    running = Server(folder)
    try:
        page = leaf(running.url)
        page.wait_for_selector("#interview")
        assert page.url.endswith("/new")
        page.select_option('[id="key:layout"]', "plank")
        assert page.locator('.field[data-key="ruler.tail_span"]').count() in (0, 1)
        page.fill('[id="key:ruler.span"]', "700")
        page.click("#interview button[type=submit]")
        until(
            lambda: "700 mm" in page.inner_text('.field[data-key="ruler.span"] .problem'),
            "the problem",
        )
        assert not (folder / "plane.toml").exists()
        page.fill('[id="key:ruler.span"]', "700 mm")
        assert Axe().run(page).response["violations"] == []
        page.click("#interview button[type=submit]")
        page.wait_for_selector(".plane")
        answered(page)
        assert re.search(r'layout = "plank"', running.text())
    finally:
        running.kill()


def test_a_broken_file_is_told_with_its_line(server: Server, leaf: Callable[..., Page]) -> None:
    """A file that is no plane any more is told as on the command line, and left alone."""
    file = server.folder / "plane.toml"
    broken = server.text().replace('"112 ± 1 g"', '"112"')
    file.write_text(broken, encoding="utf-8")
    page = leaf(server.url)
    told = page.inner_text(".findings")
    assert "airframe.bare_mass" in told
    assert re.search(r"line \d+", told)
    assert Axe().run(page).response["violations"] == []
    assert server.text() == broken


def test_it_prints_without_buttons(server: Server, leaf: Callable[..., Page]) -> None:
    """On paper: drawing and answers, no buttons, on a page of A4."""
    page = leaf(server.url)
    answered(page)
    page.emulate_media(media="print")
    assert page.locator("#undo").is_hidden()
    assert page.locator(".plane").is_visible()
    assert page.pdf(format="A4").startswith(b"%PDF")
