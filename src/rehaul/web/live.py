"""The live socket: edits in, acknowledged once on disk; everybody's edits out, in order."""

from __future__ import annotations

import asyncio
import contextlib
import time
from collections import deque
from typing import Any

from starlette.websockets import WebSocket, WebSocketDisconnect

from rehaul.errors import BadInput, CannotSave, Refusal
from rehaul.jobs import Receipt, edit_from_data, notice_again
from rehaul.web.answers import BadText, compact, is_plain, object_from, said
from rehaul.web.asking import OPENING_S, asked
from rehaul.web.context import context_of, sitting_of
from rehaul.web.hub import file_message
from rehaul.web.sitting import Seat, Sitting
from rehaul.web.sockets import NOT_UNDERSTOOD, close, socket_text, until_one_ends
from rehaul.web.ticks import require_ticks
from rehaul.words import reader, say

LARGEST_HERE = 2_000
HERE_EVERY_S = 0.1
SLOWEST_S = 30.0
MOST_WAITING = 100  # answers not yet sent before the next edit is read
LARGEST_NUMBER = 2**63


async def live(socket: WebSocket) -> None:
    """`WS /api/jobs/{job}/live`"""
    context = context_of(socket)
    await socket.accept()
    with contextlib.ExitStack() as kept:
        try:
            sitting = await sitting_of(socket)
            kept.enter_context(sitting.held())  # a hello may be long in coming
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


class Talk:
    """One client's conversation: a listener that takes its edits, a teller that keeps it up to date."""

    def __init__(self, socket: WebSocket, sitting: Sitting, seat: Seat, seen: int | None) -> None:
        self._socket = socket
        self._sitting = sitting
        self._seat = seat
        self._seen = seen
        self._plans = context_of(socket).plans
        self._answers: deque[dict[str, Any]] = deque()
        self._room_for_answers = asyncio.Event()
        self._room_for_answers.set()
        self._sent: dict[str, Any] = {"pictures": sitting.pictures_version}
        self._told = -1
        self._turned = False
        self._last_here_s = 0.0

    async def listen(self) -> None:
        while True:
            try:
                message = await _message(self._socket)
            except BadText as refusal:
                await self._room_for_answers.wait()
                self._refuse_text(refusal)
                continue
            kind = message.pop("type", None)
            if kind in ("edit", "undo", "redo"):
                await self._room_for_answers.wait()
                self._answer(await self._taken(kind, message))
                self._sitting.wake(self._seat)
            elif kind == "seen":
                number = message.get("notice")
                if type(number) is int and 0 <= number < LARGEST_NUMBER:
                    with contextlib.suppress(CannotSave):  # they will be shown once more
                        await asked(self._forget_notices, number)
            elif kind == "showing":
                self._seat.follows = message.get("plan") is True
                self._plans.follow(self._sitting)
            elif kind == "here":
                self._here(message.get("at"))

    async def _taken(self, kind: str, message: dict[str, Any]) -> dict[str, Any]:
        """What to answer to an edit; where the store does not, the client sends it again."""
        try:
            return await asked(self._take, kind, message)
        except CannotSave as refusal:
            return {"type": "retry", "edit": message.get("edit"), "refusal": said(refusal)}

    def _refuse_text(self, refusal: BadText) -> None:
        """Tell the sender alone; an edit by its id, or it would be sent again for ever."""
        edit = refusal.data.get("edit") if isinstance(refusal.data, dict) else None
        edit = edit if isinstance(edit, str) and is_plain(edit) else None
        self._answer({"type": "refused", "edit": edit, "refusal": said(refusal)})
        self._seat.wake.set()

    async def tell(self) -> None:
        while True:
            self._seat.wake.clear()
            waiting = len(self._answers)
            await self._tell_edits()
            self._plans.follow(self._sitting)  # whoever edited, and wherever
            for _ in range(waiting):
                if self._answers[0].get("revision", 0) > (self._seen or 0):
                    break  # one's own edit comes before its ack
                await self._send(compact(self._answers.popleft()))
            if len(self._answers) < MOST_WAITING:
                self._room_for_answers.set()
            for text in self._room_news():
                await self._send(text)
            await self._tell_own()  # last: it asks the store, which others may be writing to
            await self._seat.wake.wait()

    async def _tell_edits(self) -> None:
        """What this client has not yet got, from the log."""
        found = None if self._seen is None else self._sitting.edits_since(self._seen)
        if found is None:
            text, self._seen = await asked(self._document, seconds=OPENING_S)
            await self._send(text)
        elif found[0]:
            self._seen = found[1]
            await self._send(found[0])

    async def _tell_own(self) -> None:
        """What is for this person alone."""
        told, turned = self._sitting.told[self._seat.device.person], self._turned
        if told != self._told or turned:
            self._turned = False
            with contextlib.suppress(CannotSave):
                for message in await asked(self._own_news, self._seat.device.person):
                    await self._send(compact(message))
                self._told = told

    def _document(self) -> tuple[str, int]:
        state = self._sitting.ledger.state
        document = {"type": "snapshot", "revision": state.revision, "job": state.job.model_dump(mode="json")}
        return compact(document), state.revision

    def _take(self, kind: str, message: dict[str, Any]) -> dict[str, Any]:
        """One edit, undo or redo; what to answer."""
        ledger, person = self._sitting.ledger, self._seat.device.person
        edit_id = message.get("edit")
        try:
            if kind == "edit":
                edit = edit_from_data(message)
                require_ticks(self._plans, self._sitting, edit)
                receipt = self._sitting.change(ledger.submit, person, edit)
            else:
                self._turned = True  # even in vain it may change what can be undone
                turn = self._undo if kind == "undo" else ledger.redo
                receipt = self._sitting.change(turn, person, _edit_id(edit_id))
        except CannotSave as refusal:
            return {"type": "retry", "edit": edit_id, "refusal": said(refusal)}
        except Refusal as refusal:
            return {"type": "refused", "edit": edit_id, "refusal": said(refusal)}
        return {"type": "ack", **ack(receipt)}

    def _undo(self, person: str, edit_id: str) -> Receipt:
        sitting = self._sitting
        return sitting.ledger.undo(person, edit_id, unseen=lambda revision: sitting.unseen(person, revision))

    def _answer(self, message: dict[str, Any]) -> None:
        self._answers.append(message)
        if len(self._answers) >= MOST_WAITING:
            self._room_for_answers.clear()

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
            news.append({"type": "notice", "notices": [notice_again(note) for note in fresh]})
        return news

    def _room_news(self) -> list[str]:
        """What else changed."""
        sitting, news = self._sitting, []
        if self._sent.get("people") != sitting.people_version:
            self._sent["people"] = sitting.people_version
            news.append(sitting.people_text())
        if self._sent["pictures"] != sitting.pictures_version:
            self._sent["pictures"] = sitting.pictures_version
            news.append(compact({"type": "pictures"}))
        if self._sent.get("plan") != sitting.plan_version:
            self._sent["plan"] = sitting.plan_version
            news += self._plan_news()
        if self._sent.get("file") != sitting.file:
            self._sent["file"] = sitting.file
            news.append(compact(file_message(sitting.file)))
        return news

    def _plan_news(self) -> list[str]:
        """How the plan is, and its answer where the page shows what a plan says and does not have it."""
        news = [compact({"type": "plan", **self._plans.state(self._sitting)})]
        answer = self._plans.answer_of(self._sitting) if self._seat.follows else None
        if answer is not None and self._sent.get("answer") is not answer:
            revision = self._plans.piece(self._sitting, "plan").answered
            said = answer.texts[reader().language]  # in JSON already
            news.append(f'{{"type":"answer","revision":{revision},"answer":{said}}}')
        self._sent["answer"] = answer
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

    async def _send(self, text: str) -> None:
        try:
            async with asyncio.timeout(SLOWEST_S):
                await self._socket.send_text(text)
        except TimeoutError:
            raise WebSocketDisconnect(4408, "this client reads too slowly") from None


def ack(receipt: Receipt) -> dict[str, Any]:
    """A receipt as clients get it."""
    return {
        "edit": receipt.edit,
        "revision": receipt.revision,
        "told": [notice_again(note) for note in receipt.told],
        **({"free": list(receipt.free)} if receipt.free else {}),
    }


def _hello(message: dict[str, Any]) -> int | None:
    seen = message.get("seen")
    if message.get("type") != "hello" or not (seen is None or type(seen) is int):
        raise BadInput(
            say("refused_web.first_message_not_hello"),
            where="live",
            remedy=say("refused_web.say_hello_first"),
        )
    return seen


def _edit_id(edit_id: object) -> str:
    """The same rule as for edits."""
    probe = {"do": "set", "kind": "job", "fields": {"notes": ""}}
    return edit_from_data({"edit": edit_id, "base": 0, "changes": [probe]}).edit


async def _message(socket: WebSocket) -> dict[str, Any]:
    return object_from(await socket_text(socket))
