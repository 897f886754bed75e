"""The room of a body that stands in several."""

from __future__ import annotations

import pytest

from rehaul.house import Body, House, Room, Storey
from rehaul.house.model import BodyKind
from rehaul.predict.body_room import room_about

STOREY = Storey(id="0", name="Ground", elevation_m=0.0, height_m=2.5)
SMALL = Room(id="R1", name="Small", storey="0", polygon=((0, 0), (2, 0), (2, 4), (0, 4)))
LARGE = Room(id="R2", name="Large", storey="0", polygon=((2, 0), (8, 0), (8, 4), (2, 4)))
FAR = Room(id="R3", name="Far", storey="0", polygon=((8, 0), (9, 0), (9, 4), (8, 4)))
HOUSE = House(storeys=(STOREY,), rooms=(SMALL, LARGE, FAR))


@pytest.mark.parametrize(("left_m", "in_small"), [(0.5, 1.0), (1.5, 0.5), (1.75, 0.25), (2.0, 0.0)])
def test_it_is_between_them_by_how_much_of_it_stands_in_each(left_m: float, in_small: float) -> None:
    body = Body(
        id="B1",
        kind=BodyKind.FRIDGE,
        storey="0",
        corner=(left_m, 1.0),
        width_m=1.0,
        depth_m=0.5,
        height_m=1.8,
    )  # fmt: skip
    found = room_about(body, STOREY, HOUSE)
    assert found is not None
    assert found.volume_m3 == pytest.approx((in_small * 8.0 + (1 - in_small) * 24.0) * 2.5)
