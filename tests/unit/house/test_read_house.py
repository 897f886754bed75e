"""One door for every file: recognised by content, refused in one sentence."""

from __future__ import annotations

import json
import os
import tracemalloc
from pathlib import Path

import pytest

from rehaul.errors import BadInput
from rehaul.house import Hazard, HazardKind, House, Job, Outlet, Room, Splitter, Storey, Wall, dump_job
from rehaul.house.readers import ElementCounts, read_house, read_job_file, read_room_list, with_house

ROOMS = "Living 4.20 x 5.10\nKitchen 3.10 x 5.10 right of Living\ndoor Living - Kitchen\n"


def a_job(**fields: object) -> Job:
    house = House(
        storeys=(Storey(id="1", name="Ground", elevation_m=0),),
        walls=(Wall(id="w1", storey="1", start=(0, 0), end=(4, 0)),),
        **fields,  # type: ignore[arg-type]
    )
    return Job(id="mill", title="Mill", house=house)


def test_a_job_gives_its_house(tmp_path: Path) -> None:
    path = tmp_path / "mill.rehaul.json"
    path.write_text(dump_job(a_job()))
    report = read_house(path)
    assert report.house == a_job().house
    assert report.counts == ElementCounts(storeys=1, walls=1, doors=0, windows=0, rooms=0)


def test_content_rules_over_the_name(tmp_path: Path) -> None:
    path = tmp_path / "rooms.ods"
    path.write_text(ROOMS)
    assert read_house(path).counts.rooms == 2
    job = tmp_path / "mill.txt"
    job.write_text("\ufeff" + dump_job(a_job()), encoding="utf-8")
    assert read_house(job).counts.walls == 1


def test_a_list_in_an_old_code_page_is_read(tmp_path: Path) -> None:
    path = tmp_path / "zimmer.txt"
    path.write_bytes("Küche 4,20 × 5,10\n".encode("cp1252"))
    assert [room.name for room in read_house(path).house.rooms] == ["Küche"]


@pytest.mark.parametrize(
    ("name", "content", "problem"),
    [
        ("empty.txt", b"", "empty"),
        ("broken.json", b'{"schema_version": 3, "id": "m", "title": "M", "house"', "not JSON"),
        ("list.json", b"[1, 2]", "not a job document"),
        ("other.json", b'{"a": 1}', "no schema_version"),
        ("later.json", b'{"schema_version": 99, "id": "m", "title": "M"}', "schema version 99"),
        ("nan.json", b'{"schema_version": 3, "id": "m", "title": NaN}', "NaN"),
        ("plan.zip", b"PK\x03\x04rest", "packed file"),
        ("photo.jpg", b"\xff\xd8\xff\xe0\x00\x10JFIF\x00", "not a kind of file"),
        ("letter.txt", b"Dear madam,\n", "not understood"),
    ],
)
def test_what_cannot_be_read_is_refused(tmp_path: Path, name: str, content: bytes, problem: str) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(BadInput) as refusal:
        read_house(path)
    assert problem in refusal.value.problem
    assert name in refusal.value.where
    assert refusal.value.remedy
    assert path.read_bytes() == content


def test_a_missing_file_and_a_folder(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no such file"):
        read_house(tmp_path / "nothing.ifc")
    with pytest.raises(BadInput, match="is a folder"):
        read_house(tmp_path)


@pytest.mark.parametrize("name", ["huge.json", "huge.txt"])
def test_a_200_mb_file_is_refused_without_being_read(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    with path.open("wb") as file:
        file.write(b'{"schema_version": 3, ' if name.endswith("json") else b"Living 4 x 5\n")
        file.truncate(200 * 1024 * 1024)
    tracemalloc.start()
    with pytest.raises(BadInput, match="210 MB"):
        read_house(path)
    _, peak_bytes = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak_bytes < 1_000_000


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read(tmp_path: Path) -> None:
    path = tmp_path / "mine.txt"
    path.write_text(ROOMS)
    path.chmod(0)
    with pytest.raises(BadInput, match="cannot be read"):
        read_house(path)


def test_a_job_file_is_read_strictly(tmp_path: Path) -> None:
    data = json.loads(dump_job(a_job()))
    data["house"]["walls"][0]["thickness_m"] = -0.1
    path = tmp_path / "bad.rehaul.json"
    path.write_text(json.dumps(data))
    with pytest.raises(BadInput) as refusal:
        read_job_file(path)
    assert "house.walls[0] (w1).thickness_m" in refusal.value.where


def test_a_job_takes_a_house_and_keeps_its_survey() -> None:
    job = a_job(
        outlets=(Outlet(id="1-01", storey="1", position=(1, 1)),),
        splitters=(Splitter(id="SP1", name="Loft", storey="1"),),
        hazards=(Hazard(id="Z1", kind=HazardKind.ASBESTOS, storey="1"),),
        entry_filter=False,
        built_year=1931,
    )
    changed = with_house(job, read_room_list(ROOMS))
    for field in ("splitters", "hazards", "entry_filter"):
        assert getattr(changed.house, field) == getattr(job.house, field) is not None, field
    assert [room.name for room in changed.house.rooms] == ["Living", "Kitchen"]
    assert [outlet.id for outlet in changed.house.outlets] == ["1-01"]
    assert changed.house.built_year == 1931
    assert changed.title == job.title


def test_a_house_that_does_not_fit_the_survey_is_refused() -> None:
    house = House(storeys=(Storey(id="7", name="Loft", elevation_m=0),))
    room = Room(id="r1", name="Loft room", storey="7", polygon=((0, 0), (3, 0), (3, 3)))
    outlet = Outlet(id="7-01", storey="7", position=(1, 1))
    job = Job(
        id="mill",
        title="Mill",
        house=house.model_copy(update={"rooms": (room,), "outlets": (outlet,)}),
    )
    with pytest.raises(BadInput, match="there is no storey '7'"):
        with_house(job, read_room_list(ROOMS))
