"""What each address of the server answers, asked as plain functions with a job, a plan and papers at hand."""

from __future__ import annotations

import asyncio
import io
import json
import zipfile
from types import SimpleNamespace
from typing import Any

import pytest
from starlette.datastructures import QueryParams

from rehaul.errors import BadInput
from rehaul.tracing import Trust
from rehaul.web import handover_routes, job_routes, meter_routes, people_routes, plan_routes, trace_routes
from rehaul.web.answers import Absent, TooLarge

thing: Any = SimpleNamespace
PAPERS = {"plan.pdf": b"%PDF", "cables.csv": b"a,b", "data.bin": b"12345", "sheet.xlsx": b"xlsx"}


class Plans:
    """The pieces of long work of one job, as they stand."""

    def __init__(self, plan: Any = None, **pieces: Any) -> None:
        self.pieces, self.plan = pieces, plan
        self.told: list[Any] = []

    def piece(self, sitting: Any, kind: str) -> Any:
        return self.pieces.get(kind) or thing(result=None, said=None, revision=3)

    def plan_of(self, sitting: Any) -> Any:
        return self.plan

    def state(self, sitting: Any, kind: str = "plan") -> dict[str, Any]:
        return {"state": f"{kind} idle"}

    def start(self, sitting: Any, kind: str, *said: Any) -> None:
        self.told.append(("start", kind, *said))

    def stop(self, sitting: Any, kind: str) -> None:
        self.told.append(("stop", kind))


def request(
    plans: Plans, *, path: str = "/", query: str = "", body: bytes = b"", job: Any = None, **params: str
) -> Any:
    ledger = thing(job=job, job_id="house", state=thing(revision=5, job=job), store=None)

    async def sitting(key: str) -> Any:
        assert key == "house"
        return thing(ledger=ledger, saw=lambda person: None)

    async def stream() -> Any:
        yield body

    context = thing(hub=thing(sitting=sitting), plans=plans)
    return thing(
        app=thing(state=thing(context=context)),
        state=thing(device=thing(person="P1")),
        path_params={"job": "house", **params},
        query_params=QueryParams(query),
        url=thing(path=path),
        headers={"content-length": str(len(body)), "content-type": "application/json"},
        stream=stream,
    )


def ask(route: Any, asked: Any) -> Any:
    return asyncio.run(route(asked))


def told(reply: Any) -> Any:
    return json.loads(bytes(reply.body))


@pytest.mark.parametrize(("path", "kind", "said"), [("/plan", "plan", ()), ("/papers", "papers", ("en",))])
def test_long_work_is_begun_and_stopped(path: str, kind: str, said: tuple[str, ...]) -> None:
    plans = Plans()
    begun = ask(plan_routes.start, request(plans, path=f"/api/jobs/house{path}"))
    assert begun.status_code == 202 and told(begun) == {"state": f"{kind} idle"}
    ended = ask(plan_routes.stop, request(plans, path=f"/api/jobs/house{path}"))
    assert ended.status_code == 200 and told(ended) == {"state": f"{kind} idle"}
    assert plans.told == [("start", kind, *said), ("stop", kind)]


def test_the_plan_comes_with_its_state_in_the_readers_language() -> None:
    assert told(ask(plan_routes.plan, request(Plans()))) == {"state": "plan idle", "plan": None}
    texts = {"en": '{"a":1}', "fr": '{"a":2}'}
    reply = ask(plan_routes.plan, request(Plans(thing(texts=texts))))
    assert told(reply) == {"state": "plan idle", "plan": {"a": 1}}
    assert reply.headers["content-type"] == "application/json"


def test_a_map_of_the_plan_before_or_after(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[Any] = []

    def raster(*given: Any) -> Any:
        drawn.append(given)
        return thing(framed=lambda revision: f"map of {revision}".encode())

    monkeypatch.setattr(plan_routes, "map_raster", raster)
    plans = Plans(thing(before="as it is", after="as it will be"))
    reply = ask(plan_routes.plan_map, request(plans))
    assert bytes(reply.body) == b"map of 3" and reply.headers["content-type"] == "application/octet-stream"
    ask(plan_routes.plan_map, request(plans, query="which=before&storey=1&quantity=up_mbps&band=5"))
    assert drawn == [("as it will be", "", "down_mbps", None), ("as it is", "1", "up_mbps", "5")]
    with pytest.raises(BadInput):
        ask(plan_routes.plan_map, request(plans, query="which=never"))
    with pytest.raises(Absent):
        ask(plan_routes.plan_map, request(Plans()))


def test_papers_are_listed_by_name_and_handed_out_by_type() -> None:
    plans = Plans(papers=thing(result=PAPERS, said=None, revision=3))
    assert told(ask(plan_routes.papers, request(Plans()))) == {"state": "papers idle", "papers": []}
    rows = told(ask(plan_routes.papers, request(plans)))["papers"]
    assert [(row["name"], row["bytes"]) for row in rows] == [
        ("cables.csv", 3), ("data.bin", 5), ("plan.pdf", 4), ("sheet.xlsx", 4),
    ]  # fmt: skip
    kinds = {
        "plan.pdf": ("application/pdf", "inline"),
        "cables.csv": ("text/csv; charset=utf-8", "attachment"),
        "data.bin": ("application/octet-stream", "attachment"),
        "sheet.xlsx": (
            "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
            "attachment",
        ),
    }
    for name, (kind, way) in kinds.items():
        reply = ask(plan_routes.paper, request(plans, name=name))
        assert bytes(reply.body) == PAPERS[name] and reply.headers["content-type"] == kind
        assert reply.headers["content-disposition"] == f'{way}; filename="{name}"'
    for lacking in (plans, Plans()):
        with pytest.raises(Absent):
            ask(plan_routes.paper, request(lacking, name="other.pdf"))


def test_a_handover_record_says_where_it_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    async def at_once(question: Any, *given: Any) -> Any:
        return question(*given)

    shelf = thing(photos=lambda: [["i1", "s1", "photos/1.jpg"]], get=lambda one: (one.encode(), "jpeg"))
    monkeypatch.setattr(handover_routes, "asked", at_once)
    monkeypatch.setattr(handover_routes, "_shelf", lambda sitting: shelf)
    plans = Plans()
    begun = ask(handover_routes.start, request(plans))
    assert begun.status_code == 202 and told(begun) == {"state": "handover idle"}
    ask(handover_routes.start, request(plans, body=b'{"kept_at": "in the hall"}'))
    photos = json.dumps([["i1", "s1", "photos/1.jpg"]])
    assert plans.told == [
        ("start", "handover", photos, "", "en"),
        ("start", "handover", photos, "in the hall", "en"),
    ]
    with pytest.raises(TooLarge):
        ask(handover_routes.start, request(plans, body=b" " * 10_001))
    assert told(ask(handover_routes.stop, request(plans))) == {"state": "handover idle"}
    assert plans.told[-1] == ("stop", "handover")
    assert told(ask(handover_routes.state, request(plans))) == {
        "state": "handover idle", "kept_at": "", "files": [],
    }  # fmt: skip
    with pytest.raises(Absent):
        ask(handover_routes.record, request(plans))
    folder = io.BytesIO()
    with zipfile.ZipFile(folder, "w") as made:
        made.writestr("record.csv", "a")
    piece = thing(result={"record.zip": folder.getvalue()}, said=(photos, "in the hall", "en"), revision=3)
    ready = Plans(handover=piece)
    assert told(ask(handover_routes.state, request(ready))) == {
        "state": "handover idle",
        "kept_at": "in the hall",
        "files": [{"name": "record.zip", "bytes": len(folder.getvalue())}],
    }
    reply = ask(handover_routes.record, request(ready))
    assert reply.headers["content-type"] == "application/zip"
    assert reply.headers["content-disposition"] == 'attachment; filename="house-record.zip"'
    with zipfile.ZipFile(io.BytesIO(bytes(reply.body))) as whole:
        assert whole.read("photos/1.jpg") == b"i1" and whole.read("record.csv") == b"a"


def test_a_job_comes_with_its_revision() -> None:
    job = thing(model_dump=lambda mode: {"mode": mode})
    assert told(ask(job_routes.job, request(Plans(), job=job))) == {"revision": 5, "job": {"mode": "json"}}


def test_tables_of_facts_by_name() -> None:
    names = told(ask(job_routes.facts, None))
    assert "label_sheets" in names
    assert told(ask(job_routes.fact_table, thing(path_params={"table": "label_sheets"})))
    with pytest.raises(Absent, match="nothing_of_it"):
        ask(job_routes.fact_table, thing(path_params={"table": "nothing_of_it"}))
    assert "properties" in told(ask(job_routes.schema, None))


def test_what_is_asked_of_tracing() -> None:
    count = trace_routes._count
    assert (count("1", 1, 2), count("2", 1, 2), count("0", 0, 200), count("200", 0, 200)) == (1, 2, 0, 200)
    for text, least, most in (("3", 1, 2), ("0", 1, 2), ("-1", 0, 9), ("", 0, 9), ("1.5", 0, 9), ("x", 0, 9)):
        with pytest.raises(BadInput):
            count(text, least, most)
    assert trace_routes._trust(str(Trust.COLOURS.value)) is Trust.COLOURS
    with pytest.raises(BadInput):
        trace_routes._trust("by the stars")


def test_pins_as_they_are_sent() -> None:
    read = trace_routes._wire_map
    assert read({"far_pins": {"1": [1], "2": ["3", 4]}}) == ({1: (1,), 2: (3, 4)}, [])
    assert read({"far_pins": {}, "split": [[1, 2]]}) == ({}, [(1, 2)])
    assert read({"far_pins": {}, "split": None}) == ({}, [])
    for data in ({}, {"far_pins": [1]}, {"far_pins": {"a": [1]}}, {"far_pins": {"1": 1}},
                 {"far_pins": {}, "split": [[1]]}):  # fmt: skip
        with pytest.raises(BadInput):
            read(data)


def test_a_measurement_belongs_to_the_device_that_began_it(monkeypatch: pytest.MonkeyPatch) -> None:
    def run(key: str, device: str) -> Any:
        return thing(id=key, as_dict=lambda: {"run": key, "by": device})

    meter = thing(new=lambda device: run("r1", device), run=run)
    monkeypatch.setattr(meter_routes, "context_of", lambda asked: thing(meter=meter))
    monkeypatch.setattr(meter_routes, "device_of", lambda asked: thing(id="d1"))
    asked = thing(path_params={"run": "r1"})
    begun = ask(meter_routes.new, asked)
    assert begun.status_code == 201 and told(begun) == {"run": "r1", "seconds": meter_routes.RUN_LIFE_S}
    assert ask(meter_routes.ping, asked).status_code == 204
    assert told(ask(meter_routes.result, asked)) == {"run": "r1", "by": "d1"}


def test_devices_and_what_happened_at_the_door(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = [thing(id=key, person="p", name=key.upper(), since="2026") for key in ("d1", "d2")]
    ended: list[str] = []
    written: list[tuple[str, ...]] = []

    async def at_once(question: Any, *given: Any) -> Any:
        return question(*given)

    async def events() -> Any:
        return [thing(at="now", kind="paired", address="10.0.0.2", words="w", times=2, secret="s")]

    people = thing(
        devices=lambda: rows,
        forget=lambda key: next((row for row in rows if row.id == key), None),
        record=lambda kind, address, words: written.append((kind, address, str(words))),
    )
    context = thing(desk=thing(people=people), sessions=thing(ask=at_once, events=events, end=ended.append))
    monkeypatch.setattr(people_routes, "context_of", lambda asked: context)
    monkeypatch.setattr(people_routes, "device_of", lambda asked: rows[0])
    monkeypatch.setattr(people_routes, "address_of", lambda scope: "10.0.0.9")
    listed = told(ask(people_routes.devices, None))
    assert [(row["device"], row["name"], row["here"]) for row in listed] == [
        ("d1", "D1", True), ("d2", "D2", False),
    ]  # fmt: skip
    for key in ("d2", "d9"):
        assert told(ask(people_routes.forget, thing(path_params={"device": key}, scope={}))) == {}
    assert ended == ["d2", "d9"] and [row[:2] for row in written] == [("forgotten", "10.0.0.9")]
    assert "D2" in written[0][2] and "D1" in written[0][2]
    assert told(ask(people_routes.security, None)) == {
        "events": [{"at": "now", "kind": "paired", "address": "10.0.0.2", "words": "w", "times": 2}]
    }
