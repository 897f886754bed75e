"""The house in 3-D in a real browser: seen, turned without a mouse, coloured by the one scale, in words."""

from __future__ import annotations

import base64
import io
import json
import math
import re
import struct
import time
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest
from browsing import Tab, barriers, lasting, paired_tab
from numpy.typing import NDArray
from PIL import Image
from playwright.sync_api import Browser, Page
from server import LastingWorker, Running, running
from shapely import Polygon, contains_xy

from rehaul.house import Job
from rehaul.jobs import demo_job, save_job

pytestmark = pytest.mark.browser

JOB = demo_job()
PAGE = f"/jobs/{JOB.id}/model"
SMALL = {"width": 800, "height": 600}  # drawn without a graphics card: each picture takes its time


@pytest.fixture(scope="module")
def browser(drawing_browser: Browser) -> Browser:
    return drawing_browser


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    folder = tmp_path_factory.mktemp("solid")
    save_job(folder / "demo.rehaul.json", JOB)
    save_job(folder / "bare.rehaul.json", Job(id="bare", title="Bare"))
    with running(folder, worker=LastingWorker) as found:
        yield found


def drawn(browser: Browser, server: Running, **context: Any) -> Tab:
    tab = paired_tab(browser, server, PAGE, **context)
    tab.page.locator(".tags").wait_for(state="attached", timeout=20_000)
    tab.page.wait_for_function(
        "rooms => [...document.querySelectorAll('tbody tr')].filter("
        "row => / to /.test(row.cells[2]?.innerText)).length === rooms",
        arg=len(JOB.house.rooms),
        timeout=40_000,
    )
    return tab


@pytest.fixture(scope="module")
def seen(browser: Browser, server: Running) -> Iterator[Tab]:
    """One tab for those who only look."""
    with lasting(drawn(browser, server)) as tab:
        yield tab


def pixels(page: Page) -> NDArray[np.int16]:
    """The drawing as it stands, (y, x, rgb)."""
    url = page.locator("canvas").evaluate("canvas => canvas.toDataURL('image/png')")
    picture = Image.open(io.BytesIO(base64.b64decode(url.split(",")[1])))
    return np.asarray(picture.convert("RGB")).astype(np.int16)


def tinted(page: Page) -> float:
    """Share of the drawing in colours of the legend."""
    fills = page.locator("figure svg rect[fill]").evaluate_all(
        "all => all.map(one => one.getAttribute('fill'))"
    )
    scale = np.array([[int(part) for part in re.findall(r"\d+", fill)] for fill in fills])
    far = np.abs(pixels(page)[::3, ::3, None, :] - scale).max(axis=-1).min(axis=-1)
    return float((far <= 4).mean())


def until(holds: Callable[[], bool], why: str, patience_s: float = 60.0) -> None:
    """Wait for a picture to be as it should: it follows the words by a frame or more."""
    end_s = time.monotonic() + patience_s
    while not holds():
        assert time.monotonic() < end_s, why
        time.sleep(0.1)


def is_tinted(page: Page) -> bool:
    return tinted(page) > 0.2


def is_bare(page: Page) -> bool:
    """Whether nothing on the picture has a colour."""
    picture = pixels(page)
    colour = np.abs(picture - picture.mean(axis=-1, keepdims=True)).max(axis=-1)
    return bool((colour > 30).mean() < 0.001)


def commonest_tint(page: Page) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """The commonest colour that is no grey, and the last of the legend."""
    flat = pixels(page).reshape(-1, 3)
    colours, counts = np.unique(flat[np.ptp(flat, axis=1) > 30], axis=0, return_counts=True)
    last = page.locator("figure svg rect[fill]").last.get_attribute("fill")
    return colours[counts.argmax()], np.array([int(part) for part in re.findall(r"\d+", str(last))])


def test_the_house_is_drawn_and_said(seen: Tab) -> None:
    page = seen.page
    assert barriers(page) == []
    assert f"{len(JOB.house.storeys)} storeys" in str(
        page.get_by_role("img", name="House in three dimensions").get_attribute("aria-label")
    )
    colours = len(np.unique(pixels(page).reshape(-1, 3), axis=0))
    assert colours > 200, "maps, inks and paper"
    rooms = [row.inner_text() for row in page.locator("tbody th").all()]
    assert sorted(rooms) == sorted(room.name for room in JOB.house.rooms)
    assert (seen.faults, seen.strays) == ([], [])


def test_the_floor_shows_the_map_by_the_scale_of_the_legend(browser: Browser, server: Running) -> None:
    tab = drawn(browser, server, viewport=SMALL)
    page = tab.page
    page.get_by_role("button", name="Above").click()
    assert page.locator("figure svg rect[fill]").count() > 20
    until(lambda: is_tinted(page), "the map in the colours of the legend")
    for name in (storey.name for storey in reversed(JOB.house.storeys[1:])):
        page.get_by_role("button", name=name).click()
    assert "1 storey" in str(
        page.get_by_role("img", name="House in three dimensions").get_attribute("aria-label")
    )
    until(lambda: is_tinted(page), "one floor's map in the colours of the legend")

    def as_fast_as_the_line() -> bool:
        seen_most, legend_last = commonest_tint(page)
        return bool(np.abs(seen_most - legend_last).max() <= 6)

    until(as_fast_as_the_line, "beside the router it is as fast as the line, the end of the scale")
    page.get_by_label("Map").select_option("power_dbm")
    page.wait_for_function("() => / dBm to /.test(document.querySelector('tbody').innerText)")
    until(lambda: is_tinted(page), "the map of power in the colours of the legend")
    page.get_by_label("Map").select_option("")
    until(lambda: is_bare(page), "colour only where it carries a number")


def test_the_words_are_the_map(seen: Tab, server: Running) -> None:
    client = server.paired("Ben")
    with server.socket(client, f"/api/jobs/{JOB.id}/field") as socket:
        for storey in JOB.house.storeys:
            socket.send(json.dumps({"n": 1, "storey": storey.id, "quantity": "down_mbps"}))
            frame = socket.recv(timeout=30)
            assert isinstance(frame, bytes)
            (length,) = struct.unpack_from("<I", frame)
            head = json.loads(frame[4 : 4 + length])
            values = np.frombuffer(frame, np.float32, offset=4 + length).reshape(head["rows"], head["cols"])
            x = head["x0_m"] + head["step_m"] * np.arange(head["cols"])
            y = head["y0_m"] + head["step_m"] * np.arange(head["rows"])
            for room in (one for one in JOB.house.rooms if one.storey == storey.id):
                inside = contains_xy(Polygon(room.polygon), *np.meshgrid(x, y))
                row = seen.page.locator(
                    "tbody tr", has=seen.page.locator("th", has_text=re.compile(f"^{room.name}$"))
                )
                low, high = row.locator("td").nth(1).inner_text().split(" to ")
                assert float(low.split()[0]) == pytest.approx(np.nanmin(values[inside]), abs=0.51)
                assert float(high.split()[0]) == pytest.approx(np.nanmax(values[inside]), abs=0.51)


@pytest.mark.long
def test_turned_without_a_mouse(browser: Browser, server: Running) -> None:
    tab = drawn(browser, server, color_scheme="dark", viewport=SMALL)
    page = tab.page
    assert barriers(page) == []
    sheet = page.get_by_role("application")
    sheet.focus()

    def stands() -> tuple[int, int, float]:
        return tuple(float(str(sheet.get_attribute(f"data-{part}"))) for part in ("turn", "tilt", "scale"))  # type: ignore[return-value]

    turn, tilt, scale = stands()
    before = pixels(page)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("+")
    assert stands() == (turn + 5, tilt + 5, pytest.approx(scale * 1.2, abs=0.1))
    until(lambda: bool(np.abs(pixels(page) - before).max() > 50), "the picture itself turned")
    page.keyboard.press("Home")
    assert stands() == (turn, tilt, scale)
    for name, what in (("Turn right", 0), ("Look from higher", 1), ("Nearer", 2)):
        was = stands()[what]
        page.get_by_role("button", name=name).click()
        assert stands()[what] > was
    page.keyboard.press("Tab")
    spot = sheet.bounding_box()
    assert spot is not None
    was_turn = stands()[0]
    page.mouse.move(spot["x"] + 200, spot["y"] + 200)
    page.mouse.down()
    page.mouse.move(spot["x"] + 300, spot["y"] + 200, steps=4)
    page.mouse.up()
    assert stands()[0] != was_turn
    assert tab.faults == []


FIGURES = """window.figures = [];
const SHEET_PX_PER_M = 56; // of the sheet on a floor
const fill = CanvasRenderingContext2D.prototype.fillText;
CanvasRenderingContext2D.prototype.fillText = function (words, ...more) {
    if (/^\u2212?\\d+$/.test(words)) figures.push(parseFloat(this.font) / SHEET_PX_PER_M);
    return fill.call(this, words, ...more);
};"""


@pytest.mark.long
def test_contours_can_be_read_from_the_start(browser: Browser, server: Running) -> None:
    """Their figures lie on the floor, so they are seen aslant: at least 11 px high."""
    laptop = drawn(browser, server, script=FIGURES, viewport={"width": 1366, "height": 850})
    sheet = laptop.page.get_by_role("application")
    scale, tilt = (float(str(sheet.get_attribute(f"data-{part}"))) for part in ("scale", "tilt"))
    high_m = laptop.page.evaluate("figures")
    assert len(high_m) > 4, "contours have figures"
    assert min(high_m) * scale * math.sin(math.radians(tilt)) >= 11


ANCHOR = "tag => [parseFloat(tag.style.left), parseFloat(tag.style.top)]"


def ink_at(page: Page, x: float, y: float) -> bool:
    """Whether the drawing has its darkest colour within a few pixels of a place."""
    picture = pixels(page)
    dense = picture.shape[1] / page.locator("canvas").evaluate("canvas => canvas.clientWidth")
    row, col = round(y * dense), round(x * dense)
    around = picture[max(0, row - 2) : row + 3, max(0, col - 2) : col + 3].reshape(-1, 3)
    return bool((around.max(axis=1) < 60).any())


def test_the_plans_access_points_stand_where_it_puts_them(browser: Browser, server: Running) -> None:
    client = server.paired("Ben")
    path = f"/api/jobs/{JOB.id}/plan"
    client.post(path)
    until(lambda: client.get(path).json()["state"] == "done", "the plan", 120)
    chosen = client.get(path).json()["plan"]["choice"]["access_points"]
    assert chosen
    page = drawn(browser, server, viewport=SMALL).page
    page.get_by_role("button", name="With the plan").click()
    tags = page.locator(".tags .bold")
    until(lambda: sorted(tags.all_inner_texts()) == sorted(one["id"] for one in chosen), "their tags")
    page.get_by_label("Cables").uncheck()
    page.get_by_role("button", name="Above").click()
    names = {storey.id: storey.name for storey in JOB.house.storeys}
    for alone in {one["site"]["storey"] for one in chosen}:
        others = [name for storey, name in names.items() if storey != alone]
        for name in others:
            page.get_by_role("button", name=name).click()
        for one in (one for one in chosen if one["site"]["storey"] == alone):
            tag = tags.filter(has_text=re.compile(f"^{one['id']}$"))
            until(lambda tag=tag: ink_at(page, *tag.evaluate(ANCHOR)), f"{one['id']} drawn where its tag is")
        for name in others:
            page.get_by_role("button", name=name).click()
    rows = page.locator("tbody").inner_text()
    assert all(one["id"] in rows for one in chosen), "in words too"


def test_it_is_fetched_only_where_it_is_looked_at(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, f"/jobs/{JOB.id}/house")
    asked: list[str] = []
    tab.page.on("request", lambda request: asked.append(request.url))
    tab.page.get_by_role("heading").first.wait_for()
    tab.page.reload()
    tab.page.get_by_role("heading").first.wait_for()
    assert any("/assets/" in url for url in asked)
    assert not any("/assets/drawing" in url for url in asked)
    tab.page.get_by_role("link", name="House in 3-D").click()
    tab.page.locator(".tags").wait_for(state="attached", timeout=20_000)
    assert any("/assets/drawing" in url for url in asked)


def test_nothing_yet_says_what_to_do(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, "/jobs/bare/model")
    tab.page.get_by_text("Nothing stands yet").wait_for()
    assert tab.page.locator("main a[href='/jobs/bare/house']").count() == 1
    assert barriers(tab.page) == []


def test_without_webgl_the_words_remain(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, PAGE, script="HTMLCanvasElement.prototype.getContext = () => null")
    tab.page.get_by_text("cannot draw in three dimensions").wait_for()
    assert tab.page.locator("tbody tr").count() == len(JOB.house.rooms)
