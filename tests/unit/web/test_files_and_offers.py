"""What is sent to the server and what it hands out: uploads, measurements, signed offers, a job's file."""

from __future__ import annotations

import asyncio
import json
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.errors import BadInput, CannotSave
from rehaul.web import hub, meter, offer_routes, record_routes, serving, ticks, uploads
from rehaul.web.answers import Absent, Busy, TooLarge
from rehaul.web.hub import Hub, file_message
from rehaul.web.meter import Meter, count_upload, seconds_asked
from rehaul.web.serving import door_options, secrets_folder, uvicorn_options
from rehaul.web.sitting import FileState
from rehaul.web.uploads import Uploads, _pieces

thing: Any = SimpleNamespace


def sent(*parts: bytes, announced: str = "0", **query: str) -> Any:
    async def stream() -> Any:
        for part in parts:
            yield part

    return thing(headers={"content-length": announced}, stream=stream, query_params=query, path_params={})


def offered(*offers: Any) -> Any:
    return thing(ledger=thing(job=thing(accepted_offers=offers)))


def answer(monkeypatch: pytest.MonkeyPatch, route: Any, sitting: Any, **path: str) -> Any:
    async def found(_: Any) -> Any:
        return sitting

    monkeypatch.setattr(offer_routes, "_sitting", found)
    return asyncio.run(route(thing(path_params=path)))


def test_a_signed_offer_is_handed_out_as_it_was_signed(monkeypatch: pytest.MonkeyPatch) -> None:
    sitting = offered(
        thing(id="A1", offer='{"a":1}', plan='{"p":2}'), thing(id="A2", offer='{"b":1}', plan="")
    )
    text = answer(monkeypatch, offer_routes.text, sitting, offer="A1")
    assert bytes(text.body) == b'{"a":1}' and text.status_code == 200
    assert text.headers["content-type"] == "application/json"
    assert text.headers["content-disposition"] == 'attachment; filename="offer-A1.json"'
    plan = answer(monkeypatch, offer_routes.signed, sitting, offer="A1")
    assert (
        bytes(plan.body) == b'{"p":2}'
        and 'filename="offer-A1-plan.json"' in plan.headers["content-disposition"]
    )
    for route, name in ((offer_routes.signed, "A2"), (offer_routes.text, "A3"), (offer_routes.signed, "A3")):
        with pytest.raises(Absent):
            answer(monkeypatch, route, sitting, offer=name)


async def upload(taken: Uploads, request: Any, most: int = 100, suffix: str = ".ifc") -> tuple[bytes, Path]:
    async with taken.file(request, most, suffix) as path:
        assert path.name == f"file{suffix}"
        return path.read_bytes(), path


def test_a_file_lies_on_the_disk_while_it_is_read_and_is_gone_then() -> None:
    taken = Uploads()
    try:
        data, path = asyncio.run(upload(taken, sent(b"ab", b"cd")))
        assert data == b"abcd" and not path.exists() and taken._held_bytes == 0
        for request, most, refusal in (
            (sent(b"abc", b"d"), 3, TooLarge),
            (sent(announced="4"), 3, TooLarge),
        ):
            with pytest.raises(refusal):
                asyncio.run(upload(taken, request, most))
        assert asyncio.run(upload(taken, sent(b"abc", announced="3"), 3))[0] == b"abc"
        assert taken._held_bytes == 0
        taken._held_bytes = uploads.MOST_BYTES_AT_ONCE - 2
        assert asyncio.run(upload(taken, sent(b"ab")))[0] == b"ab"
        with pytest.raises(Busy):
            asyncio.run(upload(taken, sent(b"abc")))
        assert taken._held_bytes == uploads.MOST_BYTES_AT_ONCE - 2, "what was refused holds nothing"
    finally:
        taken.close()
    with pytest.raises(Absent):
        asyncio.run(upload(taken, sent(b"ab")))
    assert (uploads.MOST_BYTES_AT_ONCE, uploads.MOST_READERS, uploads.LONGEST_S) == (300_000_000, 2, 600.0)


def test_a_body_is_written_in_pieces_worth_a_write(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(uploads, "PIECE_BYTES", 4)

    async def pieces(*parts: bytes) -> list[bytes]:
        return [piece async for piece in _pieces(sent(*parts))]

    assert asyncio.run(pieces(b"ab", b"cd", b"ef")) == [b"abcd", b"ef"]
    assert asyncio.run(pieces(b"abcdef", b"g")) == [b"abcdef", b"g"] and asyncio.run(pieces()) == [b""]


def test_a_disk_that_takes_nothing_is_said(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    with pytest.raises(CannotSave):
        uploads._append(tmp_path, b"a folder takes no bytes")


@pytest.mark.parametrize(
    ("asked", "seconds"), [({}, 5.0), ({"seconds": "0.1"}, 0.1), ({"seconds": "15"}, 15.0)]
)
def test_how_long_a_download_may_take(asked: dict[str, str], seconds: float) -> None:
    assert seconds_asked(sent(**asked)) == seconds
    for wrong in ("0.09", "15.1", "soon", "nan", "-1"):
        with pytest.raises(BadInput):
            seconds_asked(sent(seconds=wrong))


def test_what_is_sent_up_is_counted_and_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(meter, "LARGEST_UPLOAD", 6)
    monkeypatch.setattr(meter, "MOST_BYTES", 10)
    run = Meter().new("d1")
    told = asyncio.run(count_upload(sent(b"abc", b"def"), run))
    assert json.loads(bytes(told.body))["bytes"] == 6 and run.up.bytes == run.bytes == 6 and run.streams == 0
    with pytest.raises(TooLarge):
        asyncio.run(count_upload(sent(b"abcdefg"), run))
    assert run.up.bytes == 13 and run.streams == 0
    fresh = Meter().new("d1")
    fresh.down.bytes = 5
    with pytest.raises(TooLarge):
        asyncio.run(count_upload(sent(b"abc", b"def"), fresh))


def test_a_download_sends_until_its_time_is_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(meter, "CHUNK", b"1234")
    monkeypatch.setattr(meter, "MOST_BYTES", 12)
    told: list[Any] = []

    async def receive() -> Any:
        await asyncio.sleep(9)

    async def send(message: Any) -> None:
        told.append(message)

    run = Meter().new("d1")
    asyncio.run(meter.Down(run, 5.0)({}, receive, send))  # type: ignore[arg-type]
    assert told[0]["status"] == 200 and [one["body"] for one in told[1:]] == [b"1234"] * 3 + [b""]
    assert [one.get("more_body", False) for one in told[1:]] == [True, True, True, False]
    assert run.down.bytes == 12 and run.streams == 0
    assert b"content-length" not in dict(told[0]["headers"])
    told.clear()
    asyncio.run(meter.Down(Meter().new("d2"), -1.0)({}, receive, send))  # type: ignore[arg-type]
    assert [one.get("body") for one in told] == [None, b""], "no time, no bytes"


def test_how_a_job_s_file_follows_its_log(monkeypatch: pytest.MonkeyPatch) -> None:
    """Written, then behind with the moment, still behind, then caught up: each change wakes everybody."""
    answers: list[Any] = []
    woken: list[Any] = []

    async def asked(*_: Any, **__: Any) -> None:
        found = answers.pop(0)
        if found is not None:
            raise found

    monkeypatch.setattr(hub, "asked", asked)
    monkeypatch.setattr(hub, "utc_now", lambda: f"now {len(woken)}")
    sitting = thing(key="j", file=FileState(), wake=lambda: woken.append(sitting.file))
    whole = Hub(thing(export=None))

    def written(problem: Any) -> Any:
        answers.append(problem)
        return asyncio.run(whole._written(sitting))

    assert written(None) is None and not woken and sitting.file == FileState()
    full, away = CannotSave("disk full"), CannotSave("away")
    refusal = written(full)
    assert refusal["problem"] == "disk full" and sitting.file == FileState(True, "now 0", refusal)
    assert written(full) == refusal and len(woken) == 1, "the same news wakes nobody"
    other = written(away)
    assert sitting.file == FileState(True, "now 0", other) and len(woken) == 2
    assert written(ValueError("a fault"))["code"] == "fault" and len(woken) == 3
    assert written(None) is None and sitting.file == FileState(caught_up="now 3") and len(woken) == 4
    assert written(None) is None and len(woken) == 4
    assert file_message(FileState(True, "then", {"code": "c"})) == {
        "type": "file", "behind": True, "since": "then", "refusal": {"code": "c"}, "caught_up": None,
    }  # fmt: skip


def test_which_jobs_are_closed() -> None:
    busy: set[str] = set()
    whole = Hub(thing(), lambda sitting: sitting.key in busy)

    def idle(**more: Any) -> bool:
        given = {"key": "j", "seats": set(), "holders": 0, "used_s": -1e9}
        return whole._is_idle(thing(**{**given, **more}))

    assert idle() and not idle(seats={1}) and not idle(holders=1)
    import time

    assert not idle(used_s=time.monotonic()) and idle(used_s=time.monotonic() - hub.IDLE_S - 1)
    busy.add("j")
    assert not idle()


def test_what_every_server_runs_with(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    options = uvicorn_options()
    assert options["proxy_headers"] is options["server_header"] is options["access_log"] is False
    assert options["ws_per_message_deflate"] is False and options["backlog"] == 2048
    assert (options["timeout_keep_alive"], options["timeout_graceful_shutdown"]) == (30, 3)
    assert options["h11_max_incomplete_event_size"] == 32_000
    monkeypatch.setattr(serving, "more_files", lambda: 4096)
    assert door_options(thing())["limit_concurrency"] == 3840, "256 files are left for the rest"
    monkeypatch.setattr(serving, "more_files", lambda: 0)
    assert door_options(thing())["limit_concurrency"] == 600
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    assert secrets_folder() == tmp_path / "rehaul"
    monkeypatch.delenv("XDG_CONFIG_HOME")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert secrets_folder() == tmp_path / ".config" / "rehaul"
    with pytest.raises(BadInput, match="port"):
        serving.listening("192.0.2.1", 8720)


def test_a_step_whose_turn_it_is_not_is_not_ticked_off(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ticks alone are looked at, where a plan is on show, and no edit that was taken before."""
    asked: list[Any] = []
    monkeypatch.setattr(ticks, "require_ticks_ready", lambda *given: asked.append(given))

    def ask(kinds: tuple[str, ...], plan: Any, row: Any = None) -> list[Any]:
        asked.clear()
        changes = [thing(kind=kind, model_dump=lambda kind=kind: {"kind": kind}) for kind in kinds]
        ledger = thing(job="job", job_id="j", store=thing(row_of_edit=lambda job, edit: row))
        plans: Any = thing(plan_of=lambda sitting: plan)
        ticks.require_ticks(plans, thing(ledger=ledger), thing(changes=changes, edit="e1"))
        return list(asked)

    shown = thing(order=("a", "b"))
    assert ask(("set", "tick", "tick"), shown) == [("job", ("a", "b"), [{"kind": "tick"}, {"kind": "tick"}])]
    assert ask(("set",), shown) == ask((), shown) == ask(("tick",), None) == ask(("tick",), shown, 5) == []


def test_findings_come_with_the_revision_they_are_of(monkeypatch: pytest.MonkeyPatch) -> None:
    class Said:
        def __init__(self, what: str) -> None:
            self.what = what

        def model_dump(self, mode: str) -> dict[str, str]:
            return {self.what: mode}

    async def found(request: Any) -> Any:
        return thing(ledger=thing(state=thing(revision=7, job="j1")))

    monkeypatch.setattr(record_routes, "sitting_of", found)
    monkeypatch.setattr(record_routes, "audit", lambda job: (Said(job),))
    monkeypatch.setattr(record_routes, "asks", lambda job, rows: (Said(f"{job} of {len(rows)}"),))
    monkeypatch.setattr(record_routes, "reader_of", lambda job: job)
    monkeypatch.setattr(record_routes, "again", lambda rows, reader: rows if reader == "j1" else {})
    reply = asyncio.run(record_routes.findings(thing()))
    said = {"findings": [{"j1": "json"}], "asks": [{"j1 of 1": "json"}]}
    assert json.loads(bytes(reply.body)) == {"revision": 7, **said}
