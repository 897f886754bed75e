"""Tables of what the house has and gets: rooms, plates, cables and their verdicts."""

from __future__ import annotations

from rehaul.house import Grade, Outlet, Run
from rehaul.network.verdicts import EthernetVerdict, RunVerdict
from rehaul.planning import Plan
from rehaul.predict.results import RoomRate
from rehaul.sheets import words
from rehaul.sheets.table import Column, Table, table
from rehaul.takeoff.labels import hold_names
from rehaul.units import METRES_PER_FOOT
from rehaul.words import figure, say, term


def house_tables(plan: Plan) -> tuple[Table, ...]:
    """Rooms down and up, plates, cables, cables on a closer look, verdicts.

    In the order of docs/papers.md.
    """
    return (rooms(plan), rooms_up(plan), outlets(plan), runs(plan), closer(plan), verdicts(plan))


def rooms(plan: Plan) -> Table:
    """Mb/s in each room now and after, with the link that sets it, in the order of the plan.

    The middle and the range that holds nine cases of ten; both as numbers too, in files alone. A room
    without a need has no figure for it.
    """
    storeys = {storey.id: storey.name for storey in plan.job.house.storeys}
    before = {rate.room: rate for rate in plan.before.rooms}
    pairs: list[tuple[RoomRate, RoomRate | None]] = [
        (after, before.get(after.room)) for after in plan.after.rooms
    ]
    return table(
        "rooms",
        say("sheets.rooms"),
        pairs,
        (
            (
                Column("storey", say("heads_house.storey"), share=0.8),
                lambda p: storeys.get(p[0].storey, p[0].storey),
            ),
            (Column("room", say("heads_house.room"), share=1.1), lambda p: p[0].name),
            (Column("need_mbps", say("heads_house.needs_mbps"), "number"), lambda p: p[0].need_mbps or None),
            (
                Column("now", say("heads_house.now"), share=1.2),
                lambda p: words.rate_range(p[1]) if p[1] else "",
            ),
            (
                Column("now_narrowest", say("heads_house.set_today_by"), share=2.1),
                lambda p: words.narrowest_words(p[1]) if p[1] else "",
            ),
            (Column("after", say("heads_house.after"), share=1.2), lambda p: words.rate_range(p[0])),
            (
                Column("after_narrowest", say("heads_house.then_set_by"), share=1.6),
                lambda p: words.narrowest_words(p[0]),
            ),
            (
                Column("served_pct", say("heads_house.floor_served_pct"), "number"),
                lambda p: p[0].served_pct if p[0].need_mbps else None,
            ),
            (
                Column("met", say("heads_house.need_met")),
                lambda p: _met_words(p[0]),
            ),
            (
                Column("now_mbps", say("heads_house.now_middle"), "number", 1, on_paper=False),
                lambda p: p[1].median_mbps if p[1] else None,
            ),
            (
                Column("now_low_mbps", say("heads_house.now_low"), "number", 1, on_paper=False),
                lambda p: p[1].low_mbps if p[1] else None,
            ),
            (
                Column("now_high_mbps", say("heads_house.now_high"), "number", 1, on_paper=False),
                lambda p: p[1].high_mbps if p[1] else None,
            ),
            (
                Column("after_mbps", say("heads_house.after_middle"), "number", 1, on_paper=False),
                lambda p: p[0].median_mbps,
            ),
            (
                Column("after_low_mbps", say("heads_house.after_low"), "number", 1, on_paper=False),
                lambda p: p[0].low_mbps,
            ),
            (
                Column("after_high_mbps", say("heads_house.after_high"), "number", 1, on_paper=False),
                lambda p: p[0].high_mbps,
            ),
        ),
        note=say("sheets.rooms_note"),
    )


def _met_words(rate: RoomRate) -> str:
    if not (rate.asks or rate.too_late):
        return say("cells.no_need_set")
    if not rate.met:
        return say("cells.need_not_met")
    return say("cells.met_delay_at_risk") if words.delay_at_risk(rate) else say("cells.yes")


def rooms_up(plan: Plan) -> Table:
    """The way up, all rooms at once, and delay under load, room by room as in `rooms`.

    Delay is to the provider and back [ms], a range and no promise; empty where none is known.
    """
    before = {rate.room: rate for rate in plan.before.rooms}
    return table(
        "rooms_up",
        say("sheets.rooms_up"),
        plan.after.rooms,
        (
            (Column("room", say("heads_house.room"), share=1.1), lambda r: r.name),
            (
                Column("up_need_mbps", say("heads_house.needs_up_mbps"), "number", 1),
                lambda r: r.up_need_mbps or None,
            ),
            (
                Column("now", say("heads_house.up_now"), share=1.2),
                lambda r: words.rate_range(before[r.room], up=True) if r.room in before else "",
            ),
            (Column("after", say("heads_house.up_after"), share=1.2), lambda r: words.rate_range(r, up=True)),
            (
                Column("after_narrowest", say("heads_house.set_by"), share=1.6),
                lambda r: words.narrowest_words(r, up=True),
            ),
            (
                Column("up_served_pct", say("heads_house.floor_served_pct"), "number"),
                lambda r: r.up_served_pct if r.up_need_mbps else None,
            ),
            (
                Column("together_mbps", say("heads_house.down_together"), "number"),
                lambda r: r.together_mbps if r.need_mbps else None,
            ),
            (
                Column("delay", say("heads_house.delay_under_load"), share=1.4),
                lambda r: say("cells.delay", span=r.delay.span, grade=term(r.delay.grade)) if r.delay else "",
            ),
            (Column("delay_met", say("heads_house.delay_asked"), share=1.2), _delay_asked),
            (
                Column("up_mbps", say("heads_house.after_middle"), "number", 1, on_paper=False),
                lambda r: r.up_median_mbps,
            ),
            (
                Column("up_low_mbps", say("heads_house.after_low"), "number", 1, on_paper=False),
                lambda r: r.up_low_mbps,
            ),
            (
                Column("up_high_mbps", say("heads_house.after_high"), "number", 1, on_paper=False),
                lambda r: r.up_high_mbps,
            ),
            (
                Column("delay_low_ms", say("heads_house.delay_low"), "number", on_paper=False),
                lambda r: r.delay.low_ms if r.delay else None,
            ),
            (
                Column("delay_high_ms", say("heads_house.delay_high"), "number", on_paper=False),
                lambda r: r.delay.high_ms if r.delay else None,
            ),
        ),
        note=say("sheets.rooms_up_note"),
    )


def _delay_asked(rate: RoomRate) -> str:
    if rate.delay is None or rate.delay.asked_ms is None:
        return ""
    return say("cells.delay_asked", asked_ms=rate.delay.asked_ms, verdict=term(rate.delay.verdict))


def outlets(plan: Plan) -> Table:
    """Every plate with its cables, the ones never found too; places [m] in files alone."""
    house = plan.job.house
    storeys = {storey.id: storey.name for storey in house.storeys}
    names = {room.id: room.name for room in house.rooms}
    on: dict[str, list[str]] = {}
    for run in house.runs:
        for end in run.ends:
            on.setdefault(end, []).append(run.id)

    def place(outlet: Outlet) -> str:
        return say("cells.never_located") if outlet.position is None else names.get(outlet.room or "", "")

    return table(
        "outlets",
        say("sheets.plates"),
        house.outlets,
        (
            (Column("id", say("heads_house.plate"), "id"), lambda o: o.id),
            (
                Column("storey", say("heads_house.storey"), share=0.8),
                lambda o: storeys.get(o.storey, o.storey),
            ),
            (Column("place", say("heads_house.room"), share=1), place),
            (Column("kind", say("heads_house.kind")), lambda o: term(o.kind.value)),
            (Column("runs", say("heads_house.cables"), "id"), lambda o: " ".join(on.get(o.id, []))),
            (Column("old_label", say("heads_house.old_label"), share=1), lambda o: o.old_label),
            (Column("note", say("heads_house.note"), share=2), lambda o: o.note),
            (
                Column("x_m", say("heads_house.x_m"), "number", 2, on_paper=False),
                lambda o: o.position[0] if o.position else None,
            ),
            (
                Column("y_m", say("heads_house.y_m"), "number", 2, on_paper=False),
                lambda o: o.position[1] if o.position else None,
            ),
            (
                Column("height_m", say("heads_house.height_m"), "number", 2, on_paper=False),
                lambda o: o.height_m,
            ),
        ),
    )


def runs(plan: Plan) -> Table:
    """The cable schedule: what each old run is, what it can do, and how well that is known.

    A row for each run that was judged. `rate`: the fastest that is likely; "try" before one that may be;
    "none".
    """
    job = plan.job
    by_id = {run.id: run for run in job.house.runs}
    pairs = [(by_id[verdict.run], verdict) for verdict in plan.cabling if verdict.run in by_id]

    def fastest(pair: tuple[Run, RunVerdict]) -> str:
        verdict = pair[1]
        if verdict.likely_mbps:
            return figure(f"{verdict.likely_mbps:g}")
        if verdict.hoped_mbps:
            return say("cells.try_rate", hoped_mbps=verdict.hoped_mbps)
        return say("cells.no_rate")

    def proven(pair: tuple[Run, RunVerdict]) -> str:
        known = words.best_evidence(pair[1])
        tested = known and known[0] in {Grade.CERTIFIED, Grade.MEASURED}
        return figure(f"{known[1].rate_mbps:g}") if known and tested else ""

    return table(
        "runs",
        say("sheets.cable_schedule"),
        pairs,
        (
            (Column("id", say("heads_house.cable"), "id"), lambda p: p[0].id),
            (
                Column("ends", say("heads_house.from_to"), share=2.0),
                lambda p: words.ends_words(job.house, p[0]),
            ),
            (Column("kind", say("heads_house.kind")), lambda p: term(p[0].kind.value)),
            (Column("pairs", say("heads_house.pairs"), "whole"), lambda p: p[0].pairs),
            (
                Column("length", say("heads_house.length"), share=1.0),
                lambda p: words.length_range(p[1], job.units),
            ),
            (Column("topology", say("heads_house.way_it_runs")), lambda p: term(p[0].topology.value)),
            (Column("state", say("heads_house.state")), lambda p: term(p[0].state.value)),
            (Column("rate", say("heads_house.mbps")), fastest),
            (Column("grade", say("heads_house.evidence")), lambda p: term(words.verdict_grade(p[1]).value)),
            (Column("proven", say("heads_house.tested_at")), proven),
            (Column("poe_class", say("heads_house.poe_class"), "whole"), lambda p: p[1].poe_class or None),
            (Column("held_by", say("heads_house.held_by"), "id"), lambda p: hold_names(plan.job, p[0].id)),
            (Column("sentence", say("heads_house.verdict"), share=2.6), lambda p: p[1].sentence),
            (
                Column("sheath_print", say("heads_house.sheath_print"), on_paper=False),
                lambda p: p[0].sheath_print,
            ),
            (
                Column("length_m", say("heads_house.length_m"), "number", 1, on_paper=False),
                lambda p: p[1].length_m,
            ),
            (
                Column("length_low_m", say("heads_house.shortest_m"), "number", 1, on_paper=False),
                lambda p: p[1].length_low_m,
            ),
            (
                Column("length_high_m", say("heads_house.longest_m"), "number", 1, on_paper=False),
                lambda p: p[1].length_high_m,
            ),
            (
                Column("length_ft", say("heads_house.length_ft"), "number", 1, on_paper=False),
                lambda p: p[1].length_m / METRES_PER_FOOT,
            ),
            (
                Column("traced", say("heads_house.ends_traced"), on_paper=False),
                lambda p: term(p[0].traced.value),
            ),
        ),
        note=say("sheets.cable_schedule_note"),
    )


def closer(plan: Plan) -> Table:
    """What a closer look at each run says: what to measure first, limits it misses, what else it could do.

    A row for each sentence; none where there is nothing to say. Worked out, never a certificate
    (docs/copper.md).
    """
    return table(
        "closer",
        say("sheets.closer"),
        [(verdict.run, said) for verdict in plan.cabling for said in verdict.closer],
        (
            (Column("run", say("heads_house.cable"), "id"), lambda p: p[0]),
            (
                Column("said", say("heads_house.closer"), share=6),
                lambda p: p[1],
            ),
        ),
        note=say("sheets.closer_note"),
    )


def verdicts(plan: Plan) -> Table:
    """Each Ethernet rate on each run, with the reason.

    Slowest first: how likely it is, how that is known, why, and what would lift it.
    """
    pairs: list[tuple[str, EthernetVerdict]] = [
        (verdict.run, one) for verdict in plan.cabling for one in verdict.ethernet
    ]
    return table(
        "verdicts",
        say("sheets.verdicts_table"),
        pairs,
        (
            (Column("run", say("heads_house.cable"), "id"), lambda p: p[0]),
            (Column("ethernet", say("heads_house.ethernet")), lambda p: p[1].ethernet),
            (Column("band", say("heads_house.verdict")), lambda p: term(p[1].band)),
            (Column("chance_pct", say("heads_house.chance_pct"), "number"), lambda p: 100 * p[1].chance),
            (Column("grade", say("heads_house.evidence")), lambda p: term(p[1].grade.value)),
            (Column("reason", say("heads_house.why"), share=3), lambda p: p[1].reason),
            (Column("lift", say("heads_house.lift"), share=2), lambda p: p[1].lift),
        ),
    )


def verdicts_in_brief(plan: Plan) -> Table:
    """The same verdicts for paper: rates of a cable that share verdict and reason in one row.

    Chances stand as a range. Only rates that follow each other are gathered.
    """
    full = verdicts(plan)
    gathered: list[list[EthernetVerdict]] = []
    runs_of: list[str] = []
    for verdict in plan.cabling:
        for one in verdict.ethernet:
            if runs_of and runs_of[-1] == verdict.run and _alike(gathered[-1][-1], one):
                gathered[-1].append(one)
            else:
                gathered.append([one])
                runs_of.append(verdict.run)
    rows = tuple(
        (
            run,
            same[0].ethernet
            if len(same) == 1
            else say("cells.span", low=same[0].ethernet, high=same[-1].ethernet),
            term(same[0].band),
            _percent_range([100 * one.chance for one in same]),
            term(same[0].grade.value),
            same[0].reason,
            same[0].lift,
        )
        for run, same in zip(runs_of, gathered, strict=True)
    )
    return Table(full.name, full.title, full.columns, rows)


def _alike(a: EthernetVerdict, b: EthernetVerdict) -> bool:
    return (a.band, a.grade, _less_name(a), a.lift) == (b.band, b.grade, _less_name(b), b.lift)


def _less_name(one: EthernetVerdict) -> str:
    return one.reason.replace(one.ethernet, "")


def _percent_range(chances_pct: list[float]) -> str:
    low, high = f"{min(chances_pct):.0f}", f"{max(chances_pct):.0f}"
    return low if low == high else f"{low}–{high}"
