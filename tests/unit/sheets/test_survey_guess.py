"""The sheet of what the house is taken to be made of says what an unnamed wall or floor counts as."""

from __future__ import annotations

from rehaul.jobs import demo_job
from rehaul.planning import plan
from rehaul.predict.kinds import guess_words
from rehaul.sheets.tables_survey import floors, walls


def test_an_unnamed_wall_is_told_by_its_chances() -> None:
    assert (
        guess_words("wall", "US", 1990, 0.1)
        == "not named; studs and plasterboard 90 %, masonry of unknown make 10 %"
    )
    assert guess_words("wall", "DE", 1990, 0.25) == "not named; masonry of unknown make"
    assert guess_words("floor", "DE", 1990, 0.3).startswith(
        "not named; concrete slab 200 mm with screed 50 mm 90 %"
    )


def test_the_sheet_says_so() -> None:
    job = demo_job()
    unnamed = job.house.walls[0].model_copy(update={"construction": "unknown", "layers": ()})
    floor = job.house.storeys[-1].floor.model_copy(update={"construction": "unknown", "layers": ()})
    storeys = (*job.house.storeys[:-1], job.house.storeys[-1].model_copy(update={"floor": floor}))
    house = job.house.model_copy(update={"walls": (unnamed, *job.house.walls[1:]), "storeys": storeys})
    found = plan(job.model_copy(update={"house": house}))
    for made in (walls(found), floors(found)):
        assert any("not named; " in str(cell) for row in made.rows for cell in row)
