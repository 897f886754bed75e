"""Every kind of thing and every field of the document can be changed by edits, and dropped whole."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from replica import change, drop, edit_data, put, small_job

from rehaul.errors import BadInput
from rehaul.house import Job, job_from_data
from rehaul.jobs import Ledger, Receipt, Store, connect, difference, edit_from_data
from rehaul.jobs.kinds import KINDS, SINGLES, plain_fields, things


def say(
    ledger: Ledger, person: str, *changes: dict[str, Any], base: int | None = None, **more: Any
) -> Receipt:
    data = edit_data(ledger.revision if base is None else base, *changes, **more)
    return ledger.submit(person, edit_from_data(data))


def test_difference_leads_from_one_job_to_the_other(ledger: Ledger) -> None:
    old = ledger.job
    say(ledger, "ann", drop("wall", "w1"), put("outlet", id="0-04", storey="g"))
    say(
        ledger,
        "ann",
        change("run", "c1", note="x"),
        {"do": "set", "kind": "gate", "fields": {"asbestos": True}},
    )
    other = Ledger(ledger.store, "job")
    assert difference(old, old) == []
    changes = difference(ledger.job, old)
    other.submit("ann", edit_from_data(edit_data(2, *changes)), from_file=True)
    assert difference(other.job, old) == []


def test_every_field_of_the_document_can_be_edited() -> None:
    reachable = {kind.field for kind in KINDS.values()} | set(SINGLES) | {"id", "schema_version"}
    assert set(Job.model_fields) <= reachable | plain_fields("job")
    assert set(type(small_job().house).model_fields) <= reachable | plain_fields("house")


def full_job() -> Job:
    """One thing of every kind, each naming others wherever it can."""
    job = small_job()
    signed = {"by": "Ann", "date": "2026-01-02"}
    data = job.model_dump(mode="json")
    data["house"]["bodies"] = [
        {
            "id": "f1",
            "storey": "g",
            "kind": "fridge",
            "corner": [1, 1],
            "width_m": 1,
            "depth_m": 1,
            "height_m": 2,
        }
    ]
    data["house"]["meeting_points"] = [
        {"id": "m1", "name": "Cupboard", "storey": "g", "position": [1, 1]},
        {"id": "m2", "name": "Where the line comes in", "storey": "g", "position": [2, 1]},
        {"id": "m3", "name": "Attic", "storey": "g", "position": [3, 1]},
    ]
    data["house"]["splitters"] = [{"id": "p1", "name": "Loft splitter", "storey": "g", "input": "c3"}]
    data["house"]["runs"][1]["ends"] = ["m1", "0-03"]
    data["house"]["runs"] += [
        {"id": "c3", "ends": ["m2", "p1"], "kind": "coax"},
        {"id": "c4", "ends": ["m1", "unknown"], "kind": "bell wire"},
        {"id": "c5", "ends": ["m3", "unknown"]},
    ]
    data["house"]["hazards"] = [{"id": "z1", "kind": "lead paint", "storey": "g", "room": "r3"}]
    data["house"]["rooms"].append({**data["house"]["rooms"][0], "id": "r3", "name": "Box room"})
    data["house"]["bells"] = [{"id": "l1", "run": "c4"}]
    data["boxes"] = [
        {
            "id": "b1",
            "name": "Modem",
            "equipment": "modem",
            "storey": "g",
            "position": [1, 1],
            "fed_by": "run",
            "run": "c3",
        }
    ]
    data["service"] |= {"modem": "b1", "run": "c3", "enters": "m2"}
    data["choices"]["to_be_moved"] = ["o1"]
    data["devices"] = [{"id": "v1", "name": "Phone", "client": "phone"}]
    data["obligations"] = [{"id": "o1", "kind": "monitored alarm", "run": "c2"}]
    data["readings"] = [
        {
            "id": "x1",
            "quantity": "down_mbps",
            "value": 40,
            "room": "r2",
            "storey": "g",
            "device": "v1",
            "box": "b1",
        }
    ]
    data["heard"] = [{"id": "h1", "band": "5", "channel": 36, "power_dbm": -70, "room": "r1"}]
    data["placed_plugs"] = [{"id": "k1", "outlet": "0-01"}]
    data["trace_readings"] = [
        {"id": "t1", "kind": "tone", "end": "c1", "outlet": "0-01", "heard": "loud"},
        {"id": "t2", "kind": "bridge", "end": "c1", "other": "c2", "joined": False},
        {"id": "t3", "kind": "withdrawn", "other": "t1"},
    ]
    volts = {"what": "voltage", "dc_v": 0, "ac_v": 0}
    data["line_checks"] = [
        {"id": "j1", "at": "m3", "run": "c5", **volts},
        {"id": "j2", "at": "m3", "outlet": "0-01", **volts},
        {"id": "j3", "at": "m3", "what": "withdrawn", "other": "j1"},
    ]
    data["decisions"] = [{"id": "e1", "run": "c1", "sign_off": signed}]
    data["ticks"] = [{"id": "i1", "task": "gate"}]
    data["acceptance"] = [{"id": "a1", "about": "r1", "result": "pass"}]
    return job_from_data(data)


def test_dropping_any_one_thing_is_done_whole_or_refused_by_what_hangs_on_it(tmp_path: Path) -> None:
    """So that no reference of the document is missing from what is known to hang on what."""
    job = full_job()
    assert all(things(job, kind) for kind in KINDS.values()), "a kind is missing here"
    store = Store(connect(tmp_path / "log"))
    store.create(job)
    ledger = Ledger(store, "job")
    held = set()
    for name, kind in KINDS.items():
        for thing in things(job, kind):
            try:
                say(ledger, "ann", drop(name, thing.id))
            except BadInput as refusal:
                assert "still hang" in refusal.problem, f"{name} {thing.id}: {refusal}"
                held.add(thing.id)
                continue
            ledger.undo("ann", f"undo-{name}-{thing.id}")
            assert difference(job, ledger.job) == []
    assert held == {"g", "r1", "r3", "m3", "0-01", "c1", "c2", "c4", "c5", "t1", "j1"}
    store.close()
