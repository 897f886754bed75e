"""Readings of a job for the terminal, and what their columns meant the last time."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path

from rehaul.cli.common import print_table, tell
from rehaul.errors import BadInput
from rehaul.house import Job, Reading
from rehaul.jobs import edit_job, log_path, write_whole
from rehaul.predict import calibration_of, scene_of, standing_radiators
from rehaul.printable import short
from rehaul.proof import ReadingTable, ceiling, new_reading, readings_from_table
from rehaul.words import say, term

LARGEST_BYTES = 20_000_000
MOST_SHOWN = 20


def import_readings(path: Path, table: Path, said: Sequence[str]) -> ReadingTable:
    """Add the readings of a table to a job; what its columns mean is remembered beside the job."""
    beside = log_path(path).with_suffix(".rehaul-columns.json")
    remembered = _remembered(beside) | dict(_pair(words) for words in said)
    text = _text(table)
    found: list[ReadingTable] = []

    def change(job: Job) -> Job:
        try:
            found.append(readings_from_table(text, job, remembered))
        except BadInput as refusal:
            where = table.name
            if refusal.where:
                where = say("refused_common.place_in", where=where, place=refusal.where)
            raise BadInput(refusal.problem, where=where, remedy=refusal.remedy) from None
        return job.model_copy(update={"readings": (*job.readings, *found[-1].readings)})

    edit_job(path, change, label="Readings taken in")
    kept = remembered | found[-1].columns
    write_whole(beside, (json.dumps(kept, indent=2, sort_keys=True) + "\n").encode())
    return found[-1]


def add_reading(path: Path, said: Sequence[str]) -> Job:
    """Add what was typed, such as `down_mbps=120 room=Playroom`."""
    cells = dict(_pair(words) for words in said)
    return edit_job(
        path,
        lambda job: job.model_copy(update={"readings": (*job.readings, *new_reading(job, cells))}),
        label="Reading added",
    )


def reading_rows(job: Job) -> list[dict[str, object]]:
    """Every reading with its device's ceiling and what the calibration makes of it."""
    scene, boxes = scene_of(job.house, job.country), standing_radiators(job)
    found = calibration_of(job, scene, boxes)
    unused = dict(found.left_out)
    suspects = set(found.suspects)
    rows: list[dict[str, object]] = []
    for reading in job.readings:
        best = ceiling(job, reading)
        fate = "does not fit the others" if reading.id in suspects else unused.get(reading.id, "")
        if not fate and reading.id in found.used:
            fate = "used"
        rows.append(
            {**reading.model_dump(mode="json"), "ceiling": best.model_dump() if best else None, "use": fate}
        )
    return rows


def print_readings(job: Job) -> None:
    """One line for each reading."""
    rooms = {room.id: room.name for room in job.house.rooms}
    rows = []
    for reading, row in zip(job.readings, reading_rows(job), strict=True):
        best = ceiling(job, reading)
        rows.append(
            (reading.id, term(reading.stage), rooms.get(reading.room or "", ""), reading.device or "",
             reading.quantity.value, _value(reading), best.words if best else term("by cable"),
             term(str(row["use"])))
        )  # fmt: skip
    print_table(["id", "stage", "room", "device", "quantity", "value", "device's ceiling", "use"], rows)


def _value(reading: Reading) -> str:
    return f"{'≤ ' if reading.at_most else ''}{reading.value:g}"


def print_table_news(found: ReadingTable, table: Path) -> None:
    """What came in and what did not."""
    tell(say("cli.readings_in", taken=len(found.readings)))
    for heading, meaning in found.columns.items():
        tell(f"  {heading}: {meaning}")
    if found.ignored:
        tell(say("cli.columns_left", columns=", ".join(found.ignored)))
    for line in found.left_out[:MOST_SHOWN]:
        tell(say("cli.line_left", table=table.name, line=line))
    if len(found.left_out) > MOST_SHOWN:
        tell(say("cli.lines_left", more=len(found.left_out) - MOST_SHOWN))


def _remembered(beside: Path) -> dict[str, str]:
    if not beside.exists():
        return {}
    try:
        data = json.loads(beside.read_text(encoding="utf-8"))
    except (ValueError, RecursionError, OSError):
        data = None
    if not isinstance(data, Mapping) or not all(isinstance(value, str) for value in data.values()):
        raise BadInput(
            say("refused_cli.columns_file_damaged"),
            where=str(beside),
            remedy=say("refused_cli.mend_take_away"),
        )
    return {str(key): str(value) for key, value in data.items()}


def _pair(words: str) -> tuple[str, str]:
    name, mark, value = words.rpartition("=") if words.count("=") == 1 else words.partition("=")
    if not mark or not name.strip() or not value.strip():
        raise BadInput(
            say("refused_cli.not_name_value", words=short(words)),
            where="rehaul readings",
            remedy=say("refused_cli.write_example_room_playroom"),
        )
    return name.strip(), value.strip()


def _text(table: Path) -> str:
    try:
        with table.open("rb") as file:
            data = file.read(LARGEST_BYTES + 1)
    except OSError:
        raise BadInput(
            say("refused_cli.cannot_read"),
            where=str(table),
            remedy=say("refused_common.check_name_and_folder"),
        ) from None
    if len(data) > LARGEST_BYTES:
        raise BadInput(
            say("refused_cli.table_larger_than_20"),
            where=str(table),
            remedy=say("refused_cli.give_smaller_one"),
        )
    if data.startswith(b"PK") or b"\0" in data:
        raise BadInput(
            say("refused_cli.no_table_as_text"), where=str(table), remedy=say("refused_cli.save_sheet_as_csv")
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")
