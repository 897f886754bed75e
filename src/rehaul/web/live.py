"""The live socket: edits in, acknowledged once on disk; everybody's edits out, in order."""

from __future__ import annotations

import asyncio
import contextlib
import time
from collections import deque
from typing import Any

from anyio import to_thread
from starlette.websockets import WebSocket, WebSocketDisconnect

from rehaul.errors import BadInput, CannotSave, Refusal
from rehaul.jobs import Receipt, Row, edit_from_data
from rehaul.web.answers import compact, object_from
from rehaul.web.context import context_of
from rehaul.web.hub import Seat, Sitting
from rehaul.web.sockets import NOT_UNDERSTOOD, close, socket_text, until_one_ends
from rehaul.web.ticks import require_ticks

LARGEST_HERE = 2_000
HERE_EVERY_S = 0.1
SLOWEST_S = 30.0
MOST_WAITING = 100  # answers not yet sent before the next edit is read
ROWS_IN_A_MESSAGE = 200


async def live(socket: WebSocket) -> None:
    """`WS /api/jobs/{job}/live`"""
    context = context_of(socket)
    await socket.accept()
    try:
        sitting = await context.hub.sitting(socket.path_params["job"])
        seen = _hello(await _message(socket))
    except Refusal as refusal:
        await close(socket, 4404 if refusal.code == "absent" else NOT_UNDERSTOOD, refusal.problem)
        return
    except WebSocketDisconnect as end:
        await close(socket, end.code, end.reason)
        return
    async with context.hub.seat(sitting, socket.state.device) as seat:
        talk = Talk(socket, sitting, seat, seen)
        await until_one_ends(socket, talk.listen(), talk.tell())


def person_row(row: Row, name: str) -> dict[str, Any]:
    """A row of the log as clients get it."""
    return {
        "revision": row.revision,
        "edit": row.edit,
        "person": row.person,
        "name": name,
        "at": row.at,
        "label": row.label,
        "changes": row.changes,
        "undoes": row.undoes,
    }


class Talk:
    """One client's conversation: a listener that takes its edits, a teller that keeps it up to date."""

    def __init__(self, socket: WebSocket, sitting: Sitting, seat: Seat, seen: int | None) -> None:
        self._socket = socket
        self._sitting = sitting
        self._seat = seat
        self._seen = seen
        self._people = context_of(socket).desk.people
        self._plans = context_of(socket).plans
        self._token = socket.cookies.get(context_of(socket).settings.cookie, "")
        self._answers: deque[dict[str, Any]] = deque()
        self._room_for_answers = asyncio.Event()
        self._room_for_answers.set()
        self._sent: dict[str, Any] = {"pictures": sitting.pictures_version}
        self._last_here_s = 0.0

    async def listen(self) -> None:
        while True:
            message = await _message(self._socket)
            kind = message.pop("type", None)
            if kind in ("edit", "undo", "redo"):
                await self._room_for_answers.wait()
                self._answer(await to_thread.run_sync(self._take, kind, message))
                self._plans.follow(self._sitting)
                self._sitting.wake()
            elif kind == "seen":
                number = message.get("notice")
                if isinstance(number, int):
                    with contextlib.suppress(CannotSave):  # they will be shown once more
                        await to_thread.run_sync(self._forget_notices, number)
            elif kind == "here":
                self._here(message.get("at"))

    async def tell(self) -> None:
        while True:
            self._seat.wake.clear()
            answers = list(self._answers)
            self._answers.clear()
            self._room_for_answers.set()
            for message in await to_thread.run_sync(self._news, len(answers) > 0):
                await self._send(message)
            for message in answers:
                await self._send(message)
            for message in self._room_news():
                await self._send(message)
            if self._answers:
                continue
            await self._seat.wake.wait()

    def _take(self, kind: str, message: dict[str, Any]) -> dict[str, Any]:
        """One edit, undo or redo; what to answer."""
        ledger, person = self._sitting.ledger, self._seat.device.person
        edit_id = message.get("edit")
        try:
            if kind == "edit":
                edit = edit_from_data(message)
                require_ticks(self._plans, self._sitting, edit)
                receipt = ledger.submit(person, edit)
            else:
                turn = ledger.undo if kind == "undo" else ledger.redo
                receipt = turn(person, _edit_id(edit_id))
        except CannotSave as refusal:
            return {"type": "retry", "edit": edit_id, "refusal": refusal.as_dict()}
        except Refusal as refusal:
            return {"type": "refused", "edit": edit_id, "refusal": refusal.as_dict()}
        return {"type": "ack", **ack(receipt)}

    def _answer(self, message: dict[str, Any]) -> None:
        self._answers.append(message)
        if len(self._answers) >= MOST_WAITING:
            self._room_for_answers.clear()

    def _news(self, own: bool) -> list[dict[str, Any]]:
        """What this client has not yet got, from the log; runs in a thread."""
        ledger, person = self._sitting.ledger, self._seat.device.person
        messages: list[dict[str, Any]] = []
        rows = None if self._seen is None else ledger.rows_since(self._seen)
        if rows is None:
            state = ledger.state
            messages.append(
                {"type": "snapshot", "revision": state.revision, "job": state.job.model_dump(mode="json")}
            )
            self._seen = state.revision
        elif rows:
            told = [person_row(row, self._people.name_of(row.person)) for row in rows]
            for start in range(0, len(told), ROWS_IN_A_MESSAGE):
                messages.append({"type": "edits", "edits": told[start : start + ROWS_IN_A_MESSAGE]})
            self._seen = rows[-1].revision
        if messages or own or "mine" not in self._sent:
            with contextlib.suppress(CannotSave):
                messages += self._own_news(person)
        return messages

    def _own_news(self, person: str) -> list[dict[str, Any]]:
        ledger = self._sitting.ledger
        news: list[dict[str, Any]] = []
        mine = {"type": "mine", **ledger.undo_labels(person)}
        if self._sent.get("mine") != mine:
            self._sent["mine"] = mine
            news.append(mine)
        notices = ledger.store.notices(ledger.job_id, person)
        last = self._sent.get("notice", 0)
        fresh = [notice for notice in notices if notice["notice"] > last]
        if fresh:
            self._sent["notice"] = fresh[-1]["notice"]
            news.append({"type": "notice", "notices": fresh})
        return news

    def _room_news(self) -> list[dict[str, Any]]:
        """What else changed."""
        if self._people.device(self._token) is None:
            raise WebSocketDisconnect(4401, "this device was forgotten")
        sitting, news = self._sitting, []
        if self._sent.get("people") != sitting.people_version:
            self._sent["people"] = sitting.people_version
            news.append({"type": "people", "people": sitting.people()})
        if self._sent["pictures"] != sitting.pictures_version:
            self._sent["pictures"] = sitting.pictures_version
            news.append({"type": "pictures"})
        if self._sent.get("plan") != sitting.plan_version:
            self._sent["plan"] = sitting.plan_version
            news.append({"type": "plan", **self._plans.state(sitting)})
        return news

    def _here(self, at: object) -> None:
        now_s = time.monotonic()
        if not isinstance(at, dict) or now_s - self._last_here_s < HERE_EVERY_S:
            return
        if len(compact(at)) <= LARGEST_HERE:
            self._last_here_s = now_s
            self._seat.at = at
            self._sitting.people_version += 1
            self._sitting.wake()

    def _forget_notices(self, number: int) -> None:
        ledger = self._sitting.ledger
        ledger.store.seen(ledger.job_id, self._seat.device.person, number)

    async def _send(self, message: dict[str, Any]) -> None:
        try:
            await asyncio.wait_for(self._socket.send_text(compact(message)), SLOWEST_S)
        except TimeoutError:
            raise WebSocketDisconnect(4408, "this client reads too slowly") from None


def ack(receipt: Receipt) -> dict[str, Any]:
    """A receipt as clients get it."""
    return {"edit": receipt.edit, "revision": receipt.revision, "told": receipt.told}


def _hello(message: dict[str, Any]) -> int | None:
    seen = message.get("seen")
    if message.get("type") != "hello" or not (seen is None or type(seen) is int):
        raise BadInput("the first message is not a hello", where="live", remedy="Say hello first")
    return seen


def _edit_id(edit_id: object) -> str:
    """The same rule as for edits."""
    probe = {"do": "set", "kind": "job", "fields": {"notes": ""}}
    return edit_from_data({"edit": edit_id, "base": 0, "changes": [probe]}).edit


async def _message(socket: WebSocket) -> dict[str, Any]:
    return object_from(await socket_text(socket))
