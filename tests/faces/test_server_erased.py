"""A job that was erased, and the servers and tablets that knew it before."""

from __future__ import annotations

from pathlib import Path

import pytest
from server import Talker, running

from rehaul.cli.main import main
from rehaul.house import AcceptedOffer, Contacts, SignOff
from rehaul.jobs import Store, connect, demo_job, save_job
from rehaul.jobs.erasing import ErasureAsked, erase, erase_stored

WHO = "Odo Quillfeather"
OFFER = AcceptedOffer(
    id="A1",
    option="Good",
    total=1234.5,
    currency="GBP",
    offer='{"title": "The house of Odo Quillfeather"}',
    sha256="5" * 64,
    sign_off=SignOff(by=WHO, date="2026-11-01"),
)
JOB = demo_job().model_copy(
    update={
        "id": "small",
        "title": "The house of Odo Quillfeather",
        "contacts": Contacts(household=WHO),
        "accepted_offers": (OFFER,),
    }
)


def note(words: str) -> dict[str, object]:
    wall = JOB.house.walls[0].id
    return {"do": "set", "kind": "wall", "id": wall, "fields": {"note": words}}


def test_served_it_is_refused_and_afterwards_served_without(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "small.rehaul.json"
    save_job(path, JOB)
    with running(tmp_path) as server:
        tess = server.paired("Tess")
        with server.socket(tess, "/api/jobs/small/live") as live:
            talker = Talker(live)
            talker.hear("snapshot")
            talker.say(type="edit", edit="edit-000001", base=0, label="Odo", changes=[note("Odo said")])
            seen = talker.hear("ack")["revision"]
        with pytest.raises(SystemExit) as ended:
            main(["erase", str(path), "--yes", "--by", "Tess"])
        assert ended.value.code == 2 and "a server works on it" in capsys.readouterr().err
        tess.get("/api/jobs/small")
    main(["erase", str(path), "--yes", "--by", "Tess"])
    with running(tmp_path) as server:
        tess = server.paired("Tess")
        with server.socket(tess, "/api/jobs/small/live") as live:
            snapshot = Talker(live, seen=seen).hear("snapshot")  # not the edits that it missed
            assert snapshot["revision"] == seen + 1 and snapshot["job"]["title"] == "Erased job"
            assert "Odo" not in str(snapshot)
        (row,) = tess.get("/api/jobs/small/offers").json()
        assert (row["kept"], row["total"], row["sign_off"]["by"]) == ("erased", 1234.5, "erased")
        gone = tess.get("/api/jobs/small/offers/A1")
        assert gone.status_code == 404 and "its text was erased" in gone.text
        assert tess.get("/api/jobs/small/offers/A1/plan").status_code == 404


def test_a_server_of_a_database_takes_it_up(tmp_path: Path) -> None:
    place = str(tmp_path / "all")
    store = Store(connect(place))
    store.create(JOB)
    store.close()
    with running(tmp_path, place) as server:
        tess = server.paired("Tess")
        with server.socket(tess, "/api/jobs/small/live") as live:
            talker = Talker(live)
            assert talker.hear("snapshot")["job"]["contacts"]["household"] == WHO
            plan = erase_stored(place, "small", ErasureAsked(), "Tess")
            assert plan.counts.fields
            snapshot = talker.hear("snapshot")
            assert snapshot["job"]["title"] == "Erased job" and "Odo" not in str(snapshot)
            talker.say(type="edit", edit="edit-000002", base=snapshot["revision"], changes=[note("new")])
            assert talker.hear("ack")["revision"] == snapshot["revision"] + 1
    assert not [file for file in tmp_path.iterdir() if b"Quillfeather" in file.read_bytes()]


def test_a_photo_is_kept_by_a_browser_for_a_week_at_most(tmp_path: Path) -> None:
    save_job(tmp_path / "small.rehaul.json", JOB)
    with running(tmp_path) as server:
        tess = server.paired("Tess")
        data = _photo()
        name = tess.post("/api/jobs/small/pictures", content=data).json()["picture"]
        said = tess.get(f"/api/jobs/small/pictures/{name}").headers["cache-control"]
        assert int(said.split("max-age=")[1].split(",")[0]) <= 7 * 24 * 3600
    erase(tmp_path / "small.rehaul.json", ErasureAsked(), "Tess")
    with running(tmp_path) as server:
        tess = server.paired("Tess")
        assert tess.get(f"/api/jobs/small/pictures/{name}").status_code == 404
        assert tess.get("/api/jobs/small/pictures").json() == []


def _photo() -> bytes:
    import io

    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (40, 30), "white").save(out, "PNG")
    return out.getvalue()


def test_the_words_of_an_offer_that_was_erased() -> None:
    from rehaul.takeoff import how_kept, standing_of

    gone = OFFER.model_copy(
        update={"offer": "", "sign_off": OFFER.sign_off.model_copy(update={"by": "erased"})}
    )
    assert how_kept(gone) == "erased"
    found = standing_of(JOB.model_copy(update={"accepted_offers": (gone,)}))
    assert found and found[1] is None
    words = "In force: offer A1, Good, 1 234.50 GBP, accepted on 2026-11-01. Its text was erased"
    assert found[0].words.startswith(words)
