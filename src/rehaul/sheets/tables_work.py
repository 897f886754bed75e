"""Tables of the work: parts, cut list, labour, price, tasks, obligations, unknowns, acceptance."""

from __future__ import annotations

from rehaul.facts.work import labour as norms_of_labour
from rehaul.planning import Plan
from rehaul.sheets import words
from rehaul.sheets.table import Column, Table, table
from rehaul.takeoff import tick_rows
from rehaul.units import METRES_PER_FOOT


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
    return ", ".join(known[norm].title if norm in known else norm for norm in norms)


def parts(plan: Plan) -> Table:
    """Parts to buy, in the job's currency before margin and tax, and what each is for.

    `need` is used, `quantity` bought: spares are in it, rounded up to what is sold. The note says where
    prices are invented.
    """
    return table(
        "parts",
        "Parts",
        plan.takeoff.parts,
        (
            (Column("name", "Part", share=1.6), lambda p: p.name),
            (Column("need", "Used", "number", 1), lambda p: p.need),
            (Column("spare", "Spare", "number", 1), lambda p: p.spare or None),
            (Column("quantity", "Buy", "number", 1), lambda p: p.quantity),
            (Column("unit", "Unit"), lambda p: p.unit),
            (Column("unit_price", "Each", "money"), lambda p: p.unit_price),
            (Column("price", "Price", "money"), lambda p: p.price),
            (Column("because", "Because of", "id", share=1.6), lambda p: _causes(plan, p.because)),
            (Column("note", "Note", share=1), lambda p: p.note),
            (Column("item", "Item", "id", on_paper=False), lambda p: p.item),
        ),
        note="Prices are invented and stand for the firm's own list."
        if plan.takeoff.quote.invented_prices
        else "",
    )


def cuts(plan: Plan) -> Table:
    """Cables to cut and cords to buy; lengths hold the slack for both ends."""
    return table(
        "cuts",
        "Cut list",
        plan.takeoff.cuts,
        (
            (Column("id", "Piece", "id"), lambda c: c.id),
            (Column("kind", "Kind"), lambda c: c.kind),
            (Column("from_place", "From", share=1), lambda c: c.from_place),
            (Column("to_place", "To", share=1), lambda c: c.to_place),
            (Column("length_m", "Length m", "number", 2), lambda c: c.length_m),
            (
                Column("length_ft", "Length ft", "number", 1, on_paper=False),
                lambda c: c.length_m / METRES_PER_FOOT,
            ),
            (Column("because", "Because of", "id", share=1), lambda c: _causes(plan, c.because)),
        ),
        note="Lengths hold the slack for both ends.",
    )


def tools(plan: Plan) -> Table:
    return table(
        "tools",
        "Tools to bring",
        plan.takeoff.tools,
        (
            (Column("name", "Tool", share=1), lambda t: t.name),
            (Column("for_what", "For", share=2), lambda t: t.for_what),
            (Column("because", "Because of", share=1.5), lambda t: _tasks_words(t.because)),
        ),
    )


def labour(plan: Plan) -> Table:
    """Minutes by kind of task: all its repeats together, at the middle and what nine of ten stay under.

    The 90 % minutes of the lines do not add up to those of the job (`takeoff.labour.total_minutes`).
    """
    return table(
        "labour",
        "Labour",
        plan.takeoff.labour,
        (
            (Column("task", "Kind of task", share=1.5), lambda t: t.task),
            (Column("visit", "Visit", "whole"), lambda t: t.visit),
            (Column("count", "Count", "number"), lambda t: t.count),
            (Column("minutes", "Minutes", "number"), lambda t: t.minutes),
            (Column("minutes_90", "Minutes,\nnine of ten", "number"), lambda t: t.minutes_90),
            (Column("because", "Because of", "id", share=1.5), lambda t: _causes(plan, t.because)),
        ),
    )


def options(plan: Plan) -> Table:
    """What is offered, in the job's currency.

    Parts and labour are before margin and tax, the price is with both. The margin stands in files alone.
    """
    return table(
        "options",
        "What is offered",
        plan.takeoff.quote.options,
        (
            (Column("name", "Offer", share=1), lambda o: o.name),
            (Column("access_points", "Access\npoints", "whole"), lambda o: o.access_points),
            (Column("rooms", "Rooms served"), lambda o: f"{o.rooms_served} of {o.rooms_total}"),
            (Column("parts", "Parts", "money"), lambda o: o.parts),
            (Column("labour", "Labour", "money"), lambda o: o.labour),
            (Column("margin", "Margin", "money", on_paper=False), lambda o: o.margin),
            (Column("tax", "Tax", "money"), lambda o: o.tax),
            (Column("total", "Price", "money"), lambda o: o.total),
            (Column("total_90", "Not above, in\nnine of ten", "money"), lambda o: o.total_90),
            (Column("chosen", "Chosen"), lambda o: "chosen" if o.chosen else ""),
            (Column("words", "In words", share=2), lambda o: o.words),
        ),
    )


def tasks(plan: Plan) -> Table:
    """The order of work, held tasks among it; times and persons in files alone.

    A held task has no start, so that cell is empty. Minutes are the middle, and what nine of ten stay
    under.
    """
    return table(
        "tasks",
        "Order of work",
        plan.order,
        (
            (Column("id", "Task", "id"), lambda t: t.id),
            (Column("visit", "Visit", "whole"), lambda t: t.visit),
            (Column("stage", "Stage"), lambda t: t.stage),
            (Column("title", "What", share=2), lambda t: t.title),
            (Column("place", "Where", share=1), lambda t: t.place),
            (Column("minutes", "Min", "number"), lambda t: t.minutes),
            (Column("minutes_90", "Min,\nnine of ten", "number"), lambda t: t.minutes_90 or None),
            (Column("needs", "After", "id"), lambda t: words.id_ranges(t.needs)),
            (Column("held", "HELD", share=2), lambda t: t.held),
            (Column("start_min", "Starts at min", "number", on_paper=False), lambda t: t.start_min),
            (Column("person", "Person", "whole", on_paper=False), lambda t: t.person),
            (Column("tools", "Tools", on_paper=False), lambda t: "; ".join(t.tools)),
            (Column("cautions", "Cautions", on_paper=False), lambda t: " ".join(t.cautions)),
            (Column("because", "Because of", on_paper=False), lambda t: words.id_ranges(t.because)),
        ),
    )


def ticks(plan: Plan) -> Table:
    """What somebody says is done, with what was open then; ticks of steps that are gone stand last.

    **Source**: docs/work.md, "Ticking off".
    """
    return table(
        "ticks",
        "Ticked off",
        tick_rows(plan.job, plan.order),
        (
            (Column("id", "Task", "id"), lambda r: r.task.id if r.task else ""),
            (
                Column("step", "Step", share=2),
                lambda r: r.task.title if r.task else f"{r.tick.task}: no longer in the plan",
            ),
            (Column("by", "By"), lambda r: r.tick.by),
            (Column("time", "When"), lambda r: r.tick.time.replace("T", " ")),
            (Column("note", "Found", share=1), lambda r: r.tick.note),
            (Column("despite", "Although open then", share=1.5), lambda r: r.tick.despite),
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
        "Who still depends on a pair",
        plan.job.obligations,
        (
            (Column("id", "No.", "id"), lambda o: o.id),
            (Column("kind", "What"), lambda o: o.kind.words),
            (Column("run", "On cable", "id"), lambda o: o.run),
            (Column("pairs", "Pairs"), lambda o: ", ".join(str(p) for p in o.pairs) or "not known: all"),
            (Column("who", "Who", share=1.5), lambda o: o.who),
            (Column("state", "State"), lambda o: o.state.value),
            (
                Column("sign_off", "Signed off by", share=1.5),
                lambda o: (
                    f"{o.sign_off.by}, {o.sign_off.date}: {o.sign_off.words}" if o.sign_off else "NOBODY YET"
                ),
            ),
            (Column("holds", "Holds", "id"), lambda o: " ".join(waiting.get(o.id, []))),
            (Column("signature", "Signature", "blank", share=1), lambda _: ""),
        ),
        note="No step that would cut one of these is released before somebody has signed for it.",
    )


def unknowns(plan: Plan) -> Table:
    """What is still unknown, and what would settle it.

    With what the plan assumes meanwhile, what it costs if that is wrong, and room for what was found.
    """
    return table(
        "unknowns",
        "What is still unknown",
        plan.open_questions,
        (
            (Column("about", "About", "id"), lambda q: " ".join(q.about)),
            (Column("question", "Question", share=2), lambda q: q.question),
            (Column("guess", "The plan assumes", share=1.5), lambda q: q.guess),
            (Column("costs", "If that is wrong", share=1.5), lambda q: q.costs),
            (Column("settle", "What would settle it", share=2), lambda q: q.settle),
            (Column("found", "Found", "blank", share=1), lambda _: ""),
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
            rows.append((port.run, f"panel {port.panel_port} – {port.outlet or port.device}", "", 4))
    for path in plan.paths:
        coax = [link.id for link in path.links if link.medium == "coax"]
        if coax:
            rows.append((", ".join(coax), f"adapter to adapter, to {path.to}", "", None))
    blank = ("wire map and split", "length m", "loop Ω", "link Mb/s", "errors, 10 min", "PoE V", "PoE W")
    keys = ("wire_map", "length_m", "loop_ohm", "link_mbps", "errors", "poe_v", "poe_w")
    columns = (
        (Column("id", "Cable", "id"), lambda r: r[0]),
        (Column("ends", "Ends", share=1.6), lambda r: r[1]),
        (Column("sheath_print", "Sheath print", share=1), lambda r: r[2]),
        (Column("pairs", "Pairs", "whole"), lambda r: r[3]),
        *((Column(k, h, "blank", share=0.8), lambda _: "") for k, h in zip(keys, blank, strict=True)),
        (Column("verdict", "Verdict and grade", "blank", share=1.2), lambda _: ""),
        (Column("by", "By, date", "blank", share=1), lambda _: ""),
    )
    return table("acceptance", "Acceptance test sheet", list(dict.fromkeys(rows)), columns)
