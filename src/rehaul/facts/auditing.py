"""What the auditor of a plan measures by: tolerances, and what each kind of task does and uses up."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load


class AuditNumber(FactRow):
    """One number the auditor measures by, with its unit."""

    table: ClassVar[str] = "audit_numbers"
    decides: ClassVar[str] = "when the auditor of a plan calls two figures different, or a place impossible"
    name: str
    value: float
    unit: str
    meaning: str


class TaskKind(FactRow):
    """One kind of task: what it does to the cable it names, and which parts it uses up."""

    table: ClassVar[str] = "task_kinds"
    decides: ClassVar[str] = "what the auditor expects a task to do to its cable, and to use up"
    task: str  # a row of the table `labour`
    touch: Literal["work", "probe", "none"]
    parts: str = ""  # one of these is used; "equipment": the box itself


@cache
def audit_number(name: str) -> float:
    """One number the auditor measures by, in the unit of its row.

    Lengths in metres, tolerances of rates in per cent or Mb/s, volts for what counts as live. Raises
    KeyError for a name the table has not. **Source**: the fact table `audit_numbers`, whose rows say what
    each means.

    >>> audit_number("copper_channel")  # metres
    100.0
    """
    return {row.name: row.value for row in load(AuditNumber)}[name]


@cache
def task_kinds() -> dict[str, TaskKind]:
    """What each kind of task does to the cable it names, and which parts it uses up, by the name of the task.

    The names are those of the table `labour`. `touch` is "work" where the cable is cut, moved or fitted,
    "probe" where it is only tested, "none" otherwise. **Source**: the fact table `task_kinds`, trade
    judgement.
    """
    return {row.task: row for row in load(TaskKind)}
