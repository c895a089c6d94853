"""Flights and next steps in a real browser: a log dropped, looked at, kept or set aside."""

import http.client
import signal
import socket
import tomllib
from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import Page, expect
from tests.browser.stage import PATIENCE, PHONE, WIDE, Server, answered, until
from tests.browser.test_leaves import SCHEMES, SIZES, sound

LARGEST = 200 << 20
expect.set_options(timeout=PATIENCE * 1e3)
Leaf = Callable[..., Page]


def log_of(server: Server) -> Path:
    """Return the example log."""
    return server.folder / "logs" / "example-log.csv"


def kept(server: Server) -> list[str]:
    """Return the files of the flights kept with the plane."""
    folder = server.folder / "flights"
    return sorted(path.name for path in folder.iterdir()) if folder.exists() else []


def columns(server: Server) -> dict[str, str]:
    """Return what was confirmed of the columns of the one header there is."""
    file = server.folder / "flights" / "columns.toml"
    tables = tomllib.loads(file.read_text(encoding="utf-8")) if file.exists() else {}
    return dict(next(iter(tables.values()), {}))


def bring(page: Page, file: Path) -> None:
    """Pick a log and wait until it is read."""
    page.set_input_files("#file", str(file))
    page.wait_for_selector("#told:not([hidden]):not([aria-busy]) .keep-flight")


def opened(page: Page) -> None:
    """Open everything that can be opened."""
    page.evaluate(
        "() => document.querySelectorAll('details').forEach((one) => { one.open = true; })"
    )


@SIZES
@SCHEMES
def test_a_log_is_looked_at_and_kept(
    server: Server, leaf: Leaf, size: dict[str, int], scheme: str
) -> None:
    """Columns with select boxes, stretches, wind, figures, lessons; then it lies in the folder."""
    page = leaf(f"{server.url}flights", size, scheme=scheme)
    sound(page, size)
    bring(page, log_of(server))
    assert page.locator("tr[data-column]").count() == 14
    assert page.locator(".timeline .stretch").count() > 5
    assert "out of the north-west" in page.inner_text(".the-wind")
    opened(page)
    sound(page, size)
    assert kept(server) == []
    page.click(".keep-flight")
    expect(page.locator("#doing")).to_contain_text("Kept with the plane")
    names = kept(server)
    assert [Path(name).suffix for name in names] == [".csv", ".toml", ".toml"]
    assert "columns.toml" in [Path(name).name for name in names]  # knots were found out
    expect(page.locator(".flight")).to_have_count(1)
    assert "readings in their band" in page.inner_text(".flight")
    assert "The forecasts so far" in page.inner_text("#kept")
    opened(page)
    sound(page, size)


def test_a_log_can_be_dropped(server: Server, leaf: Leaf) -> None:
    """Anywhere on the leaf; two at once are refused."""
    page = leaf(f"{server.url}flights")
    text = log_of(server).read_text(encoding="utf-8")
    drop = """([text, count]) => {
      const carried = new DataTransfer();
      for (let n = 0; n < count; n += 1) carried.items.add(new File([text], `flight ${n}.csv`));
      for (const name of ["dragenter", "dragover", "drop"]) {
        document.getElementById("drop").dispatchEvent(
          new DragEvent(name, { bubbles: true, cancelable: true, dataTransfer: carried }));
      }
    }"""
    page.evaluate(drop, [text, 2])
    expect(page.locator("#said")).to_contain_text("One flight at a time")
    page.evaluate(drop, [text, 1])
    expect(page.locator("#told h2")).to_have_text("flight 0.csv")
    assert kept(server) == []


@SIZES
def test_with_the_keyboard_alone(server: Server, leaf: Leaf, size: dict[str, int]) -> None:
    """A log picked, a column changed, read again, confirmed, kept; focus is never lost."""
    page = leaf(f"{server.url}flights", size)
    # Listened to from now on: told only when the key is pressed, the browser may open its own.
    page.on("filechooser", lambda _: None)

    def reach(selector: str) -> None:
        for _ in range(120):
            if page.evaluate("(s) => document.activeElement.matches(s)", selector):
                return
            page.keyboard.press("Tab")
        raise AssertionError(selector)

    reach("#file")
    with page.expect_file_chooser() as chooser:
        page.keyboard.press("Space")
    chooser.value.set_files(str(log_of(server)))
    page.wait_for_selector(".keep-flight")
    assert page.evaluate("() => document.activeElement.id") == "told"
    reach("tr[data-column=sats] select[name=kind]")
    page.keyboard.press("Home")
    expect(page.locator("tr[data-column=sats] select[name=unit]")).to_be_disabled()
    reach(".read-so")
    page.keyboard.press("Enter")
    expect(page.locator("tr[data-column=sats]")).to_contain_text("you said so")
    reach(".confirm")
    page.keyboard.press("Enter")
    until(lambda: columns(server).get("sats") == "nothing", "the columns remembered")
    page.keyboard.press("Shift+Tab")
    for _ in range(120):
        if page.evaluate("() => document.activeElement.matches('.keep-flight')"):
            break
        page.keyboard.press("Shift+Tab")
    page.keyboard.press("Enter")
    expect(page.locator(".flight")).to_have_count(1)
    until(
        lambda: page.evaluate("() => document.activeElement.tagName") == "SUMMARY",
        "the focus on the flight kept",
    )


def test_columns_are_changed_and_confirmed_once(server: Server, leaf: Leaf) -> None:
    """Units follow the kind; what was confirmed is not asked about again."""
    page = leaf(f"{server.url}flights")
    bring(page, log_of(server))
    row = page.locator("tr[data-column=spd]")
    row.locator("[name=kind]").select_option("airspeed")
    row.locator("[name=kind]").select_option("voltage")
    assert row.locator("[name=unit]").input_value() == "V"
    expect(page.locator(".confirm")).to_be_disabled()
    row.locator("[name=kind]").select_option("ground_speed")
    assert row.locator("[name=unit]").input_value() == "kn"
    expect(page.locator(".read-so")).to_be_disabled()
    row.locator("[name=unit]").select_option("km/h")
    page.click(".read-so")
    expect(page.locator("tr[data-column=spd]")).to_contain_text("you said so")
    assert page.locator("tr[data-column=spd] [name=unit]").input_value() == "km/h"
    page.click(".confirm")
    expect(page.locator("#doing")).to_contain_text("flights/columns.toml")
    assert columns(server)["spd"] == "ground_speed in km/h"
    page.click(".set-aside")
    bring(page, log_of(server))
    expect(page.locator(".confirm")).to_have_text("The columns are remembered")
    assert page.locator(".columns-leaf").get_attribute("open") is None
    assert kept(server) == ["columns.toml"]


def test_a_log_nobody_knows_is_told_column_by_column(
    server: Server, leaf: Leaf, tmp_path: Path
) -> None:
    """It cannot be read as it is; with its clock and its speed named it can."""
    rows = log_of(server).read_text(encoding="utf-8").splitlines()[1:]
    odd = tmp_path / "odd.csv"
    names = ",".join(f"c{number}" for number in range(rows[0].count(",") + 1))
    odd.write_text("\n".join([names, *rows[1:]]) + "\n", encoding="utf-8")
    page = leaf(f"{server.url}flights")
    page.set_input_files("#file", str(odd))
    expect(page.locator("#told .problem")).to_contain_text("has no column whose name is known")
    sound(page, WIDE)
    for column, kind, unit in (("c0", "time", "ms"), ("c4", "ground_speed", "kn")):
        row = page.locator(f"tr[data-column={column}]")
        row.locator("[name=kind]").select_option(kind)
        row.locator("[name=unit]").select_option(unit)
    page.click(".read-so")
    page.wait_for_selector(".keep-flight")
    assert "top speed over the ground" in page.inner_text("#told")


@SIZES
def test_a_card_is_filled_in(server: Server, leaf: Leaf, size: dict[str, int]) -> None:
    """What is wrong is told beside its field; then it is read, and set aside or kept."""
    page = leaf(f"{server.url}flights", size)
    page.click("#card-title")
    top = page.locator("[data-field='top speed']")
    top.locator("[name=value]").fill("fast")
    used = page.locator("[data-field='used']")
    used.locator("[name=value]").fill("300")
    used.locator("[name=time]").fill("9")
    used.locator("[name=speed]").fill("11")
    page.click("#read-card")
    expect(top.locator(".problem")).to_contain_text("is no number with a unit")
    expect(used.locator(".problem")).to_be_hidden()
    assert top.locator("[name=value]").evaluate("(one) => one === document.activeElement")
    sound(page, size)
    top.locator("[name=value]").fill("25")
    top.locator("[name=unit]").select_option("m/s")
    top.locator("[name=spread]").fill("1")
    page.click("#read-card")
    expect(page.locator("#told")).to_contain_text("23.7–26.3 m/s")
    assert "What it teaches of the plane" in page.inner_text("#told")
    page.click(".set-aside")
    expect(page.locator("#told")).to_be_hidden()
    assert kept(server) == []
    page.click("#read-card")
    page.click(".keep-flight")
    expect(page.locator(".flight")).to_have_count(1)
    (name,) = kept(server)
    note = tomllib.loads((server.folder / "flights" / name).read_text(encoding="utf-8"))
    assert {one["what"] for one in note["observations"]} == {"top_speed", "charge_used"}


@SIZES
def test_a_flight_is_held_beside_one_from_before(
    server: Server, leaf: Leaf, size: dict[str, int]
) -> None:
    """A kept flight is ticked; every figure both have is told with what is made of it."""
    old = server.folder / "flights" / "2026-05-01 old.csv"
    old.parent.mkdir()
    old.write_bytes(log_of(server).read_bytes())
    old.with_suffix(".toml").write_text(f'date = 2026-05-01\nlog = "{old.name}"\n', "utf-8")
    page = leaf(f"{server.url}flights", size)
    bring(page, log_of(server))
    page.click(".beside summary")
    page.check("[name=before]")
    page.click(".hold-beside")
    expect(page.locator("#change-title")).to_have_text(
        "The change: 1 flight before, 1 flight after"
    )
    assert page.is_checked("[name=before]")
    opened(page)
    sound(page, size)


def test_a_killed_notebook_loses_nothing_confirmed(server: Server, leaf: Leaf) -> None:
    """Columns stay remembered, the log is given again by the tab, and kept when asked again."""
    page = leaf(f"{server.url}flights")
    bring(page, log_of(server))
    page.click(".confirm")
    expect(page.locator("#doing")).to_contain_text("Remembered")
    remembered = columns(server)
    server.kill()
    page.click(".keep-flight")
    expect(page.locator("#said")).to_contain_text("the notebook is closed")
    server.start()
    assert columns(server) == remembered
    assert kept(server) == ["columns.toml"]
    page.click(".keep-flight")
    expect(page.locator("#said")).to_contain_text("read again")
    page.wait_for_selector("#told:not([aria-busy])")
    page.click(".keep-flight")
    expect(page.locator(".flight")).to_have_count(1)
    before = kept(server)
    server.kill()
    server.start()
    page.goto(f"{server.url}flights")
    expect(page.locator(".flight")).to_have_count(1)
    assert kept(server) == before


def test_a_notebook_closed_in_peace_leaves_no_log_behind(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What waits to be decided on lies among the temporary files, and goes with Ctrl-C."""
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setenv("TMPDIR", str(temporary))
    server = Server(folder)
    try:
        line = http.client.HTTPConnection("127.0.0.1", server.port, timeout=PATIENCE)
        origin = {"origin": f"http://127.0.0.1:{server.port}"}
        line.request("POST", "/flights/log?name=x.csv", body=b"a,b\n1,2\n", headers=origin)
        assert line.getresponse().read()
        line.close()
        assert [path.read_bytes() for path in temporary.rglob("x.csv")] == [b"a,b\n1,2\n"]
        server.process.send_signal(signal.SIGINT)
        server.process.wait(PATIENCE)
        assert list(temporary.rglob("x.csv")) == []
    finally:
        server.kill()


def test_the_answers_beside_the_drawing_follow_a_kept_flight(server: Server, leaf: Leaf) -> None:
    """In a tab that was open all the time."""
    notebook = leaf(server.url)
    answered(notebook)
    speed = '[data-question="speed"] .line'
    before = notebook.inner_text(speed)
    page = leaf(f"{server.url}flights")
    bring(page, log_of(server))
    page.click(".keep-flight")
    expect(page.locator(".flight")).to_have_count(1)
    until(lambda: notebook.inner_text(speed) != before, "another answer")
    assert "asking" not in notebook.inner_text(speed)


def test_a_log_over_the_limit_is_never_sent(server: Server, leaf: Leaf, tmp_path: Path) -> None:
    """The tab knows the size of a file before it reads a byte of it."""
    large = tmp_path / "large.csv"
    with large.open("wb") as out:
        out.truncate(LARGEST + 1)
    page = leaf(f"{server.url}flights")
    sent: list[str] = []
    page.on("request", lambda request: sent.append(request.url))
    page.set_input_files("#file", str(large))
    expect(page.locator("#said")).to_contain_text("200.0 MB at most")
    assert not any("/flights/log" in url for url in sent)
    bring(page, log_of(server))


@pytest.mark.parametrize(
    ("origin", "length", "status"),
    [
        ("http://evil.example", 10, b"403"),
        ("", 10, b"403"),
        (None, LARGEST + 1, b"413"),
        (None, 10**15, b"413"),
    ],
)
def test_a_refusal_comes_before_the_first_byte(
    server: Server, origin: str | None, length: int, status: bytes
) -> None:
    """Over a plain socket: the head of the request is enough for the served page."""
    own = f"http://127.0.0.1:{server.port}"
    head = (
        f"POST /flights/log?name=x.csv HTTP/1.1\r\nhost: 127.0.0.1:{server.port}\r\n"
        f"origin: {own if origin is None else origin}\r\ncontent-length: {length}\r\n\r\n"
    )
    with socket.create_connection(("127.0.0.1", server.port), timeout=15) as line:
        line.sendall(head.encode())
        assert line.recv(64).split()[1] == status


def test_a_log_on_its_way_is_told_and_can_be_stopped(
    server: Server, leaf: Leaf, tmp_path: Path
) -> None:
    """On a slow line the bar moves; stopped, nothing is left."""
    large = tmp_path / "large.csv"
    large.write_bytes(b"1,2,3,4\n" * (1 << 20))
    page = leaf(f"{server.url}flights")
    line = page.context.new_cdp_session(page)
    line.send("Network.enable")
    line.send(
        "Network.emulateNetworkConditions",
        {"offline": False, "latency": 0, "downloadThroughput": -1, "uploadThroughput": 1 << 20},
    )
    page.set_input_files("#file", str(large))
    share = "() => document.getElementById('sent').value"
    until(lambda: 0.0 < page.evaluate(share) < 1.0, "a part of the log to be sent")
    assert "of 8.4 MB" in page.inner_text("#sent-words") or "of 8.0 MB" in page.inner_text(
        "#sent-words"
    )
    page.click("#stop")
    expect(page.locator("#said")).to_contain_text("Stopped; nothing was taken in.")
    expect(page.locator("#sending")).to_be_hidden()


def test_a_flight_prints_whole(server: Server, leaf: Leaf) -> None:
    """Columns, stretches and lessons are on the paper, the way to bring a log is not."""
    page = leaf(f"{server.url}flights")
    bring(page, log_of(server))
    page.evaluate("() => window.dispatchEvent(new Event('beforeprint'))")
    text = "".join(
        sheet.get_textpage().get_text_bounded()
        for sheet in pypdfium2.PdfDocument(page.pdf(format="A4"))
    )
    for words in ("glide ratio", "What it teaches of the plane", "example-log.csv", "drag area"):
        assert words in text
    assert "Drop it here" not in text


def ranked(page: Page) -> None:
    """Wait for the steps."""
    page.wait_for_selector("#steps:not([aria-busy]) .ranked li", timeout=60_000)


@pytest.mark.parametrize(("size", "scheme"), [(WIDE, "light"), (PHONE, "dark")])
def test_the_next_steps(server: Server, leaf: Leaf, size: dict[str, int], scheme: str) -> None:
    """What is done is told, then the steps are there, as a list and as a table."""
    page = leaf(f"{server.url}next", size, scheme=scheme)
    assert page.locator("#doing").is_visible()
    sound(page, size)
    expect(page.locator("#doing")).to_contain_text("trying:", timeout=30_000)
    ranked(page)
    opened(page)
    assert page.locator(".ranked li").count() == page.locator(".as-table tbody tr").count()
    assert {"change", "test"} >= set(page.locator(".asks-for b").all_inner_texts())
    sound(page, size)
    page.reload()
    ranked(page)


def test_a_step_is_tried_on_the_drawing(server: Server, leaf: Leaf) -> None:
    """By keyboard: the notebook opens with it tried, nothing written; once, not on every visit."""
    page = leaf(f"{server.url}next")
    ranked(page)
    before = server.text()
    what = page.locator(".ranked li h2 >> nth=0").inner_text().partition(". ")[2]
    page.locator("button.try >> nth=0").focus()
    page.keyboard.press("Enter")
    page.wait_for_url(server.url)
    expect(page.locator("#trial .what")).to_have_text(what)
    answered(page)
    assert server.text() == before
    page.reload()
    answered(page)
    assert page.locator("#trial").is_hidden()


def test_the_notebook_answers_while_steps_are_ranked(server: Server, leaf: Leaf) -> None:
    """The other leaf is drawn and answers before the ranking is done."""
    page = leaf(f"{server.url}next")
    expect(page.locator("#doing")).to_contain_text("trying:", timeout=30_000)
    notebook = leaf(server.url)
    answered(notebook)
    assert page.locator("#steps").get_attribute("aria-busy") == "true"


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["desk", "phone"])
def test_what_a_finger_has_to_hit_is_large(
    server: Server, leaf: Leaf, size: dict[str, int]
) -> None:
    """WCAG 2.2, 2.5.8: 24 by 24 px at least; on a phone 44 px for what decides."""
    page = leaf(f"{server.url}flights", size)
    bring(page, log_of(server))
    least = 44.0 if size == PHONE else 24.0
    for selector in (".keep-flight", ".set-aside", ".confirm", ".read-so"):
        box = page.locator(selector).bounding_box()
        assert box is not None
        assert box["height"] >= least
