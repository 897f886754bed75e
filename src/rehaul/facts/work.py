"""Labour, prices, allowances, tools and cautions: what the trade says, and what is made up for demos."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.table import FactRow, load


class Labour(FactRow):
    """Minutes of one kind of task: the middle, and the value not exceeded nine times in ten."""

    table: ClassVar[str] = "labour"
    decides: ClassVar[str] = "how long each task takes, and so price and timetable"
    task: str
    title: str
    unit: str
    minutes: float
    minutes_90: float
    stage: str


class Price(FactRow):
    """One thing that is bought."""

    table: ClassVar[str] = "price_list"
    decides: ClassVar[str] = "what the materials of a quote cost"
    item: str
    name: str
    unit: str
    unit_price: float
    sold_in: int
    spare_pct: float
    kind: str


class Allowance(FactRow):
    """A usual allowance: slack, labels a run, clips a metre."""

    table: ClassVar[str] = "allowances"
    decides: ClassVar[str] = "how much slack, labels and clips a job buys, and what an hour of work costs"
    name: str
    value: float
    unit: str
    meaning: str


class Tool(FactRow):
    """A tool, and the task that asks for it."""

    table: ClassVar[str] = "tools"
    decides: ClassVar[str] = "which tools the list for a visit holds"
    name: str
    purpose: str
    task: str


class Caution(FactRow):
    """A caution, the stages it belongs to, and the condition under which it is shown."""

    table: ClassVar[str] = "cautions"
    decides: ClassVar[str] = "which warnings stand beside a stage of the work, and when"
    name: str
    text: str
    stages: str
    when: str


class HazardYear(FactRow):
    """Houses built before this year may hold the hazard until somebody says otherwise."""

    table: ClassVar[str] = "hazard_years"
    decides: ClassVar[str] = "in houses of which years work stops for lead or asbestos until it is looked at"
    hazard: str
    country: str = ""  # empty: every country without a row of its own
    built_before: int


@cache
def labour() -> dict[str, Labour]:
    """Minutes of each kind of task by its name: the middle, and what nine tasks in ten keep within.

    They count once for each `unit` of the row. **Source**: the fact table `labour`, trade judgement
    (docs/work.md).
    """
    return {row.task: row for row in load(Labour)}


@cache
def prices() -> dict[str, Price]:
    """Things that are bought by item: a price for each unit, and in how many they are sold.

    **Validity**: invented, in no currency: a firm puts in its own. **Source**: the fact table `price_list`.
    """
    return {row.item: row for row in load(Price)}


@cache
def allowances() -> dict[str, float]:
    """Usual allowances by name, each in the unit of its row: slack [m], labels a run, what an hour costs.

    **Source**: the fact table `allowances`; its hour of work is invented.
    """
    return {row.name: row.value for row in load(Allowance)}


@cache
def hazard_years(country: str) -> dict[str, HazardYear]:
    """The year before which a house may hold each hazard, by hazard, until somebody says otherwise.

    Parameters: `country`, a code of two letters. A house built in that year or later is not asked. A row
    whose own `country` is empty is no rule of that country, and its year is not to be told as one.
    **Source**: the fact table `hazard_years`.

    >>> hazard_years("US")["lead"].country, hazard_years("FR")["lead"].country
    ('US', '')
    """
    rows = [row for row in load(HazardYear) if row.country in ("", country)]
    return {row.hazard: row for row in sorted(rows, key=lambda row: row.country)}
