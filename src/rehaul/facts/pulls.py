"""How a new cable gets to a place: ways, walls that let one through, and how full a conduit may be."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from pydantic import Field

from rehaul.facts.link_media import Medium
from rehaul.facts.table import FactRow, load


class PullWay(FactRow):
    """One way to bring a new cable to a place."""

    table: ClassVar[str] = "pull_ways"
    decides: ClassVar[str] = "how long a new cable along a wall, in a duct or through an attic takes"
    way: str
    norm: str  # task of the labour table
    hard_norm: str  # the same through a hard wall or between storeys
    floor_norm: str = ""  # once for each floor that is passed
    chance: float = Field(gt=0, le=1)
    mounting: Literal["ceiling", "wall"]
    mbps: float = Field(gt=0)
    poe_class: int = Field(ge=0, le=8)
    medium: Medium
    cable: str  # item of the price list that a link of this medium is cut from, by the metre
    parts_per_m: str = ""
    parts: str = ""
    finish_tasks: str
    words: str


class WallAccess(FactRow):
    """Whether a cable can be fished in a wall of one construction."""

    table: ClassVar[str] = "wall_access"
    decides: ClassVar[str] = "whether a cable can be fished in a wall without opening it"
    construction: str
    fishing: Literal["bay", "hard", "none"]


class ConduitNumber(FactRow):
    """One number of the conduit check."""

    table: ClassVar[str] = "conduit_fill"
    decides: ClassVar[str] = "whether one more cable may go into a conduit that is there"
    name: str
    value: float
    unit: str
    meaning: str


@cache
def pull_ways() -> dict[str, PullWay]:
    """Ways to bring a new cable to a place, by name: tasks of the table `labour`, parts, chance, top rate.

    **Source**: the fact table `pull_ways`, trade judgement.
    """
    return {row.way: row for row in load(PullWay)}


@cache
def wall_access() -> dict[str, str]:
    """Whether a cable can be fished in a wall, by its construction: "bay", "hard" or "none".

    A construction without a row is not there. **Source**: the fact table `wall_access`, trade judgement.
    """
    return {row.construction: row.fishing for row in load(WallAccess)}


@cache
def conduit_numbers() -> dict[str, float]:
    """Numbers of the conduit check by name: shares of the bore [per cent], diameters [m].

    **Source**: the fact table `conduit_fill` (NFPA 70 as quoted; diameters by judgement).

    >>> conduit_numbers()["more cables"]  # per cent of the bore that three cables or more may fill
    40.0
    """
    return {row.name: row.value for row in load(ConduitNumber)}
