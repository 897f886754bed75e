"""Ids that an undo gives back: given again where nobody else was told of them, never where somebody was."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from server import Running, Talker, running

from rehaul.house import Job
from rehaul.jobs import save_job

LIVE = "/api/jobs/small/live"
STOREY = {"do": "put", "kind": "storey", "entity": {"id": "2", "name": "Up", "elevation_m": 3}}


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_job(tmp_path / "small.rehaul.json", Job(id="small", title="Small"))
    with running(tmp_path) as found:
        yield found


def put(talker: Talker, number: int) -> dict[str, Any]:
    """Add storey 2; what came of it."""
    edit = f"edit-{number:06d}"
    talker.say(type="edit", edit=edit, base=0, label="Add", changes=[STOREY])
    while True:
        for message in talker.inbox:
            if message["type"] in ("ack", "refused") and message["edit"] == edit:
                return message
        talker.inbox.append(json.loads(talker.socket.recv(timeout=10)))


def undo(talker: Talker, number: int) -> list[str]:
    talker.say(type="undo", edit=f"undo-{number:06d}")
    answer = talker.hear("ack", edit=f"undo-{number:06d}")
    free: list[str] = answer.get("free", [])
    return free


@pytest.fixture
def ann(server: Running) -> httpx.Client:
    return server.paired("Ann")


def test_whoever_is_alone_gets_the_id_again_each_time(server: Running, ann: httpx.Client) -> None:
    with server.socket(ann, LIVE) as a:
        talker = Talker(a)
        for turn in (1, 2, 3):
            assert put(talker, turn)["type"] == "ack"
            assert undo(talker, turn) == ["2"]


def test_an_id_that_came_back_by_redo_is_no_longer_free(server: Running, ann: httpx.Client) -> None:
    with server.socket(ann, LIVE) as a:
        talker = Talker(a)
        put(talker, 1)
        undo(talker, 1)
        talker.say(type="redo", edit="redo-000001")
        talker.hear("ack", edit="redo-000001")
        drop = {"do": "drop", "kind": "storey", "id": "2"}
        talker.say(type="edit", edit="edit-000002", base=3, label="", changes=[drop])
        talker.hear("ack", edit="edit-000002")
        assert put(talker, 3)["refusal"]["code"] == "taken"


def test_what_was_done_again_may_have_been_seen_before(server: Running, ann: httpx.Client) -> None:
    with server.socket(ann, LIVE) as a:
        talker = Talker(a)
        put(talker, 1)
        server.paired("Ben").get("/api/jobs/small")
        assert undo(talker, 1) == []
        talker.say(type="redo", edit="redo-000001")
        talker.hear("ack", edit="redo-000001")
        assert undo(talker, 2) == []


def test_a_drop_gives_no_id_back(server: Running, ann: httpx.Client) -> None:
    with server.socket(ann, LIVE) as a:
        talker = Talker(a)
        put(talker, 1)
        drop = {"do": "drop", "kind": "storey", "id": "2"}
        talker.say(type="edit", edit="edit-000002", base=1, label="", changes=[drop])
        talker.hear("ack", edit="edit-000002")
        assert undo(talker, 2) == []  # it stands again
        assert undo(talker, 1) == ["2"]


@pytest.mark.parametrize("seen", ["sits there", "was there", "asked", "file"])
def test_what_somebody_else_may_have_seen_is_never_given_again(
    server: Running, ann: httpx.Client, seen: str
) -> None:
    ben = server.paired("Ben")
    with server.socket(ann, LIVE) as a:
        talker = Talker(a)
        if seen == "sits there":
            with server.socket(ben, LIVE) as b:
                Talker(b).hear("snapshot")
                assert put(talker, 1)["type"] == "ack"
                assert undo(talker, 1) == []
        else:
            assert put(talker, 1)["type"] == "ack"
            if seen == "was there":
                with server.socket(ben, LIVE) as b:
                    Talker(b).hear("snapshot")
            elif seen == "asked":
                ben.get("/api/jobs/small")
            else:
                ann.get("/api/jobs/small/file")
            assert undo(talker, 1) == []
        refused = put(talker, 2)
        assert (refused["type"], refused["refusal"]["code"]) == ("refused", "taken")


def test_who_was_there_before_it_was_made_has_not_seen_it(server: Running, ann: httpx.Client) -> None:
    server.paired("Ben").get("/api/jobs/small")
    with server.socket(ann, LIVE) as a:
        talker = Talker(a)
        put(talker, 1)
        assert undo(talker, 1) == ["2"]


def test_a_server_started_anew_does_not_know_and_gives_none_back(tmp_path: Path) -> None:
    save_job(tmp_path / "small.rehaul.json", Job(id="small", title="Small"))
    with running(tmp_path) as server:
        ann = server.paired("Ann")
        with server.socket(ann, LIVE) as a:
            put(Talker(a), 1)
        (token,) = ann.cookies.values()
    with running(tmp_path) as server:
        ann = server.stranger()
        ann.cookies.set(server.settings.cookie, token)
        with server.socket(ann, LIVE) as a:
            assert undo(Talker(a), 1) == []
