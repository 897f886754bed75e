"""What stands between a room and its box: the losses are those of the field on the straight way."""

from __future__ import annotations

import numpy as np
import pytest

from rehaul.house.geometry import room_centre, storey_of
from rehaul.jobs import demo_job
from rehaul.predict import scene_of, standing_radiators
from rehaul.predict.spectra import spectrum_of
from rehaul.proof import room_named, way_to
from rehaul.radio import Scene, Transmitter, field

JOB = demo_job()
SCENE = scene_of(JOB.house, JOB.country)
EMPTY = Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), ())


@pytest.mark.parametrize("name", ["Parlour", "Breakfast room", "Hall", "Garage"])
def test_the_losses_add_up_to_what_the_field_loses(name: str) -> None:
    room = room_named(JOB, name)
    way = way_to(JOB, room, scene=SCENE)
    box = next(row for row in standing_radiators(JOB) if row.name == way.box)
    place = (*room_centre(room), storey_of(JOB.house, room.storey).elevation_m + 1.2)
    sends, bands = Transmitter(box.position_m), [spectrum_of(way.band)]
    open_air = float(field(EMPTY, sends, [place], bands).gain_db[0, 0])
    in_full, eased = (
        open_air - float(field(SCENE.scene, sends, [place], bands, eased=on).gain_db[0, 0])
        for on in (False, True)
    )
    unsaid_db = 0.5 * 12  # pieces that cost less than half a decibel are left out
    assert -0.2 <= in_full - sum(one.loss_db for one in way.passes) <= unsaid_db
    assert way.together_db == pytest.approx(eased, abs=0.06) and way.together_db <= in_full + 0.1
    assert way.length_m == pytest.approx(float(np.linalg.norm(np.subtract(place, box.position_m))), abs=0.06)


def test_walls_doors_and_floors_have_their_names() -> None:
    up = way_to(JOB, room_named(JOB, "Bay bedroom"), scene=SCENE)
    assert [one.what for one in up.passes if one.what.startswith("floor")] == ["floor of First floor"]
    parlour = way_to(JOB, room_named(JOB, "Parlour"), scene=SCENE)
    assert [one.what for one in parlour.passes][:3] == ["wall W013", "wall W002", "door D15"]
    assert parlour.passes == tuple(sorted(parlour.passes, key=lambda one: one.distance_m))
    assert way_to(JOB, room_named(JOB, "Garage"), scene=SCENE).sentence.endswith(
        "nothing stands between them"
    )
