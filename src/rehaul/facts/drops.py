"""Ways to bring a drop to life, and cheap tests of them: chances and long-tailed minutes."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from pydantic import Field

from rehaul.facts.table import FactRow, load


class DropWay(FactRow):
    """One way under one condition: what it takes and how often it works."""

    table: ClassVar[str] = "drop_ways"
    decides: ClassVar[str] = "which way to a new outlet is tried first, what it costs and how often it works"
    way: str
    when: str  # the condition under which the row holds
    title: str
    chance: float = Field(ge=0, le=1)
    minutes: float = Field(gt=0)  # median of the try
    minutes_90: float = Field(gt=0)
    extra_money: float = Field(ge=0)  # spent by trying
    parts: str = ""  # items of the price list spent by trying
    cable: float = Field(ge=0)  # metres of new cable for each metre of way
    finish_tasks: str = ""  # tasks of the labour table once it works
    finish_parts: str = ""


class DropTest(FactRow):
    """One cheap test: how often it gives a good sign where the way would work, and where it would not."""

    table: ClassVar[str] = "drop_tests"
    decides: ClassVar[str] = "which cheap test is made before a way to a new outlet is chosen"
    test: str
    about: str  # the way it says something on
    title: str
    minutes: float = Field(gt=0)
    hit: float = Field(ge=0, le=1)
    false: float = Field(ge=0, le=1)


class DropNumber(FactRow):
    """One number that the decision needs."""

    table: ClassVar[str] = "drop_numbers"
    decides: ClassVar[str] = "how long an outlet's cable may be, and what going without it weighs"
    name: str
    value: float
    unit: str
    meaning: str


@cache
def drop_ways() -> dict[tuple[str, str], DropWay]:
    """Ways to bring a drop to life by (way, condition): chance, minutes, money, parts.

    `minutes` is a median and `minutes_90` what nine tries in ten keep within. **Source**: the fact table
    `drop_ways`: trade judgement, most of it made up for the demo.
    """
    return {(row.way, row.when): row for row in load(DropWay)}


@cache
def drop_tests() -> tuple[DropTest, ...]:
    """Cheap tests of a way to a drop, in the order of the table.

    `hit` is the chance of a good sign where the way would work, `false` where it would not. **Source**: the
    fact table `drop_tests`, made up for the demo.
    """
    return load(DropTest)


@cache
def drop_numbers() -> dict[str, float]:
    """Numbers of the decision on drops by name: `go_without` [money], `copper_reach` [m].

    **Source**: the fact table `drop_numbers`; the first is made up for the demo.
    """
    return {row.name: row.value for row in load(DropNumber)}
