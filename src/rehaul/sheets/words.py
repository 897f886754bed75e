"""Sentences that papers use in more than one place."""

from __future__ import annotations

import string
from collections.abc import Sequence

from rehaul.design.results import Site
from rehaul.facts.promises import grade_promises
from rehaul.house import UNKNOWN, Box, Grade, House, Run, held_on
from rehaul.network.verdicts import EthernetVerdict, RunVerdict
from rehaul.planning import Plan
from rehaul.predict.results import RoomRate
from rehaul.units import METRES_PER_FOOT, UnitSystem, format_rate
from rehaul.words import REFERENCE, Saying, again, figure, say, term

PAID_FOR = "plan"  # the chain's name for what the household pays for


def visit_words(visit: int) -> Saying:
    """The heading over the steps of a visit; what nobody comes for is the household's."""
    return say("papers.visit", visit=visit) if visit else say("papers.by_the_household")


def sentence(text: str) -> str:
    """The text with a full stop at its end where no sign ends it, or none where there is no text.

    >>> sentence(" Look here "), sentence("Why?"), sentence("")
    ('Look here.', 'Why?', '')
    """
    text = text.strip()
    return text if not text or text.endswith((".", "?", "!")) else f"{text}."


def _rate_words(rate_mbps: float) -> str:
    """A rate without its unit: `430`, `4.5`, `0`."""
    return "0" if rate_mbps < 0.05 else figure(format_rate(rate_mbps).removesuffix(" Mb/s"))


def id_ranges(ids: tuple[str, ...]) -> str:
    """Ids that follow each other gathered, three or more; each once, by their letters and then their number.

    >>> id_ranges(("T03", "T01", "T02", "T41", "T100", "T99"))
    'T01–T03, T41, T99, T100'
    """
    found: list[list[str]] = []
    for name in sorted(set(ids), key=_in_order):
        if found and _follows(found[-1][-1], name):
            found[-1].append(name)
        else:
            found.append([name])
    return ", ".join(f"{chain[0]}–{chain[-1]}" if len(chain) > 2 else ", ".join(chain) for chain in found)


def _in_order(name: str) -> tuple[str, int, str]:
    number = name.lstrip(string.ascii_uppercase)
    return (name[: len(name) - len(number)], int(number), name) if number.isdigit() else (name, 0, name)


def _follows(first: str, second: str) -> bool:
    a, b = (name.lstrip(string.ascii_uppercase) for name in (first, second))
    same = first[: len(first) - len(a)] == second[: len(second) - len(b)]
    return same and a.isdigit() and b.isdigit() and int(b) == int(a) + 1


def causes(plan: Plan, ids: tuple[str, ...]) -> tuple[str, ...]:
    """What something is for, under names that stand on the sheets: rooms by name, no id of the solver's.

    Each once, whatever its case; the solver's ids only where there is nothing else to say.
    """
    rooms = {room.id: room.name for room in plan.job.house.rooms}
    inner = {work.id for work in plan.choice.resources} | {item.equipment for item in plan.network.rack}
    inner |= {link.id for link in plan.graph_after.links if link.medium == "cord"}
    inner |= {node.id for node in plan.graph_after.nodes if node.kind == "adapter"}
    names = [rooms.get(name, name) for name in ids if name not in inner] or [rooms.get(i, i) for i in ids]
    said = causes_said(plan, names)
    return tuple({name.casefold(): name for name in reversed(said)}.values())[::-1]


def causes_said(plan: Plan, names: Sequence[str]) -> tuple[str, ...]:
    """What caused a line, by its plan's names: devices and equipment said to the reader, ids as they are."""
    devices = {again(port.device, REFERENCE): port.device for port in plan.network.ports}
    return tuple(devices.get(name) or term(name) for name in names)


def feed_words(site: Site) -> str:
    """What an access point hangs on: the id of an old cable, a new one, a cord, or the router's radio.

    "new pull", "by radio" or "a cord" where it is no old cable.
    """
    if site.run:
        return site.run
    if site.new_pull_m:
        return say("papers.feed_new_pull")
    return say("papers.feed_by_radio") if site.hop else say("papers.feed_a_cord")


def listed(names: list[str] | tuple[str, ...]) -> Saying:
    """Names in a row for people; empty for none.

    >>> listed(["a", "b", "c"]), listed(["a"])
    ('a, b and c', 'a')
    """
    return say("words.listed", names=names)


def rate_range(rate: RoomRate, *, up: bool = False) -> str:
    """`310 Mb/s (180 to 420)`, the range holding nine cases of ten; the range left out where it is no wider.

    `up`: towards the internet.
    """
    middle = rate_words(rate.up_median_mbps if up else rate.median_mbps)
    span = span_words(rate, up=up)
    return middle if middle == f"{span} Mb/s" else say("papers.rate_range", middle=middle, span=span)


def rate_words(rate_mbps: float) -> Saying:
    """A rate for people with its unit, without false precision.

    >>> rate_words(86.7)
    '87 Mb/s'
    """
    return say("papers.rate", rate_mbps=rate_mbps)


def delay_at_risk(rate: RoomRate) -> bool:
    """Whether the delay that is asked for lies within the range of what it may be."""
    return rate.delay is not None and rate.delay.asked_ms is not None and rate.delay.verdict == "at risk"


def narrowest_words(rate: RoomRate, *, up: bool = False) -> str:
    """The name of the link that sets a room's rate, for people; "the rate paid for" where that is the line's.

    `up`: towards the internet.
    """
    name = rate.narrowest_up if up else rate.narrowest
    return say("papers.rate_paid_for") if again(name, REFERENCE) == PAID_FOR else term(name)


def span_words(rate: RoomRate, *, up: bool = False) -> str:
    """`180 to 420`: the range that holds nine cases of ten, without its unit.

    One figure where both ends read alike. `up`: towards the internet.
    """
    ends = (rate.up_low_mbps, rate.up_high_mbps) if up else (rate.low_mbps, rate.high_mbps)
    low, high = (_rate_words(end) for end in ends)
    return low if low == high else say("cells.span", low=low, high=high)


def length_range(verdict: RunVerdict, system: UnitSystem) -> str:
    """A length with its range: `17.0 m (16.5 to 17.5)`, `56 ft (54 to 57)`.

    The range left out where both ends read alike.
    """
    unit_m, unit, digits = (1.0, "m", 1) if system == "metric" else (METRES_PER_FOOT, "ft", 0)
    lengths = (verdict.length_m, verdict.length_low_m, verdict.length_high_m)
    middle, low, high = (figure(f"{length / unit_m:.{digits}f}") for length in lengths)
    if low == high:
        return f"{middle} {unit}"
    return say("papers.length_range", middle=middle, unit=unit, low=low, high=high)


def verdict_grade(verdict: RunVerdict) -> Grade:
    """How well a verdict is known: the grade of the fastest likely rate, else of the slowest rate.

    UNKNOWN where no rate was judged.
    """
    likely = [one for one in verdict.ethernet if one.band == "likely"]
    chosen = likely[-1] if likely else verdict.ethernet[0] if verdict.ethernet else None
    return chosen.grade if chosen else Grade.UNKNOWN


def ends_words(house: House, run: Run) -> str:
    """The ends of a run with the rooms of its plates: `M1 – G-01 (Living room) – far end not found`.

    In the order in which the cable runs, as the job has it.
    """
    rooms = {room.id: room.name for room in house.rooms}
    where = {outlet.id: rooms.get(outlet.room or "", "") for outlet in house.outlets}
    names: list[str] = []
    for end in run.ends:
        if end == UNKNOWN:
            names.append(say("papers.far_end_not_found"))
        else:
            names.append(f"{end} ({where[end]})" if where.get(end) else end)
    return " – ".join(names)


def hold_words(plan: Plan, run_id: str) -> Saying:
    """Why a run may not be cut, for people, with the ids of obligations; empty where nothing holds it.

    Asked of the job as it stands now. **Source**: `house.held_on`; docs/trace.md, "Before anything".
    """
    reasons = again(held_on(plan.job, run_id))
    return listed(
        [
            say("papers.held_for", problem=r.problem, obligation=r.obligation) if r.obligation else r.problem
            for r in reasons
        ]
    )


def place_of(plan: Plan, thing: str) -> str:
    """The name of the room or storey where an id is; a meeting point's or splitter's own; else the id itself.

    For plates, rooms, storeys, meeting points and splitters.
    """
    house = plan.job.house
    rooms = {room.id: room.name for room in house.rooms}
    storeys = {storey.id: storey.name for storey in house.storeys}
    for outlet in house.outlets:
        if outlet.id == thing:
            return rooms.get(outlet.room or "", storeys.get(outlet.storey, thing))
    names = {point.id: point.name for point in house.meeting_points}
    names |= {splitter.id: splitter.name for splitter in house.splitters}
    if thing in names:
        return names[thing]
    return rooms.get(thing, storeys.get(thing, thing))


def standing(plan: Plan) -> list[Box]:
    """The boxes of the job where they stand after the work: the router where it is moved to.

    The job itself stays as it is; access points of the plan are not among them.
    """
    router = plan.choice.router
    return [
        box.model_copy(update={"storey": router.storey, "position": router.position})
        if box.id == router.box and router.do == "move" and router.position is not None
        else box
        for box in plan.job.boxes
    ]


def best_evidence(verdict: RunVerdict) -> tuple[Grade, EthernetVerdict] | None:
    """The best grade among the likely rates, and the fastest rate that has it; None where none is likely.

    Grades in the order certified, measured, inferred, unknown.
    """
    likely = [one for one in verdict.ethernet if one.band == "likely"]
    if not likely:
        return None
    order = list(Grade)
    grade = min((one.grade for one in likely), key=order.index)
    return grade, [one for one in likely if one.grade is grade][-1]


def promises(plan: Plan, *, record: bool = False) -> tuple[str, ...]:
    """What may be promised of each cable, best known first, one sentence for each grade that occurs.

    `record`: in the words of the handover record instead of those of the quote.

    **Source**: fact table `grade_promises`; docs/work.md, "Quote".
    """
    found: dict[Grade, list[str]] = {grade: [] for grade in Grade}
    for verdict in plan.cabling:
        known = best_evidence(verdict)
        if known is None:
            found[Grade.UNKNOWN].append(verdict.run)
        else:
            found[known[0]].append(say("papers.run_at", run=verdict.run, rate_mbps=known[1].rate_mbps))
    return tuple(
        say(
            "papers.promise",
            grade=term(grade.value),
            runs=runs,
            words=term(row.handover if record else row.promise),
        )
        for grade, runs in found.items()
        if runs and (row := grade_promises()[grade.value])
    )
