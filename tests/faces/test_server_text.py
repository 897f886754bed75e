"""Text that cannot be sent on: refused to whoever sent it, never a reason for another's socket to end."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from server import Running, Talker, running

from rehaul.house import Job
from rehaul.jobs import save_job

HALF = '"\\ud800"'


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_job(tmp_path / "small.rehaul.json", Job(id="small", title="Small"))
    with running(tmp_path) as found:
        yield found


POISON = [
    '{"type": "here", "at": {"page": "\\ud800"}}',
    '{"type": "here", "at": {"\\udfff": 1}}',
    '{"type": "here", "at": {"x": 1e999}}',
    '{"type": "here", "at": {"x": NaN}}',
    '{"type": "here", "at": {"x": ' + "[" * 400 + "]" * 400 + "}}",
    (
        '{"type": "edit", "edit": "edit-000001", "base": 0, "label": "\\udc00", "changes": '
        '[{"do": "set", "kind": "job", "fields": {"notes": "x"}}]}'
    ),
    (
        '{"type": "edit", "edit": "edit-000001", "base": 0, "label": "", "changes": '
        '[{"do": "set", "kind": "job", "fields": {"notes": "\\ud800x"}}]}'
    ),
    (
        '{"type": "edit", "edit": "edit-000001", "base": 0, "label": "", "changes": '
        '[{"do": "set", "kind": "job", "fields": {"notes": "a\\u0000b"}}]}'
    ),
    '{"type": "undo", "edit": "\\ud800"}',
    '{"type": "seen", "notice": 99999999999999999999999}',
    '{"type": "seen", "notice": -1}',
    '{"type": "\\ud800"}',
]


@pytest.mark.parametrize("words", POISON)
def test_one_persons_message_ends_nobody_elses_socket(
    server: Running, words: str, caplog: pytest.LogCaptureFixture
) -> None:
    ann, eve = server.paired("Ann"), server.paired("Eve")
    with server.socket(ann, "/api/jobs/small/live") as a, server.socket(eve, "/api/jobs/small/live") as e:
        first, second = Talker(a), Talker(e)
        first.hear("snapshot")
        second.hear("snapshot")
        with caplog.at_level(logging.WARNING):
            second.socket.send(words)
            data = {"do": "set", "kind": "job", "fields": {"notes": "fine"}}
            first.say(type="edit", edit="edit-000002", base=0, label="", changes=[data])
            first.hear("ack", edit="edit-000002")
        assert not [row for row in caplog.records if row.exc_info], (
            "a trace for every such message swells the log"
        )


def test_an_edit_that_cannot_be_sent_is_refused_by_its_id(server: Running) -> None:
    """Or the page would keep it and send it again for ever."""
    eve = server.paired("Eve")
    with server.socket(eve, "/api/jobs/small/live") as live:
        talker = Talker(live)
        talker.hear("snapshot")
        talker.socket.send(POISON[6])
        assert talker.hear("refused", edit="edit-000001")["refusal"]["code"] == "bad-input"
        data = {"do": "set", "kind": "job", "fields": {"notes": "fine"}}
        talker.say(type="edit", edit="edit-000002", base=0, label="", changes=[data])
        talker.hear("ack", edit="edit-000002")


@pytest.mark.parametrize(
    ("path", "body"),
    [
        ("/api/jobs", f'{{"title": {HALF}}}'.encode()),
        ("/api/jobs", b'{"title": "\xed\xa0\x80"}'),
        ("/api/jobs", '{"title": "x"}'.encode("utf-16")),
        ("/api/jobs/small/edits", POISON[6].encode()),
    ],
)
def test_bodies(server: Running, path: str, body: bytes) -> None:
    ann: httpx.Client = server.paired("Ann")
    assert ann.post(path, content=body).status_code == 422
    assert ann.get("/api/me").status_code == 200


def test_a_name(server: Running) -> None:
    code = server.codes.new().code
    answer = server.stranger().post("/api/pair", content=f'{{"code": "{code}", "name": {HALF}}}'.encode())
    assert answer.status_code == 422
    assert server.stranger().post("/api/pair", json={"code": code, "name": "Ann"}).status_code == 200
