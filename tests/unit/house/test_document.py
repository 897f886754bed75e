"""The job document: strict on the way in, with the path of the fault; the same on the way out."""

from __future__ import annotations

import json
from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.house import dump_job, parse_job
from rehaul.jobs import demo_job


def data() -> dict[str, Any]:
    return json.loads(dump_job(demo_job()))  # type: ignore[no-any-return]


def test_out_and_in_again_is_the_same() -> None:
    job = demo_job()
    assert parse_job(dump_job(job)) == job
    assert dump_job(parse_job(dump_job(job))) == dump_job(job)


def put(document: dict[str, Any], path: str, value: object) -> dict[str, Any]:
    node: Any = document
    *parents, last = path.split("/")
    for part in parents:
        node = node[int(part) if part.isdigit() else part]
    node[int(last) if last.isdigit() else last] = value
    return document


@pytest.mark.parametrize(
    ("path", "value", "where", "words"),
    [
        ("house/walls/0/thickness_m", -0.1, "house.walls[0] (W001).thickness_m", "greater than 0"),
        ("house/walls/0/end", [0, 0], "house.walls[0] (W001).end", "no length"),
        ("house/walls/0/storey", "9", "house.walls[0] (W001).storey", "no storey '9'"),
        ("house/outlets/0/position", [40.0, 3.0], "house.outlets[0] (0-01).position", "outside the house"),
        ("house/outlets/1/id", "0-01", "house.outlets[1].id", "already used"),
        ("house/runs/1/ends", ["MP1", "9-99"], "house.runs[1] (C02).ends", "'9-99'"),
        ("house/runs/1/ends", ["MP1"], "house.runs[1] (C02).ends", "at least 2"),
        ("house/rooms/0/polygon", [[0, 0], [1, 1], [2, 2]], "house.rooms[0] (R01).polygon", "no area"),
        ("house/openings/0/offset_m", 99.0, "house.openings[0] (X01).offset_m", "long"),
        ("needs/0/probability", 1.5, "needs[0] (N01).probability", "less than or equal to 0.999"),
        ("obligations/0/run", "C99", "obligations[0] (O1).run", "no run 'C99'"),
        ("service/modem", "XX", "service.modem", "no box 'XX'"),
        ("country", "usa", "country", "pattern"),
        ("schema_version", 99, "schema_version", "not known"),
        ("house/colour", "red", "house.colour", "Extra inputs"),
    ],
)
def test_each_fault_names_its_field_and_what_is_wrong(
    path: str, value: object, where: str, words: str
) -> None:
    with pytest.raises(BadInput) as refusal:
        parse_job(json.dumps(put(data(), path, value)))
    assert refusal.value.where.endswith(where)
    assert words in str(refusal.value)
    assert refusal.value.remedy


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "not JSON"),
        ("{", "not JSON"),
        ("[]", "not a job document"),
        ("{}", "no schema_version"),
        ('{"schema_version": 1, "schema_version": 1}', "stands twice"),
        (b"\xff\xfe\x00", "not"),
        ("[" * 100_000, "nested too deep"),
    ],
)
def test_what_is_no_document_is_refused_in_one_sentence(text: str | bytes, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        parse_job(text)


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_numbers_that_are_none_are_refused(number: str) -> None:
    text = dump_job(demo_job()).replace('"elevation_m": 2.9', f'"elevation_m": {number}')
    with pytest.raises(BadInput):
        parse_job(text)


def test_a_truncated_document_is_refused() -> None:
    text = dump_job(demo_job())
    with pytest.raises(BadInput, match="cut short"):
        parse_job(text[: len(text) // 2])
