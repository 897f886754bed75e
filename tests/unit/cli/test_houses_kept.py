"""A house that was read goes into a job, or becomes one, and where it went is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.cli.houses import keep_house, require_place
from rehaul.errors import BadInput
from rehaul.house import House, Job, Outlet, Storey
from rehaul.house.readers.report import ElementCounts, ReadReport
from rehaul.jobs import open_job, save_job

GROUND = Storey(id="1", name="Ground", elevation_m=0.0)
READ = ReadReport(
    House(name="Read", storeys=(GROUND,)),
    ElementCounts(storeys=1, walls=0, doors=0, windows=0, rooms=0),
)
MODEL = Path("drawn.ifc")


def test_into_a_job_that_exists(tmp_path: Path) -> None:
    """Its own id, title and outlets stay."""
    into = tmp_path / "old.rehaul.json"
    plate = Outlet(id="o", storey="1")
    save_job(into, Job(id="old", title="Old", house=House(name="Was", storeys=(GROUND,), outlets=(plate,))))
    assert keep_house(READ, MODEL, into, None) == into
    found = open_job(into)
    assert (found.id, found.title, found.house.name) == ("old", "Old", "Read")
    assert found.house.outlets == (plate,)


def test_as_a_new_job(tmp_path: Path) -> None:
    out = tmp_path / "new.rehaul.json"
    assert keep_house(READ, MODEL, None, out) == out
    found = open_job(out)
    assert (found.id, found.title, found.house.storeys) == ("job", "Read", (GROUND,))


def test_nowhere_where_nothing_is_asked_for(tmp_path: Path) -> None:
    assert keep_house(READ, MODEL, None, None) is None and list(tmp_path.iterdir()) == []


def test_a_place_is_refused_before_anything_is_read(tmp_path: Path) -> None:
    there, model, free = tmp_path / "there", tmp_path / "drawn.ifc", tmp_path / "free"
    for path in (there, model):
        path.write_text("kept")
    require_place(model, None, None, False)
    require_place(model, there, None, False)
    require_place(model, None, free, False)
    require_place(model, None, there, True)
    for into, out, replace in ((there, free, True), (None, there, False), (None, model, True)):
        with pytest.raises(BadInput):
            require_place(model, into, out, replace)
    assert there.read_text() == model.read_text() == "kept"
