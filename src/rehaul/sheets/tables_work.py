"""Tables of the work: parts, cut list, labour, price, tasks, obligations, unknowns, acceptance."""

from __future__ import annotations

from rehaul.facts.work import labour as norms_of_labour
from rehaul.planning import Plan
from rehaul.sheets import words
from rehaul.sheets.table import Column, Table, table
from rehaul.takeoff import tick_rows
from rehaul.units import METRES_PER_FOOT
from rehaul.words import again, say, term

STAGES = {
    "gate": "cells.stage_gate",
    "baseline": "cells.stage_baseline",
    "trace": "cells.stage_trace",
    "qualify": "cells.stage_qualify",
    "run": "cells.stage_run",
    "terminate": "cells.stage_terminate",
    "rack": "cells.stage_rack",
    "commission": "cells.stage_commission",
    "prove": "cells.stage_prove",
}


def work_tables(plan: Plan) -> tuple[Table, ...]:
    """Parts, cuts, tools, labour, offers, tasks, ticks, obligations, unknowns, acceptance.

    In the order of docs/papers.md.
    """
    return (
        parts(plan),
        cuts(plan),
        tools(plan),
        labour(plan),
        options(plan),
        tasks(plan),
        ticks(plan),
        obligations(plan),
        unknowns(plan),
        acceptance(plan),
    )


def _causes(plan: Plan, ids: tuple[str, ...]) -> str:
    return words.id_ranges(words.causes(plan, ids))


def _tasks_words(norms: tuple[str, ...]) -> str:
    """Kinds of task by what they are called in the table of labour."""
    known = norms_of_labour()
    return say("words.joined", parts=[term(known[norm].title) if norm in known else norm for norm in norms])


def parts(plan: Plan) -> Table:
    """Parts to buy, in the job's currency before margin and tax, and what each is for.

    `need` is used, `quantity` bought: spares are in it, rounded up to what is sold. The note says where
    prices are invented.
    """
    return table(
        "parts",
        say("sheets.parts"),
        plan.takeoff.parts,
        (
            (Column("name", say("heads_work.part"), share=1.6), lambda p: p.name),
            (Column("need", say("heads_work.used"), "number", 1), lambda p: p.need),
            (Column("spare", say("heads_work.spare"), "number", 1), lambda p: p.spare or None),
            (Column("quantity", say("heads_work.buy"), "number", 1), lambda p: p.quantity),
            (Column("unit", say("heads_work.unit")), lambda p: term(p.unit)),
            (Column("unit_price", say("heads_work.each"), "money"), lambda p: p.unit_price),
            (Column("price", say("heads_work.price"), "money"), lambda p: p.price),
            (
                Column("because", say("heads_work.because_of"), "id", share=1.6),
                lambda p: _causes(plan, p.because),
            ),
            (Column("note", say("heads_work.note"), share=1), lambda p: p.note),
            (Column("item", say("heads_work.item"), "id", on_paper=False), lambda p: p.item),
        ),
        note=say("sheets.prices_invented") if plan.takeoff.quote.invented_prices else "",
    )


def cuts(plan: Plan) -> Table:
    """Cables to cut and cords to buy; lengths hold the slack for both ends."""
    return table(
        "cuts",
        say("sheets.cuts"),
        plan.takeoff.cuts,
        (
            (Column("id", say("heads_work.piece"), "id"), lambda c: c.id),
            (Column("kind", say("heads_work.kind")), lambda c: term(c.kind)),
            (Column("from_place", say("heads_work.from"), share=1), lambda c: c.from_place),
            (Column("to_place", say("heads_work.to"), share=1), lambda c: c.to_place),
            (Column("length_m", say("heads_work.length_m"), "number", 2), lambda c: c.length_m),
            (
                Column("length_ft", say("heads_work.length_ft"), "number", 1, on_paper=False),
                lambda c: c.length_m / METRES_PER_FOOT,
            ),
            (
                Column("because", say("heads_work.because_of"), "id", share=1),
                lambda c: _causes(plan, c.because),
            ),
        ),
        note=say("sheets.cuts_note"),
    )


def tools(plan: Plan) -> Table:
    return table(
        "tools",
        say("sheets.tools"),
        plan.takeoff.tools,
        (
            (Column("name", say("heads_work.tool"), share=1), lambda t: term(t.name)),
            (Column("for_what", say("heads_work.for"), share=2), lambda t: term(t.for_what)),
            (Column("because", say("heads_work.because_of"), share=1.5), lambda t: _tasks_words(t.because)),
        ),
    )


def labour(plan: Plan) -> Table:
    """Minutes by kind of task: all its repeats together, at the middle and what nine of ten stay under.

    The 90 % minutes of the lines do not add up to those of the job (`takeoff.labour.total_minutes`).
    """
    return table(
        "labour",
        say("sheets.labour"),
        plan.takeoff.labour,
        (
            (Column("task", say("heads_work.kind_of_task"), share=1.5), lambda t: term(t.task)),
            (Column("visit", say("heads_work.visit"), "whole"), lambda t: t.visit),
            (Column("count", say("heads_work.count"), "number"), lambda t: t.count),
            (Column("minutes", say("heads_work.minutes"), "number"), lambda t: t.minutes),
            (Column("minutes_90", say("heads_work.minutes_90"), "number"), lambda t: t.minutes_90),
            (
                Column("because", say("heads_work.because_of"), "id", share=1.5),
                lambda t: _causes(plan, t.because),
            ),
        ),
    )


def options(plan: Plan) -> Table:
    """What is offered, in the job's currency.

    Parts and labour are before margin and tax, the price is with both. The margin stands in files alone.
    """
    return table(
        "options",
        say("sheets.options"),
        plan.takeoff.quote.options,
        (
            (Column("name", say("heads_work.offer"), share=1), lambda o: term(o.name)),
            (Column("access_points", say("heads_work.access_points"), "whole"), lambda o: o.access_points),
            (
                Column("rooms", say("heads_work.rooms_served")),
                lambda o: say("cells.of", part=o.rooms_served, whole=o.rooms_total),
            ),
            (Column("parts", say("heads_work.parts"), "money"), lambda o: o.parts),
            (Column("labour", say("heads_work.labour"), "money"), lambda o: o.labour),
            (Column("margin", say("heads_work.margin"), "money", on_paper=False), lambda o: o.margin),
            (Column("tax", say("heads_work.tax"), "money"), lambda o: o.tax),
            (Column("total", say("heads_work.price"), "money"), lambda o: o.total),
            (Column("total_90", say("heads_work.not_above"), "money"), lambda o: o.total_90),
            (
                Column("chosen", say("heads_work.chosen")),
                lambda o: say("cells.chosen_offer") if o.chosen else "",
            ),
            (Column("words", say("heads_work.in_words"), share=2), lambda o: o.words),
        ),
    )


def tasks(plan: Plan) -> Table:
    """The order of work, held tasks among it; times and persons in files alone.

    A held task has no start, so that cell is empty. Minutes are the middle, and what nine of ten stay
    under.
    """
    return table(
        "tasks",
        say("sheets.order"),
        plan.order,
        (
            (Column("id", say("heads_work.task"), "id"), lambda t: t.id),
            (Column("visit", say("heads_work.visit"), "whole"), lambda t: t.visit),
            (
                Column("stage", say("heads_work.task_stage")),
                lambda t: say(STAGES[t.stage]) if t.stage in STAGES else t.stage,
            ),
            (Column("title", say("heads_work.what"), share=2), lambda t: t.title),
            (Column("place", say("heads_work.where"), share=1), lambda t: t.place),
            (Column("minutes", say("heads_work.min"), "number"), lambda t: t.minutes),
            (Column("minutes_90", say("heads_work.min_90"), "number"), lambda t: t.minutes_90 or None),
            (Column("needs", say("heads_work.after_tasks"), "id"), lambda t: words.id_ranges(t.needs)),
            (Column("held", say("heads_work.held"), share=2), lambda t: t.held),
            (
                Column("start_min", say("heads_work.starts_min"), "number", on_paper=False),
                lambda t: t.start_min,
            ),
            (Column("person", say("heads_work.person"), "whole", on_paper=False), lambda t: t.person),
            (
                Column("tools", say("heads_work.tools"), on_paper=False),
                lambda t: say("words.in_turn", parts=t.tools),
            ),
            (Column("cautions", say("heads_work.cautions"), on_paper=False), lambda t: " ".join(t.cautions)),
            (
                Column("because", say("heads_work.because_of"), on_paper=False),
                lambda t: words.id_ranges(words.causes_said(plan, t.because)),
            ),
        ),
    )


def ticks(plan: Plan) -> Table:
    """What somebody says is done, with what was open then; ticks of steps that are gone stand last.

    **Source**: docs/work.md, "Ticking off".
    """
    return table(
        "ticks",
        say("sheets.ticks"),
        again(tick_rows(plan.job, plan.order)),
        (
            (Column("id", say("heads_work.task"), "id"), lambda r: r.task.id if r.task else ""),
            (
                Column("step", say("heads_work.step"), share=2),
                lambda r: r.task.title if r.task else say("cells.no_longer_in_plan", task=r.tick.task),
            ),
            (Column("by", say("heads_work.by")), lambda r: r.tick.by),
            (Column("time", say("heads_work.when")), lambda r: r.tick.time.replace("T", " ")),
            (Column("note", say("heads_work.found"), share=1), lambda r: r.tick.note),
            (Column("despite", say("heads_work.despite"), share=1.5), lambda r: r.tick.despite),
        ),
    )


def obligations(plan: Plan) -> Table:
    """Everybody who depends on a pair, with the sign-off or NOBODY YET, and room to sign.

    Those that are moved or released stay in the list.
    """
    waiting: dict[str, list[str]] = {}
    for verdict in plan.cabling:
        for obligation in verdict.held_by:
            waiting.setdefault(obligation, []).append(verdict.run)
    return table(
        "obligations",
        say("sheets.obligations"),
        plan.job.obligations,
        (
            (Column("id", say("heads_work.number"), "id"), lambda o: o.id),
            (Column("kind", say("heads_work.what")), lambda o: term(o.kind.words)),
            (Column("run", say("heads_work.on_cable"), "id"), lambda o: o.run),
            (
                Column("pairs", say("heads_work.pairs")),
                lambda o: ", ".join(str(p) for p in o.pairs) or say("cells.all_pairs"),
            ),
            (Column("who", say("heads_work.who"), share=1.5), lambda o: o.who),
            (Column("state", say("heads_work.state")), lambda o: term(o.state.value)),
            (
                Column("sign_off", say("heads_work.signed_off_by"), share=1.5),
                lambda o: (
                    say("cells.sign_off", by=o.sign_off.by, date=o.sign_off.date, words=o.sign_off.words)
                    if o.sign_off
                    else say("cells.nobody_yet")
                ),
            ),
            (Column("holds", say("heads_work.holds"), "id"), lambda o: " ".join(waiting.get(o.id, []))),
            (Column("signature", say("heads_work.signature"), "blank", share=1), lambda _: ""),
        ),
        note=say("sheets.obligations_note"),
    )


def unknowns(plan: Plan) -> Table:
    """What is still unknown, and what would settle it.

    With what the plan assumes meanwhile, what it costs if that is wrong, and room for what was found.
    """
    return table(
        "unknowns",
        say("sheets.unknowns"),
        plan.open_questions,
        (
            (Column("about", say("heads_work.about"), "id"), lambda q: " ".join(q.about)),
            (Column("question", say("heads_work.question"), share=2), lambda q: q.question),
            (Column("guess", say("heads_work.assumes"), share=1.5), lambda q: q.guess),
            (Column("costs", say("heads_work.if_wrong"), share=1.5), lambda q: q.costs),
            (Column("settle", say("heads_work.settle"), share=2), lambda q: q.settle),
            (Column("found", say("heads_work.found"), "blank", share=1), lambda _: ""),
        ),
    )


def acceptance(plan: Plan) -> Table:
    """One row to fill in for each cable that is used or kept, and for each way from adapter to adapter.

    Columns of readings are empty here; what was read comes back as a test of the run.
    """
    job = plan.job
    by_id = {run.id: run for run in job.house.runs}
    rows: list[tuple[str, str, str, int | None]] = []
    for port in plan.network.ports:
        run = by_id.get(port.run)
        if run is not None:
            rows.append((run.id, words.ends_words(job.house, run), run.sheath_print, run.pairs))
        elif port.run:
            end = port.outlet or port.device
            if port.panel_port is None:
                rows.append((port.run, say("cells.port_to", port=port.port, end=end), "", 4))
            else:
                rows.append((port.run, say("cells.panel_to", port=port.panel_port, end=end), "", 4))
    for path in plan.paths:
        coax = [link.id for link in path.links if link.medium == "coax"]
        if coax:
            rows.append((", ".join(coax), say("cells.adapter_to", end=path.to), "", None))
    blank = (
        say("heads_work.wire_map"),
        say("heads_work.blank_length_m"),
        say("heads_work.loop_ohm"),
        say("heads_work.link_mbps"),
        say("heads_work.errors"),
        say("heads_work.poe_v"),
        say("heads_work.poe_w"),
    )
    keys = ("wire_map", "length_m", "loop_ohm", "link_mbps", "errors", "poe_v", "poe_w")
    columns = (
        (Column("id", say("heads_work.cable"), "id"), lambda r: r[0]),
        (Column("ends", say("heads_work.ends"), share=1.6), lambda r: r[1]),
        (Column("sheath_print", say("heads_work.sheath_print"), share=1), lambda r: r[2]),
        (Column("pairs", say("heads_work.pairs"), "whole"), lambda r: r[3]),
        *((Column(k, h, "blank", share=0.8), lambda _: "") for k, h in zip(keys, blank, strict=True)),
        (Column("verdict", say("heads_work.verdict_and_grade"), "blank", share=1.2), lambda _: ""),
        (Column("by", say("heads_work.by_date"), "blank", share=1), lambda _: ""),
    )
    return table("acceptance", say("sheets.acceptance"), list(dict.fromkeys(rows)), columns)
