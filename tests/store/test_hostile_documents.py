"""Job documents that nobody wrote by hand: one sentence each, and nothing of them is kept."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from replica import small_job

from rehaul.errors import BadInput
from rehaul.house import dump_job, parse_job
from rehaul.jobs import JobState, edit_from_data
from rehaul.jobs.apply import apply_edit
from rehaul.jobs.learnt import learnt_from_files
from rehaul.printable import printable

TEXT = dump_job(small_job())


def with_(old: str, new: str) -> str:
    assert old in TEXT
    return TEXT.replace(old, new, 1)


DOCUMENTS = {
    "a number of 5,000 digits": with_('"value": 40.0', '"value": ' + "9" * 5000),
    "a version of 5,000 digits": with_('"schema_version": 3', '"schema_version": ' + "9" * 5000),
    "a version of 4,000 digits": with_('"schema_version": 3', '"schema_version": ' + "9" * 4000),
    "900 deep": with_('"title": "Small"', '"title": ' + "[" * 900 + "]" * 900),
    "900 deep in an object": with_('"title": "Small"', '"title": ' + '{"a":' * 900 + "1" + "}" * 900),
    "100,000 deep": with_('"title": "Small"', '"title": ' + "[" * 100_000 + "]" * 100_000),
    "half a letter": with_('"Small"', '"\\ud800"'),
    "half a letter for a field": with_('"title"', '"\\udfff"'),
    "half a letter twice": with_('"title"', '"\\udfff": 1, "\\udfff"'),
    "nothing at all in a title": with_('"Small"', '"a\\u0000b"'),
    "nothing at all in a room's name": with_('"Kitchen"', '"a\\u0000b"'),
    "a huge power": with_('"value": 40.0', '"value": 1e400'),
    "a list": "[" * 50,
    "a mark of another machine": "\ufeff" * 3 + TEXT,
    "UTF-16 without an end": "\x00{",
}


@pytest.mark.parametrize("text", DOCUMENTS.values(), ids=DOCUMENTS)
@pytest.mark.parametrize("encoded", [False, True])
def test_one_sentence(text: str, encoded: bool) -> None:
    with pytest.raises(BadInput) as caught:
        parse_job(text.encode() if encoded else text)
    said = str(caught.value)
    assert caught.value.remedy and len(said) < 1000
    said.encode()  # a sentence that can be printed and sent


@pytest.mark.parametrize("name", ["900 deep", "100,000 deep", "a number of 5,000 digits"])
def test_so_it_is_for_what_was_learnt(tmp_path: Path, name: str) -> None:
    path = tmp_path / "learnt.json"
    path.write_text(DOCUMENTS[name])
    with pytest.raises(BadInput):
        learnt_from_files([path])


@pytest.mark.parametrize("bad", ["a\0b", "\ud800"])
def test_so_it_is_for_edits(bad: str) -> None:
    wall = {"do": "set", "kind": "wall", "id": "w1", "fields": {"note": bad}}
    odd = {"do": "put", "kind": "outlet", "entity": {"id": bad, bad: 1}}
    fine = {**wall, "fields": {"note": "x"}}
    for data in (
        {"edit": "edit-0001", "base": 0, "label": bad, "changes": [fine]},
        {"edit": "edit-0001", "base": 0, "changes": [{**fine, bad: 1}]},
        {"edit": "edit-0001", "base": 0, "changes": [wall]},
        {"edit": "edit-0001", "base": 0, "changes": [odd]},
    ):
        with pytest.raises(BadInput) as caught:
            apply_edit(JobState(0, small_job()), edit_from_data(data), "p1", str)
        assert printable(str(caught.value)) == str(caught.value)


def test_an_honest_document_is_as_deep_as_it_needs() -> None:
    assert parse_job(TEXT) == small_job()
    offer = json.dumps({"a": [[[1]]]})
    assert (
        parse_job(with_('"title": "Small"', f'"title": "Small", "notes": {json.dumps(offer)}')).notes == offer
    )
