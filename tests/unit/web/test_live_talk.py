"""The live session by itself: what is told to whom, once and in order, and when a job rests; no network."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Awaitable, Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.errors import BadInput, CannotSave
from rehaul.house import Job
from rehaul.jobs import Browser, Desk, open_desk, save_job
from rehaul.web import hub as hubs
from rehaul.web import live as lives
from rehaul.web.hub import Hub
from rehaul.web.live import Talk, _hello, live
from rehaul.web.plans import Plans
from rehaul.web.sitting import Sitting
from rehaul.web.sockets import until_one_ends

NOTE = {"do": "set", "kind": "job", "fields": {"notes": "damp"}}


class Socket:
    """Stands for a client: what it says next, and what it was told."""

    def __init__(self, hub: Hub, device: Browser, plans: Plans) -> None:
        self.says: asyncio.Queue[dict[str, Any]] = asyncio.Queue()
        self.told: list[dict[str, Any]] = []
        self.closed: tuple[int, str | None] | None = None
        self.path_params = {"job": "small"}
        self.state = SimpleNamespace(device=device)
        self.app = SimpleNamespace(state=SimpleNamespace(context=SimpleNamespace(hub=hub, plans=plans)))

    async def accept(self) -> None: ...

    async def receive(self) -> dict[str, Any]:
        return await self.says.get()

    async def send_text(self, text: str) -> None:
        self.told.append(json.loads(text))

    async def close(self, code: int, reason: str | None = None) -> None:
        self.closed = self.closed or (code, reason)

    def say(self, **message: Any) -> None:
        self.says.put_nowait({"type": "websocket.receive", "text": json.dumps(message)})

    def leave(self) -> None:
        self.says.put_nowait({"type": "websocket.disconnect", "code": 1001})

    def kinds(self) -> list[str]:
        return [row["type"] for row in self.told]

    async def until(self, fits: Callable[[], Any]) -> None:
        async with asyncio.timeout(20):
            while not fits():
                await asyncio.sleep(0.01)


class House:
    """A hub of one small job, and clients of it."""

    def __init__(self, folder: Path) -> None:
        save_job(folder / "small.rehaul.json", Job(id="small", title="Small"))
        self.desk: Desk = open_desk(folder, None)
        self.plans = Plans()
        self.hub = Hub(self.desk, self.plans.is_working)
        self.talks: list[asyncio.Task[None]] = []

    def client(self, name: str, **hello: Any) -> Socket:
        _, device = self.desk.people.pair(name)
        socket = Socket(self.hub, device, self.plans)
        socket.say(type="hello", **hello)
        self.talks.append(asyncio.create_task(live(socket)))  # type: ignore[arg-type]
        return socket

    async def close(self) -> None:
        for talk in self.talks:
            talk.cancel()
        await asyncio.gather(*self.talks, return_exceptions=True)
        await self.hub.close()


def talking(folder: Path, talk: Callable[[House], Awaitable[None]]) -> None:
    async def whole() -> None:
        house = House(folder)
        try:
            await talk(house)
        finally:
            await house.close()

    asyncio.run(whole())


def edit(number: int, base: int = 0) -> dict[str, Any]:
    return {"type": "edit", "edit": f"edit-{number:06d}", "base": base, "label": "Note", "changes": [NOTE]}


def test_a_client_is_told_everything_once_and_its_own_edit_before_its_ack(tmp_path: Path) -> None:
    async def talk(house: House) -> None:
        ann = house.client("Ann", seen=None)
        await ann.until(lambda: "mine" in ann.kinds())
        assert set(ann.kinds()) == {"file", "mine", "people", "plan", "snapshot"}
        assert ann.kinds()[0] == "snapshot" and ann.kinds().count("mine") == 1
        for kind in ("file", "plan", "snapshot"):
            assert ann.kinds().count(kind) == 1, kind
        at = len(ann.told)
        ann.say(**edit(1))
        await ann.until(lambda: "ack" in ann.kinds())
        order = [kind for kind in ann.kinds()[at:] if kind in ("edits", "ack")]
        assert order == ["edits", "ack"]
        await ann.until(lambda: ann.kinds().count("mine") == 2)
        assert ann.told[-1]["undo"] == "Note" and ann.told[-1]["redo"] is None
        ann.say(type="undo", edit="undo-000001")
        await ann.until(lambda: ann.kinds().count("mine") == 3)
        assert [row for row in ann.told if row["type"] == "mine"][-1]["redo"] == "Note"
        await asyncio.sleep(0.2)
        assert ann.kinds().count("ack") == 2 and ann.kinds().count("edits") == 2

    talking(tmp_path, talk)


def test_notices_are_forgotten_by_any_number_that_the_log_can_have(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    forgotten: list[int] = []
    monkeypatch.setattr(Talk, "_forget_notices", lambda talk, number: forgotten.append(number))

    async def talk(house: House) -> None:
        ann = house.client("Ann", seen=0)
        for number in (-1, 0, 1000, 2**63 - 1, 2**63, True, 3.0, "3", None):
            ann.say(type="seen", notice=number)
        ann.say(**edit(1))
        await ann.until(lambda: "ack" in ann.kinds())

    talking(tmp_path, talk)
    assert forgotten == [0, 1000, 2**63 - 1]  # a whole number of 64 bits


def test_who_comes_and_goes_and_where_they_look(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    async def talk(house: House) -> None:
        ann = house.client("Ann", seen=0)

        def here() -> list[tuple[str, Any]]:
            rows = [row for row in ann.told if row["type"] == "people"]
            return [(who["name"], who["at"].get("page")) for who in rows[-1]["people"]] if rows else []

        await ann.until(lambda: here() == [("Ann", None)])
        ben = house.client("Ben", seen=0)
        await ann.until(lambda: sorted(here()) == [("Ann", None), ("Ben", None)])
        ben.say(type="here", at={"page": "map"})
        await ann.until(lambda: ("Ben", "map") in here())
        ben.say(type="here", at={"page": "too soon"})  # within a tenth of a second
        await asyncio.sleep(0.15)
        assert ("Ben", "map") in here()
        for at in ({"page": "x" * lives.LARGEST_HERE}, "no place", None):
            await asyncio.sleep(0.12)
            ben.say(type="here", at=at)
        await asyncio.sleep(0.15)
        assert ("Ben", "map") in here()
        ben.say(type="here", at={"page": "tables"})
        await ann.until(lambda: ("Ben", "tables") in here())
        ben.leave()
        await ann.until(lambda: here() == [("Ann", None)])

    talking(tmp_path, talk)


def test_notices_are_shown_until_they_are_seen(tmp_path: Path) -> None:
    async def talk(house: House) -> None:
        ann, ben = house.client("Ann", seen=None), house.client("Ben", seen=None)
        await ben.until(lambda: "mine" in ann.kinds() and "mine" in ben.kinds())
        ann.say(**edit(1))
        await ben.until(lambda: "edits" in ben.kinds())
        other = {"do": "set", "kind": "job", "fields": {"notes": "dry"}}
        ben.say(**{**edit(2, base=0), "changes": [other]})
        await ann.until(lambda: "notice" in ann.kinds())
        (row,) = [row for row in ann.told if row["type"] == "notice"]
        number = row["notices"][-1]["notice"]
        ann.say(**edit(3, base=2))
        await ann.until(lambda: ann.kinds().count("ack") == 2)
        await asyncio.sleep(0.2)
        assert ann.kinds().count("notice") == 1, "told once"
        store, person = (await house.hub.sitting("small")).ledger.store, ann.state.device.person
        for wrong in (-1, lives.LARGEST_NUMBER, True, "1"):
            ann.say(type="seen", notice=wrong)
        ann.say(**edit(4, base=3))
        await ann.until(lambda: ann.kinds().count("ack") == 3)
        assert [one["notice"] for one in store.notices("small", person)] == [number]
        ann.say(type="seen", notice=number)
        await ann.until(lambda: not store.notices("small", person))

    talking(tmp_path, talk)


def test_who_comes_back_gets_what_is_missing_and_who_is_ahead_the_document(tmp_path: Path) -> None:
    async def talk(house: House) -> None:
        ann = house.client("Ann", seen=None)
        for number in (1, 2):
            ann.say(**edit(number, base=number - 1))
        await ann.until(lambda: ann.kinds().count("ack") == 2)
        for seen, first, told in ((1, "edits", [2]), (0, "edits", [1, 2]), (9, "snapshot", None)):
            back = house.client("Ben", seen=seen)
            await back.until(lambda back=back: "people" in back.kinds())
            assert back.kinds()[0] == first
            if told:
                assert [row["revision"] for row in back.told[0]["edits"]] == told
            else:
                assert back.told[0]["revision"] == 2 and back.told[0]["job"]["notes"] == "damp"
        level = house.client("Cleo", seen=2)
        await level.until(lambda: "people" in level.kinds())
        assert not {"edits", "snapshot"} & set(level.kinds())

    talking(tmp_path, talk)


def test_other_news_is_told_when_it_changes(tmp_path: Path) -> None:
    async def talk(house: House) -> None:
        ann = house.client("Ann", seen=0)
        await ann.until(lambda: "mine" in ann.kinds())
        assert "pictures" not in ann.kinds()
        sitting = await house.hub.sitting("small")
        for grown, kind in (("pictures_version", "pictures"), ("plan_version", "plan")):
            before = ann.kinds().count(kind)
            setattr(sitting, grown, getattr(sitting, grown) + 1)
            sitting.wake()
            await ann.until(lambda k=kind, b=before: ann.kinds().count(k) == b + 1)
            sitting.wake()
            await asyncio.sleep(0.15)
            assert ann.kinds().count(kind) == before + 1

    talking(tmp_path, talk)


def test_a_store_that_takes_nothing_asks_for_the_edit_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def talk(house: House) -> None:
        ann = house.client("Ann", seen=0)
        await ann.until(lambda: "mine" in ann.kinds())
        sitting = await house.hub.sitting("small")

        def away(*_: object) -> None:
            raise CannotSave("the disk is full")

        monkeypatch.setattr(sitting.ledger, "submit", away)
        ann.say(**edit(1))
        await ann.until(lambda: "retry" in ann.kinds())
        (told,) = [row for row in ann.told if row["type"] == "retry"]
        assert (told["edit"], told["refusal"]["code"]) == ("edit-000001", "cannot-save")
        monkeypatch.undo()
        ann.say(**{**edit(2), "changes": [{"do": "none"}]})
        await ann.until(lambda: "refused" in ann.kinds())
        (told,) = [row for row in ann.told if row["type"] == "refused"]
        assert told["edit"] == "edit-000002"
        ann.say(**edit(1))
        await ann.until(lambda: "ack" in ann.kinds())

    talking(tmp_path, talk)


def test_edits_wait_while_answers_are_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A client that only sends is not read further once so many answers wait for it."""
    monkeypatch.setattr(lives, "MOST_WAITING", 3)

    async def talk(house: House) -> None:
        sitting = await house.hub.sitting("small")
        _, device = house.desk.people.pair("Ann")
        socket = Socket(house.hub, device, house.plans)
        async with house.hub.seat(sitting, device) as seat:
            one = Talk(socket, sitting, seat, 0)  # type: ignore[arg-type]
            for number in range(1, 7):
                socket.say(**edit(number, base=number - 1))
            listening = asyncio.create_task(one.listen())
            await socket.until(lambda: sitting.ledger.revision == 3)
            await asyncio.sleep(0.3)
            assert sitting.ledger.revision == 3
            telling = asyncio.create_task(one.tell())
            await socket.until(lambda: socket.kinds().count("ack") == 6)
            for task in (listening, telling):
                task.cancel()
            await asyncio.gather(listening, telling, return_exceptions=True)

    talking(tmp_path, talk)


def test_a_client_that_reads_too_slowly_is_let_go(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lives, "SLOWEST_S", 0.05)
    monkeypatch.setattr(Socket, "send_text", lambda self, text: asyncio.sleep(60))

    async def talk(house: House) -> None:
        ann = house.client("Ann", seen=None)
        await ann.until(lambda: ann.closed)
        assert ann.closed == (4408, "this client reads too slowly")

    talking(tmp_path, talk)


@pytest.mark.parametrize(("code", "closes"), [("cannot-save", 1013), ("bad-input", 1008)])
def test_a_refusal_closes_with_a_code_to_act_on(tmp_path: Path, code: str, closes: int) -> None:
    async def talk(house: House) -> None:
        ann = Socket(house.hub, house.desk.people.pair("Ann")[1], house.plans)

        async def refuses() -> None:
            raise CannotSave("away") if code == "cannot-save" else BadInput("no", where="x", remedy="y")

        other = asyncio.ensure_future(asyncio.sleep(60))
        await until_one_ends(ann, refuses(), asyncio.wait_for(other, None))  # type: ignore[arg-type]
        assert ann.closed is not None and ann.closed[0] == closes
        assert other.cancelled()

    talking(tmp_path, talk)


@pytest.mark.parametrize(
    ("message", "seen"),
    [
        ({"type": "hello"}, None),
        ({"type": "hello", "seen": 7}, 7),
        ({"type": "x"}, "refused"),
        ({"type": "hello", "seen": True}, "refused"),
        ({"type": "hello", "seen": "7"}, "refused"),
    ],
)
def test_a_hello_says_what_was_seen(message: dict[str, Any], seen: object) -> None:
    if seen == "refused":
        with pytest.raises(BadInput, match="not a hello"):
            _hello(message)
    else:
        assert _hello(message) == seen


def test_a_job_rests_when_nobody_sits_holds_or_works_and_its_time_is_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def talk(house: House) -> None:
        busy: list[str] = []
        hub = house.hub
        hub._is_busy = lambda sitting: bool(busy)
        sitting = await hub.sitting("small")
        assert (await hub.sitting("small")) is sitting
        assert not hub._is_idle(sitting), "just used"
        now = [sitting.used_s + hubs.IDLE_S + 1]
        monkeypatch.setattr(hubs.time, "monotonic", lambda: now[0])
        assert hub._is_idle(sitting)
        now[0] -= 2
        assert not hub._is_idle(sitting)
        now[0] += 2
        busy.append("a plan")
        assert not hub._is_idle(sitting)
        busy.clear()
        sitting.holders = 1
        assert not hub._is_idle(sitting)
        sitting.holders = 0
        await hub._rest(sitting)
        assert hub.open_sittings() == [] and hub._tasks == {}
        fresh = await hub.sitting("small")
        assert fresh is not sitting and len(hub._tasks["small"]) == 2

    talking(tmp_path, talk)


def test_a_file_that_cannot_be_written_is_told_since_when_until_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def talk(house: House) -> None:
        hub, sitting = house.hub, await house.hub.sitting("small")
        times = iter(["t1", "t2", "t3"])
        monkeypatch.setattr(hubs, "utc_now", lambda: next(times))
        whole = type(house.desk).export
        said = ["full", "still full"]

        def full(self: Desk, key: str) -> None:
            raise CannotSave(said.pop(0))

        woken: list[Sitting] = []
        monkeypatch.setattr(sitting, "wake", lambda seat=None: woken.append(sitting))
        assert await hub._written(sitting) is None and not woken, "nothing new to tell"
        monkeypatch.setattr(type(house.desk), "export", full)
        refusal = await hub._written(sitting)
        assert refusal is not None and (sitting.file.behind, sitting.file.since) == (True, "t1")
        assert sitting.file.refusal == refusal and len(woken) == 1
        await hub._written(sitting)
        assert sitting.file.since == "t1" and sitting.file.refusal is not None, "behind since the first time"
        assert "still full" in str(sitting.file.refusal) and len(woken) == 2
        monkeypatch.setattr(type(house.desk), "export", whole)
        assert await hub._written(sitting) is None
        assert (sitting.file.behind, sitting.file.caught_up, sitting.file.refusal) == (False, "t2", None)
        assert len(woken) == 3

    talking(tmp_path, talk)


def test_the_end_of_a_socket_is_an_end(tmp_path: Path) -> None:
    async def talk(house: House) -> None:
        ann = house.client("Ann", seen=None)
        await ann.until(lambda: "mine" in ann.kinds())
        sitting = await house.hub.sitting("small")
        assert (len(sitting.seats), sitting.holders) == (1, 1)
        ann.leave()
        await ann.until(lambda: not sitting.seats)
        await ann.until(lambda: sitting.holders == 0)
        assert ann.closed is not None and ann.closed[0] == 1001

    talking(tmp_path, talk)
