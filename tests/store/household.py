"""An invented household whose names stand in every place of a job that can hold one."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from damage import NAME
from replica import change, drop, edit_data, put, small_job

from rehaul.cli.main import main
from rehaul.house import AcceptedOffer, Contacts, Job, SignOff
from rehaul.jobs import LogBeside, People, Shelf, Store, connect, edit_from_data, save_job
from rehaul.jobs.backups import back_up
from rehaul.jobs.desk import PEOPLE_FILE

WHO, ADDRESS, PHONE = "Odo Quillfeather", "9 Thistledown Row", "01632 960441"
CREW = "Tess Wirewright"
SAMPLES = Path(__file__).parent / "samples"
WORDS = ("Odo", "Quillfeather", "Thistledown", "01632 96", "Brambleby", "hollow sound", "grandmother")
SHA = "5" * 64
PICTURE = b"\x89PNG of the hall of Odo Quillfeather " * 50


def job_of() -> Job:
    """The job as it was begun."""
    signed = SignOff(by=WHO, date="2026-11-01", words="Odo agrees")
    offer = AcceptedOffer(
        id="A1",
        option="Good",
        total=1234.5,
        currency="USD",
        offer='{"title":"Quillfeather house"}',
        sha256=SHA,
        sign_off=signed,
    )
    contacts = Contacts(household=WHO, technician=CREW, firm="Invented Wiring", address=ADDRESS)
    return small_job().model_copy(
        update={
            "title": "Quillfeather house",
            "contacts": contacts,
            "accepted_offers": (offer,),
            "notes": f"ring {PHONE}",
        }
    )


def worked_on(folder: Path, *, companions: bool = True) -> Path:
    """A folder with that job after some edits, a photo and notices; with copies and backups of it too."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / NAME
    save_job(path, job_of())
    people = People(Store(connect(folder / PEOPLE_FILE)))
    for name in (CREW, WHO):
        people.pair(name)
        people.record("paired", "192.0.2.7", f"a device of {name}")
    people.close()
    beside = LogBeside(path)
    for person, changes, label in EDITS:
        data = edit_data(max(0, beside.ledger.revision - 3), *changes, label=label)
        beside.ledger.submit(person, edit_from_data(data))
    beside.ledger.undo("p1", "undo-household-1")
    beside.ledger.keep_snapshot()
    late = edit_data(beside.ledger.revision, change("wall", "w3", note="Brambleby wing"), label="Brambleby")
    beside.ledger.submit("p1", edit_from_data(late))
    Shelf(beside.store, "job").add(PICTURE, "image/png", {"width_px": 1, "height_px": 1})
    beside.export()
    beside.close()
    if companions:
        add_companions(path)
    return path


EDITS: tuple[tuple[str, tuple[dict[str, Any], ...], str], ...] = (
    ("p1", (change("room", "r2", name="Odo's study"),), "Odo's study named"),
    ("p1", (change("outlet", "0-01", note=f"ring {PHONE}", old_label="grandmother"),), "Note"),
    ("p2", (change("outlet", "0-01", note="Brambleby bell"),), "Odo's note"),
    ("p1", (put("device", id="d9", name="Odo's telephone", client="phone"),), "A device"),
    (WHO, (change("wall", "w1", note="hollow sound"),), "By the owner"),
    ("p1", (put("outlet", id="0-09", storey="g", position=[1, 1], room="r1", note="Odo's own"),), ""),
    ("p1", (drop("outlet", "0-09"),), "taken away"),
    (
        "p1",
        (
            put(
                "obligation",
                id="o1",
                kind="telephone",
                run="c1",
                who="Odo's grandmother",
                sign_off={"by": "Brambleby", "date": "2026-11-02", "words": "grandmother moved"},
            ),
        ),
        "Who depends",
    ),
    (
        "p1",
        (put("tick", id="t1", task="pull-1", by=CREW, time="2026-11-03T10:00", note="Odo let me in"),),
        "",
    ),
    ("p1", (put("tick", id="t2", task="pull-2", by="Odo", time="when Odo slept"),), ""),
    ("p1", (change("contacts", "", address=f"{ADDRESS}, behind the Brambleby"),), "Address"),
    ("p1", (put("reading", id="x7", quantity="down_mbps", value=87.5, room="r1", note="Odo held it"),), ""),
    ("p1", (change("wall", "w2", note="Odo's picture hangs here"),), "Undone"),
)


def add_companions(path: Path) -> None:
    """Copies, backups and what a repair leaves, of that job and of another."""
    folder = path.parent
    for file in (path, path.with_name("house.rehaul-log")):
        shutil.copy(file, folder / file.name.replace("house.", "house.previous-1."))
    back_up(path, folder / "quillfeather.backup")
    elsewhere = folder.parent / f"{folder.name}-elsewhere"
    elsewhere.mkdir(exist_ok=True)
    back_up(path, elsewhere / "older.zip")
    shutil.copy(path.with_name("house.rehaul-log"), folder / "house.rehaul-log.damaged-1")
    (folder / ".house.rehaul.json.1a2b.new").write_bytes(path.read_bytes())
    (folder / "house.rehaul-columns.json").write_text('{"Odo\'s telephone": "device"}')
    other = folder / "other" / NAME
    other.parent.mkdir()
    save_job(other, small_job().model_copy(update={"title": "Of others"}))
    back_up(other, folder / "others.backup")
    shutil.copy(other, folder / "house.previous-2.rehaul.json")


def naming(folder: Path, words: tuple[str, ...] = WORDS) -> list[str]:
    """Files in which a word of the household stands, bytes looked at, backups unfolded."""
    import zipfile

    found = []
    for file in sorted(folder.rglob("*")):
        if file.is_file():
            data = file.read_bytes()
            if zipfile.is_zipfile(file):
                with zipfile.ZipFile(file) as packed:
                    data = b"".join(packed.read(name) for name in packed.namelist())
            found += [f"{file.relative_to(folder)}: {word}" for word in words if word.encode() in data]
    return found


def run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str]:
    code = 0
    try:
        main([str(word) for word in words])
    except SystemExit as ended:
        code = int(ended.code or 0)
    out = capsys.readouterr()
    return code, out.out + out.err


def everything(folder: Path) -> dict[str, bytes]:
    return {str(file): file.read_bytes() for file in folder.rglob("*") if file.is_file()}
