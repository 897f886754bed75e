"""The sheets of a plan, in the order in which somebody reads them."""

from __future__ import annotations

from rehaul.planning import Plan
from rehaul.sheets import words
from rehaul.sheets.before_work import gate_section, live_section
from rehaul.sheets.blocks import Block, Bullets, Drawing, Facts, Prose, Rows, Section, TaskBlock, Warning
from rehaul.sheets.layout import HEIGHT_MM, WIDTH_MM
from rehaul.sheets.onsite import onsite_section
from rehaul.sheets.plansheet import sheet_svg, storeys_upward
from rehaul.sheets.portmap import ports_svg
from rehaul.sheets.rack import rack_svg
from rehaul.sheets.ratemap import When, map_svg, varies_up
from rehaul.sheets.schedules import tables
from rehaul.sheets.summary import rooms_section, standing_blocks, summary_section
from rehaul.sheets.svg import drawing_size
from rehaul.sheets.table import Table
from rehaul.sheets.tables_house import verdicts_in_brief
from rehaul.sheets.tables_network import device_name
from rehaul.sheets.tables_survey import survey_section
from rehaul.sheets.terminate import termination_sections
from rehaul.sheets.timeline import timeline_svgs
from rehaul.takeoff.results import Task
from rehaul.units import format_money

HOW_TO_FILL_IN = (
    "Fill in with the instrument in hand. Readings: as before the work, at the same places, hours and doors,"
    " with the same device; three repeats; middle and range."
)


def sections(plan: Plan) -> tuple[Section, ...]:
    """Every section of the main document, in the order in which somebody reads it.

    Summary and rooms, drawings, what the house is made of, cabling, network, work, record. Nothing is
    typeset yet.
    """
    every = tables(plan)
    return (
        summary_section(plan),
        rooms_section(plan, every),
        *drawing_sections(plan),
        survey_section(plan),
        *_cabling(plan, every),
        *_network(plan, every),
        *_work(plan, every),
        onsite_section(plan),
        *_record(plan, every),
    )


def drawing_sections(plan: Plan) -> tuple[Section, ...]:
    """Plan sheets, then maps of today and after, lowest storey first.

    A map of the way up only where more than one rate would stand on it.
    """
    found = []
    storeys = storeys_upward(plan.job.house)
    for storey in storeys:
        sheet = sheet_svg(plan, storey.id)
        shows = f"{storey.name}: walls, plates, cable runs and access points."
        found.append(_sheet(f"plan-{storey.id}", f"Plan of {storey.name}", sheet, shows))
    times: tuple[tuple[When, str], ...] = (("before", "today"), ("after", "after the work"))
    for storey in storeys:
        for when, said in times:
            sheet = map_svg(plan, storey.id, when)
            shows = f"{storey.name}, {said}: contours of the rate in Mb/s."
            title = f"Mb/s on {storey.name}, {said}"
            found.append(_sheet(f"map-{storey.id}-{when}", title, sheet, shows))
        if varies_up(plan.after):
            sheet = map_svg(plan, storey.id, up=True)
            shows = f"{storey.name}, after the work: contours of the rate up in Mb/s."
            found.append(
                _sheet(f"map-{storey.id}-up", f"Mb/s up on {storey.name}, after the work", sheet, shows)
            )
    return tuple(found)


def _sheet(key: str, title: str, svg: str, shows: str) -> Section:
    return Section(key, title, (Drawing(svg, shows, WIDTH_MM, HEIGHT_MM, whole_sheet=True),), "drawings")


def _cabling(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    promises = words.promises(plan)
    schedule: list[Block] = [Rows(every["runs"])]
    if promises:
        schedule.append(Bullets("What may be promised", promises))
    if every["closer"].rows:
        schedule.append(Rows(every["closer"]))
    schedule.append(Rows(every["outlets"]))
    return (
        Section("cables", "Cable schedule", tuple(schedule), "cabling"),
        Section("verdicts", "Verdicts, rate by rate", (Rows(verdicts_in_brief(plan)),), "cabling"),
        *termination_sections(plan),
    )


def _network(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    channels: list[Block] = [Rows(every["channels"])]
    overlaps = plan.channels.overlaps or ("No two access points that hear each other share a channel.",)
    channels.append(Bullets("Where channels meet", overlaps))
    channels.append(
        Prose((f"IEEE 802.15.4 channel {plan.channels.things_channel} is left clear for sensors and locks.",))
    )
    return (
        Section(
            "access-points",
            "Access points and channels",
            (Rows(every["access_points"]), *channels),
            "network",
        ),
        *_ports(plan, every),
        *_rack(plan, every),
        Section("addresses", "Address sheet", (Rows(every["networks"]), Rows(every["addresses"])), "network"),
    )


def _ports(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    """The port map; none where nothing is plugged where the cables meet."""
    network = plan.network
    if not network.ports:
        return ()
    named = [port.model_copy(update={"device": device_name(plan, port)}) for port in network.ports]
    of = "switch" if network.switch else "router"
    front = ports_svg(named, network.spare_ports, of=of)
    figure = _figure(front, f"The {of}, port by port.")
    return (Section("ports", "Port map", (figure, Rows(every["ports"])), "network"),)


def _rack(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    """What stands where the cables meet, what it draws and how long it lasts: as far as there is any."""
    network = plan.network
    notes = tuple(note for note in (*network.notes, network.heat_note) if note)
    said: list[Block] = [Bullets("Notes", notes)] if notes else []
    draws = [("All of it draws", f"{network.draw_w:.0f} W")]
    if not network.rack:
        blocks = (Facts(tuple(draws)), *said)
        return (Section("rack", "Power, and what to mind", blocks, "network"),) if notes else ()
    facts = [("Switch", network.switch or "none: the router's own ports serve")]
    if network.poe_budget_w:
        facts.append(("PoE used", f"{network.poe_used_w:.0f} W of {network.poe_budget_w:.0f} W"))
    facts += [*draws, ("Core alone draws", f"{network.core_draw_w:.0f} W")]
    if network.ups:
        facts += [
            ("UPS", network.ups),
            ("Runs everything for", f"{words.minutes_words(network.ups_minutes_all)}, aged"),
            ("Runs the core for", f"{words.minutes_words(network.ups_minutes_core)}, aged"),
        ]
    facts.append(("Gets warmer by", f"{network.temperature_rise_c:.1f} °C"))
    stand = _figure(rack_svg(network.rack, network.rack_units), "The rack, seen from the front.")
    blocks = (stand, Facts(tuple(facts)), Rows(every["rack"]), *said)
    return (Section("rack", "Rack, power and heat", blocks, "network"),)


def _figure(svg: str, shows: str) -> Drawing:
    return Drawing(svg, shows, *drawing_size(svg))


def _work(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    quote = plan.takeoff.quote
    price = Facts(
        (
            ("Parts", format_money(quote.parts, quote.currency)),
            ("Labour", format_money(quote.labour, quote.currency)),
            ("Margin", format_money(quote.margin, quote.currency)),
            ("Tax", format_money(quote.tax, quote.currency)),
            ("Price, middle", format_money(quote.total, quote.currency)),
            ("Not above, in nine jobs of ten", format_money(quote.total_90, quote.currency)),
            ("Deposit", format_money(quote.deposit, quote.currency)),
            ("Valid for", words.count(quote.valid_days, "day")),
        )
    )
    lists = tuple(
        Bullets(heading, items)
        for heading, items in (
            ("Included", quote.included),
            ("Not included", quote.excluded),
            ("Assumed", quote.assumptions),
            ("Unknown, and priced as said", quote.unknowns),
        )
        if items
    )
    held = tuple(task for task in plan.order if task.held)
    order: list[Block] = []
    if held:
        reasons = dict.fromkeys(task.held for task in held)
        order.append(
            Warning(
                f"Held: {words.listed([task.id for task in held])}",
                tuple(
                    f"{words.listed([task.id for task in held if task.held == reason])} may not start. "
                    f"{words.sentence(reason)}"
                    for reason in reasons
                ),
            )
        )
    for chart in timeline_svgs(plan.order):
        order.append(_figure(chart, "When each task starts, by person and visit."))
    order.append(TaskBlock(tuple(sorted(_for_people(plan), key=lambda task: task.visit))))
    return (
        Section(
            "takeoff",
            "Takeoff",
            (Rows(every["parts"]), Rows(every["cuts"]), Rows(every["tools"]), Rows(every["labour"])),
            "work",
        ),
        Section("quote", "Quote", (*standing_blocks(plan), Rows(every["options"]), price, *lists), "work"),
        Section("choices", "What was weighed", (Rows(every["choices"]), Rows(every["sites"])), "work"),
        gate_section(plan),
        live_section(plan),
        Section("order", "Order of work", tuple(order), "work"),
        *([Section("ticks", "Ticked off", (Rows(every["ticks"]),), "work")] if plan.job.ticks else []),
    )


def _for_people(plan: Plan) -> list[Task]:
    """The tasks, each with what it is for in words: its own place is said already."""
    return [
        task.model_copy(
            update={"because": tuple(n for n in words.causes(plan, task.because) if n != task.place)}
        )
        for task in plan.order
    ]


def _record(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    return (
        Section(
            "open",
            "Still unknown, and who depends on what",
            (Rows(every["unknowns"]), Rows(every["obligations"])),
            "record",
        ),
        *_acceptance(every),
    )


def _acceptance(every: dict[str, Table]) -> tuple[Section, ...]:
    """The sheet to fill in; none where no cable is put to use."""
    if not every["acceptance"].rows:
        return ()
    blocks = (Prose((HOW_TO_FILL_IN,)), Rows(every["acceptance"]))
    return (Section("acceptance", "Acceptance test sheet", blocks, "record"),)
