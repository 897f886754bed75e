"""A house drawn from nothing in a real browser: over a picture, by mouse, by typed lengths, by keyboard."""

from __future__ import annotations

import io
from collections.abc import Iterator
from math import hypot
from pathlib import Path
from typing import Any

import pytest
from browsing import Tab, paired_tab
from drawn_by_hand import draw, job_of, take
from PIL import Image
from playwright.sync_api import Browser
from server import Running, running
from sheet_places import at

from rehaul.house import Job
from rehaul.jobs import save_job

pytestmark = pytest.mark.browser

Fields = dict[str, Any]


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    with running(tmp_path) as found:
        yield found


@pytest.fixture
def tab(browser: Browser, server: Running, tmp_path: Path) -> Tab:
    save_job(tmp_path / "blank.rehaul.json", Job(id="blank", title="Blank"))
    found = paired_tab(browser, server, "/jobs/blank/house", viewport={"width": 1366, "height": 900})
    found.page.get_by_role("button", name="Add the first storey").click()
    found.page.get_by_role("application").wait_for()
    return found


def test_a_house_from_nothing_to_a_first_map(server: Running, tab: Tab) -> None:
    page = tab.page
    take(tab, "Wall")
    sheet = draw(tab, (1, 1), (7, 1), (7, 5), (1, 5), (1, 1))
    walls = job_of(server, tab)["house"]["walls"]
    lengths = [hypot(w["end"][0] - w["start"][0], w["end"][1] - w["start"][1]) for w in walls]
    assert lengths == pytest.approx([6, 4, 6, 4], abs=1e-6)

    draw(tab, (4, 1))
    sheet.hover(position=at(sheet, 4, 3))
    page.keyboard.type("400 cm")
    page.keyboard.press("Enter")
    page.keyboard.press("Escape")
    walls = job_of(server, tab)["house"]["walls"]
    assert len(walls) == 7, "the new wall cuts the two that it meets"

    take(tab, "Room")
    draw(tab, (2, 3))
    page.get_by_label("Name, used everywhere").fill("Parlour")
    page.get_by_label("Name, used everywhere").press("Enter")
    draw(tab, (6, 4))
    take(tab, "Door")
    draw(tab, (4, 3))
    take(tab, "Box")
    draw(tab, (2, 2))
    page.get_by_label("Class of equipment").select_option("router HE 2x2")
    page.get_by_label("The service from outside enters here").check()
    page.get_by_text("What its radio is set to").click()
    page.get_by_label("5 GHz, width").select_option("40 MHz")
    page.get_by_label("5 GHz, channel").fill("36")
    page.get_by_label("5 GHz, channel").press("Enter")
    job = job_of(server, tab)
    assert job["house"]["rooms"][0]["name"] == "Parlour"
    assert [_area(room["polygon"]) for room in job["house"]["rooms"]] == pytest.approx([12, 12])
    (door,) = job["house"]["openings"]
    assert door["offset_m"] + door["width_m"] / 2 == pytest.approx(2, abs=0.05)
    assert job["service"]["modem"] == job["boxes"][0]["id"]
    assert job["boxes"][0]["set_to"] == [{"band": "5", "channel": 36, "width_mhz": 40}]

    page.get_by_role("combobox", name="Map").select_option("down_mbps")
    page.wait_for_function(COLOURED, timeout=60_000)
    take(tab, "Ask a spot")
    draw(tab, (6, 4))
    chain = page.get_by_role("region", name="What this spot gets")
    chain.wait_for(timeout=30_000)
    assert "narrowest" in chain.inner_text()
    assert (tab.faults, tab.strays) == ([], [])


COLOURED = """() => {
  const canvas = document.querySelector('canvas'), pen = canvas.getContext('2d');
  const data = pen.getImageData(0, 0, canvas.width, canvas.height).data;
  let inked = 0; for (let i = 3; i < data.length; i += 4) inked += data[i] > 0;
  return inked > data.length / 4 / 20;
}"""


def test_undo_redo_and_dragging(server: Running, tab: Tab) -> None:
    page = tab.page
    take(tab, "Wall")
    sheet = draw(tab, (1, 1), (7, 1), (7, 5))
    page.keyboard.press("Escape")
    assert len(job_of(server, tab)["house"]["walls"]) == 2
    page.get_by_role("button", name="Undo").click()
    assert len(job_of(server, tab)["house"]["walls"]) == 1
    page.get_by_role("button", name="Redo").click()
    assert len(job_of(server, tab)["house"]["walls"]) == 2
    take(tab, "Select")
    sheet.drag_to(sheet, source_position=at(sheet, 7, 3), target_position=at(sheet, 8, 3))
    walls = job_of(server, tab)["house"]["walls"]
    assert walls[0]["end"] == pytest.approx([8, 1], abs=0.051), "the wall that ends there follows"
    assert walls[0]["end"] == walls[1]["start"]


def test_everything_by_keyboard_and_in_feet(server: Running, tab: Tab) -> None:
    page = tab.page
    page.get_by_role("combobox", name="Lengths in").select_option("imperial")
    page.get_by_role("application").focus()
    page.keyboard.press("w")
    page.keyboard.press("Enter")
    for _ in range(10):
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    page.keyboard.press("Escape")
    page.keyboard.press("o")
    page.keyboard.press("Enter")
    job = job_of(server, tab)
    (wall,) = job["house"]["walls"]
    assert wall["end"][0] - wall["start"][0] == pytest.approx(60 * 0.0254, abs=0.03)
    assert [outlet["id"] for outlet in job["house"]["outlets"]] == ["1-01"]

    page.get_by_role("button", name="Things").click()
    page.get_by_role("button", name=wall["id"]).click()
    length = page.get_by_role("textbox", name="Length")
    length.fill("12' 6\"")
    length.press("Enter")
    (wall,) = job_of(server, tab)["house"]["walls"]
    assert wall["end"][0] - wall["start"][0] == pytest.approx(3.81, abs=1e-3)
    length.fill("a dozen")
    length.press("Enter")
    page.get_by_role("alert").get_by_text("Type a length like").wait_for()
    page.get_by_role("application").focus()
    page.keyboard.press("Delete")
    assert job_of(server, tab)["house"]["walls"] == []


def test_a_picture_under_the_sheet_is_scaled_by_one_known_length(server: Running, tab: Tab) -> None:
    page = tab.page
    picture = io.BytesIO()
    Image.new("RGB", (400, 300), "#eeddcc").save(picture, "PNG")
    page.get_by_role("button", name="Picture").click()
    page.get_by_label("Photo, scan or PDF").set_input_files(
        {"name": "plan.png", "mimeType": "image/png", "buffer": picture.getvalue()}
    )
    page.get_by_role("button", name="Set its scale by a known length").click()
    draw(tab, (1, 1), (5, 1))
    page.get_by_label("That length is really").fill("3.81")
    page.get_by_role("button", name="Set the scale").click()
    page.get_by_text("11.43 m wide").wait_for()
    (row,) = server.paired("Reader").get("/api/jobs/blank/pictures").json()
    assert row["placement"]["metres_per_px"] == pytest.approx(12 / 400 * 3.81 / 4)
    assert row["placement"]["x_m"] == pytest.approx(1 - 3.81 / 4), "the first end stays where it is"


def test_rooms_typed_from_the_tape(server: Running, tab: Tab) -> None:
    page = tab.page
    page.get_by_role("button", name="By tape or file").click()
    page.get_by_role("textbox", name="Rooms").fill(
        "storey Ground, height 8' 2\"\nLiving 4.20 x 5.10\n"
        "Kitchen 10' 2\" x 5.10 right of Living\ndoor Living - Kitchen"
    )
    page.get_by_role("button", name="Read the rooms").click()
    page.get_by_role("button", name="Put it in").click()
    page.get_by_role("application").wait_for()
    house = job_of(server, tab)["house"]
    assert sorted(room["name"] for room in house["rooms"]) == ["Kitchen", "Living"]
    assert [storey["name"] for storey in house["storeys"]] == ["Ground"]
    page.get_by_role("button", name="Undo").click()
    assert job_of(server, tab)["house"]["rooms"] == [], "one gesture, undone in one go"


def _area(polygon: list[list[float]]) -> float:
    pairs = zip(polygon, [*polygon[1:], polygon[0]], strict=True)
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)) / 2
