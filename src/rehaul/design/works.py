"""What feeding a place takes, piece by piece: each piece is paid once however many use it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from rehaul.design.costs import Cost, task_cost
from rehaul.errors import BadInput
from rehaul.facts.equipment import equipment
from rehaul.facts.work import prices
from rehaul.house import Job
from rehaul.words import say


@dataclass(frozen=True)
class Work:
    """One piece of work: its tasks of the labour table, its parts, and what has to be done for it besides."""

    id: str
    words: str = ""
    tasks: tuple[str, ...] = ()
    parts: tuple[tuple[str, float], ...] = ()  # items of the price list or classes of equipment
    needs: tuple[str, ...] = ()
    excludes: str = ""  # of a set of that name at most one is done
    ports: int = 0  # of the main switch
    watts: float = 0.0
    loads: tuple[tuple[str, float], ...] = ()
    at: str = ""  # id of the plate, splitter or place where it is done
    about: tuple[str, ...] = ()  # ids of what it is done to
    saves: tuple[str, ...] = ()  # tasks of what it needs that it makes idle
    saves_parts: tuple[tuple[str, float], ...] = ()
    over: tuple[str, ...] = ()  # old cables that its test goes over


class Works:
    """Every piece of work that some way may need, by id."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.known: dict[str, Work] = {}
        self._costs: dict[str, tuple[Work, Cost]] = {}  # asked for again with every option that needs them

    def add(self, work: Work) -> str:
        """Take a piece of work in, once; its id.

        What stands under its id already stays, even where it is another.
        """
        self.known.setdefault(work.id, work)
        return work.id

    def put(self, work: Work) -> str:
        """Take a piece of work in, in place of what stood under its id."""
        self.known[work.id] = work
        return work.id

    def load(self, name: str, medium: str, share: float) -> None:
        """Let a piece of work take a share of a medium.

        Parameters: `share`, of the whole medium, from 0 to 1; it comes on top of what the work takes
        already. Raises KeyError for a work that is not known.
        """
        work = self.known[name]
        self.known[name] = replace(work, loads=(*work.loads, (medium, share)))

    def all_of(self, names: Iterable[str]) -> tuple[str, ...]:
        """Those pieces and all that they need in turn, sorted.

        Each once. Raises KeyError for one that is not known.
        """
        found: set[str] = set()
        waiting = list(names)
        while waiting:
            name = waiting.pop()
            if name not in found:
                found.add(name)
                waiting += self.known[name].needs
        return tuple(sorted(found))

    def cost(self, name: str) -> Cost:
        """What one piece of work costs.

        Raises KeyError for one that is not known. Money of the job, before margin and tax, without what it
        needs.
        """
        work = self.known[name]
        known = self._costs.get(name)
        if known is None or known[0] is not work:
            known = self._costs[name] = work, cost_of(self.job, work)
        return known[1]

    def cost_all(self, names: Iterable[str]) -> Cost:
        """What those pieces cost together, with all that they need.

        Each is paid once, however many of them need it; before margin and tax. **Source**: docs/exact.md,
        "The problem": shared things are paid once.
        """
        costs = [self.cost(name) for name in self.all_of(names)]
        return Cost(round(sum(c.middle for c in costs), 2), round(sum(c.high_90 for c in costs), 2))


def cost_of(job: Job, work: Work) -> Cost:
    """Money for one piece of work: its minutes at the job's price of an hour, and its parts.

    What it makes idle elsewhere is taken off, never below 0. Raises BadInput for a part that no table has.

    **Source**: fact tables of labour, prices and equipment.
    """
    parts = sum(price_of(item) * count for item, count in work.parts)
    cost = task_cost(job, list(work.tasks), parts)
    if not work.saves:
        return cost
    idle = task_cost(job, list(work.saves), sum(price_of(item) * count for item, count in work.saves_parts))
    return Cost(
        round(max(cost.middle - idle.middle, 0.0), 2), round(max(cost.high_90 - idle.high_90, 0.0), 2)
    )


def price_of(item: str) -> float:
    """The price of one item of the price list or of one box. Raises BadInput where neither table has it.

    Money of the price list, before margin and tax; an item of the list comes before a class of that name.
    """
    if item in prices():
        return prices()[item].unit_price
    if item in equipment():
        return equipment()[item].price
    raise BadInput(
        say("refused_common.no_class", item=item),
        where=say("refused_design.where_prices"),
        remedy=say("refused_design.name_item"),
    )
