"""Names stand in their own rooms, whatever else is drawn there."""

from __future__ import annotations

import re

import pytest
from shapely import Point, Polygon

import sample_plan
from rehaul.house import House, Room, Storey
from rehaul.sheets import map_svg, sheet_svg
from rehaul.sheets.layout import lay


def middles(drawn: str) -> dict[str, tuple[float, float]]:
    """Where each line of italic text is anchored."""
    found = re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*font-style="italic"[^>]*>([^<]+)</text>', drawn)
    return {words.replace("&#39;", "'"): (float(x), float(y)) for x, y, words in found}


@pytest.mark.parametrize("storey", ["B", "G", "U"])
def test_every_name_stands_in_its_room(storey: str) -> None:
    plan = sample_plan.plan()
    house = plan.job.house
    here = next(s for s in house.storeys if s.id == storey)
    view = lay(house, here, "metric").view
    for drawn in (sheet_svg(plan, storey), map_svg(plan, storey, "before"), map_svg(plan, storey)):
        places = middles(drawn)
        for room in house.rooms:
            if room.storey == storey:
                shape = Polygon([view.at(corner) for corner in room.polygon])
                assert shape.contains(Point(places[room.name])), room.name


def test_a_long_name_goes_on_two_lines_and_is_cut_with_an_ellipsis() -> None:
    room = Room(
        id="r", name="Winter garden with the old press", storey="1", polygon=((0, 0), (2, 0), (2, 9), (0, 9))
    )
    drawn = sheet_svg(House(storeys=(Storey(id="1", name="1", elevation_m=0),), rooms=(room,)), "1")
    lines = [words for words in middles(drawn) if words != "mark north by hand"]
    assert len(lines) == 2
    assert " ".join(lines).removesuffix("…") in room.name
