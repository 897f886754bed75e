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
    """One number by its name."""
    return {row.name: row.value for row in load(AuditNumber)}[name]


@cache
def task_kinds() -> dict[str, TaskKind]:
    """Kinds of task by name."""
    return {row.task: row for row in load(TaskKind)}
