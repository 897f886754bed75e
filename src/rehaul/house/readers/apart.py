"""A stranger's file read in a process of its own: what the command line and the server call."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any

from pydantic import Field

from rehaul.apart import Limits
from rehaul.apart.door import answered_as, run_apart
from rehaul.house.base import Model
from rehaul.house.integrity import require_house
from rehaul.house.model import House
from rehaul.house.readers.dispatch import read_house, require_file
from rehaul.house.readers.report import ElementCounts, NotUnderstood, ReadReport
from rehaul.words.fields import WITH_CODES, Words

LIMITS = Limits(seconds=30.0, memory_bytes=1 << 30, answer_bytes=16_000_000)
MORE_S_PER_MB = 10.0  # what is small takes long only where something is wrong with it
MOST_ROWS = 10_000


class _Answer(Model):
    """A report as it comes through the door."""

    house: House
    counts: ElementCounts
    not_understood: Annotated[tuple[NotUnderstood, ...], Field(max_length=MOST_ROWS)]
    notes: Annotated[tuple[Words, ...], Field(max_length=MOST_ROWS)]


def read_apart(
    path: Path | str, *, limits: Limits = LIMITS, stop: threading.Event | None = None
) -> ReadReport:
    """What `read_house` finds, worked out where a file made to crash a reader ends that process alone.

    Raises BadInput, in one sentence, for whatever cannot be read, and where the reader stopped. **Source**:
    docs/security.md, "Files of strangers, read apart".
    """
    path = Path(path)
    size = require_file(path)
    limits = replace(limits, seconds=limits.seconds + MORE_S_PER_MB * size / 1e6)
    told = run_apart("rehaul.house.readers.apart:inside", path, limits=limits, stop=stop, where=path.name)
    answer: _Answer = answered_as(_Answer, told.text, path.name)
    require_house(answer.house, where=path.name)
    return ReadReport(answer.house, answer.counts, answer.not_understood, answer.notes)


def inside(file: Path, _: Mapping[str, Any]) -> tuple[str, bytes]:
    """Read a file and hand its report back as text: what runs in the process of its own.

    Returns JSON that `read_apart` reads, and no bytes. Raises BadInput as `read_house` does. **Source**:
    docs/security.md, "Files of strangers, read apart".
    """
    report = read_house(file)
    answer = _Answer(
        house=report.house,
        counts=report.counts,
        not_understood=report.not_understood,
        notes=report.notes,
    )
    return answer.model_dump_json(context=WITH_CODES), b""
