"""Parts, labour, price and the order of work; every line says which entities caused it."""

from __future__ import annotations

from typing import Literal

from rehaul.house import Model
from rehaul.words import Saying, say
from rehaul.words.fields import Words


class PartLine(Model):
    """One line of the takeoff."""

    item: str  # price-list id
    name: Words
    unit: Words  # each, m, ft, box
    need: float  # what is used
    spare: float
    quantity: float  # what is bought: need and spare, rounded up to what is sold
    unit_price: float
    price: float
    because: tuple[str, ...]  # ids of the entities that caused it
    note: str = ""


class CutLine(Model):
    """One length of cable or one patch cord to cut or buy."""

    id: str
    kind: Words  # cable, patch cord
    from_place: Words
    to_place: Words
    length_m: float  # with slack
    because: tuple[str, ...]


class ToolLine(Model):
    name: Words
    for_what: Words
    because: tuple[str, ...]


class LabourLine(Model):
    """Minutes for one kind of task in one visit: the middle and the 90 % value."""

    task: Words
    norm: str  # the row of the labour table
    visit: int
    count: float
    minutes: float
    minutes_90: float
    because: tuple[str, ...]


class QuoteOption(Model):
    """One offer: good, better, only what is needed."""

    name: Words  # accepted by it, in whatever language it was read
    access_points: int
    rooms_served: int
    rooms_total: int
    parts: float
    labour: float
    margin: float
    tax: float
    total: float
    total_90: float
    chosen: bool = False
    words: Words = ""
    ways: tuple[str, ...] = ()  # ids of the chosen ways: what would be built


class PricedUnknown(Model):
    """Something that may turn out otherwise, with its chance and what it would then cost."""

    about: tuple[str, ...]
    words: Words
    chance: float | None  # None: nobody can say
    cost: float  # with margin and tax, as the customer would pay


class Quote(Model):
    """The price, what is in it and what is not."""

    currency: str
    parts: float
    labour: float
    margin: float
    tax: float
    total: float
    total_90: float  # not exceeded in nine jobs of ten
    options: tuple[QuoteOption, ...]
    included: tuple[Words, ...]
    excluded: tuple[Words, ...]
    assumptions: tuple[Words, ...]
    unknowns: tuple[Words, ...]  # priced unknowns, as sentences
    deposit: float = 0.0
    valid_days: int = 30
    valid_until: str = ""  # ISO date; empty where the job has no date
    priced_unknowns: tuple[PricedUnknown, ...] = ()
    promises: tuple[Words, ...] = ()  # by grade of evidence
    invented_prices: bool = True


class HoleLine(Model):
    """One row of the hole and fire-block log, to be filled in while the hole is open."""

    id: str  # H01, H02, ...
    cable: str
    place: Words
    through: Words  # floor, masonry wall, sole plate, conduit end
    seal: Words  # what closes it
    task: str = ""  # the key of the step that makes it


class Takeoff(Model):
    parts: tuple[PartLine, ...]
    cuts: tuple[CutLine, ...]
    tools: tuple[ToolLine, ...]
    labour: tuple[LabourLine, ...]
    quote: Quote
    holes: tuple[HoleLine, ...] = ()


class Task(Model):
    """One step of the work, with the cautions that belong to it."""

    id: str  # T01, T02, ...
    key: str = ""  # stays the same when the plan is made anew
    title: Words
    stage: str  # gate, baseline, trace, qualify, run, terminate, rack, commission, prove
    visit: int  # 0: none, the household does it
    place: Words  # storey or room
    minutes: float
    minutes_90: float = 0.0
    needs: tuple[str, ...] = ()  # ids of tasks that come first
    tools: tuple[Words, ...] = ()
    cautions: tuple[Words, ...] = ()
    because: tuple[str, ...] = ()
    held: Words = ""  # why it may not start: an obligation without a sign-off
    photo: bool = False  # photograph before anything is disconnected
    start_min: float | None = None  # from the start of the visit, once scheduled
    person: int | None = None
    norm: str = ""  # the row of the labour table
    by: Literal["us", "household"] = "us"  # who does it; what the household does is not paid and has no visit
    storey: str = ""
    stop: bool = False  # a stop point: nobody goes on before it is read and signed
    hole: bool = False  # it makes a hole
    touches: tuple[str, ...] = ()  # old runs that it cuts, moves or draws out
    passes: tuple[str, ...] = ()  # ids of other storeys that it makes a hole in on the way


class Timetable(Model):
    """The order of work with times, and how good it is proven to be."""

    tasks: tuple[Task, ...]
    people: int
    visits: int
    working_min: int  # from start to finish, survey and work together, without the nights between
    least_working_min: int  # no timetable of these stints is shorter
    walks: int  # times somebody goes from one place to another
    proven: bool
    gap_pct: float
    waiting: int  # tasks without a time: held, or after one that is held

    @property
    def words(self) -> Saying:
        """One sentence on how good it is."""
        within = say("takeoff_lists.within", gap_pct=self.gap_pct)
        said = {
            "people": self.people,
            "visits": self.visits,
            "working_min": self.working_min,
            "walks": self.walks,
            "sure": say("takeoff_lists.proven") if self.proven else within,
        }
        if self.waiting:
            return say("takeoff_lists.times_waiting", **said, waiting=self.waiting)
        return say("takeoff_lists.times", **said)
