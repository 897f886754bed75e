"""The sheets of a plan, in the order in which somebody reads them."""

from __future__ import annotations

from rehaul.planning import Plan
from rehaul.sheets import words
from rehaul.sheets.before_work import gate_section, live_section
from rehaul.sheets.blocks import Block, Bullets, Drawing, Facts, Prose, Rows, Section, TaskBlock, Warning
from rehaul.sheets.layout import HEIGHT_MM, WIDTH_MM
from rehaul.sheets.onsite import onsite_section
from rehaul.sheets.plansheet import sheet_svg, storeys_upward
from rehaul.sheets.portmap import PortsOf, ports_svg
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
from rehaul.words import Saying, say, term


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
        shows = say("sections.plan_shows", storey=storey.name)
        found.append(_sheet(f"plan-{storey.id}", say("sections.plan_of", storey=storey.name), sheet, shows))
    times: tuple[tuple[When, Saying], ...] = (
        ("before", say("sections.today")),
        ("after", say("sections.after_the_work")),
    )
    for storey in storeys:
        for when, said in times:
            sheet = map_svg(plan, storey.id, when)
            shows = say("sections.map_shows", storey=storey.name, when=said)
            title = say("sections.map_of", storey=storey.name, when=said)
            found.append(_sheet(f"map-{storey.id}-{when}", title, sheet, shows))
        if varies_up(plan.after):
            sheet = map_svg(plan, storey.id, up=True)
            shows = say("sections.map_up_shows", storey=storey.name, when=say("sections.after_the_work"))
            title = say("sections.map_up_of", storey=storey.name, when=say("sections.after_the_work"))
            found.append(_sheet(f"map-{storey.id}-up", title, sheet, shows))
    return tuple(found)


def _sheet(key: str, title: str, svg: str, shows: str) -> Section:
    return Section(key, title, (Drawing(svg, shows, WIDTH_MM, HEIGHT_MM, whole_sheet=True),), "drawings")


def _cabling(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    promises = words.promises(plan)
    schedule: list[Block] = [Rows(every["runs"])]
    if promises:
        schedule.append(Bullets(say("sections.promises"), promises))
    if every["closer"].rows:
        schedule.append(Rows(every["closer"]))
    schedule.append(Rows(every["outlets"]))
    return (
        Section("cables", say("sheets.cable_schedule"), tuple(schedule), "cabling"),
        Section("verdicts", say("sheets.verdicts"), (Rows(verdicts_in_brief(plan)),), "cabling"),
        *termination_sections(plan),
    )


def _network(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    channels: list[Block] = [Rows(every["channels"])]
    overlaps = plan.channels.overlaps or (say("sections.no_overlap"),)
    channels.append(Bullets(say("sections.overlaps"), overlaps))
    channels.append(Prose((say("sections.things_channel", channel=plan.channels.things_channel),)))
    return (
        Section(
            "access-points",
            say("sections.access_points"),
            (Rows(every["access_points"]), *channels),
            "network",
        ),
        *_ports(plan, every),
        *_rack(plan, every),
        Section(
            "addresses",
            say("sheets.address_sheet"),
            (Rows(every["networks"]), Rows(every["addresses"])),
            "network",
        ),
    )


def _ports(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    """The port map; none where nothing is plugged where the cables meet."""
    network = plan.network
    if not network.ports:
        return ()
    named = [port.model_copy(update={"device": device_name(plan, port)}) for port in network.ports]
    of: PortsOf = "switch" if network.switch else "router"
    front = ports_svg(named, network.spare_ports, of=of)
    figure = _figure(front, say("sections.switch_shows" if of == "switch" else "sections.router_shows"))
    return (Section("ports", say("sheets.port_map"), (figure, Rows(every["ports"])), "network"),)


def _rack(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    """What stands where the cables meet, what it draws and how long it lasts: as far as there is any."""
    network = plan.network
    notes = tuple(note for note in (*network.notes, network.heat_note) if note)
    said: list[Block] = [Bullets(say("sections.notes"), notes)] if notes else []
    draws = [(say("sections.all_draws"), _watts(network.draw_w))]
    if not network.rack:
        blocks = (Facts(tuple(draws)), *said)
        return (Section("rack", say("sections.power"), blocks, "network"),) if notes else ()
    facts = [(say("sections.switch"), term(network.switch) if network.switch else say("sections.no_switch"))]
    if network.poe_budget_w:
        used = say("sections.poe_of", used_w=network.poe_used_w, budget_w=network.poe_budget_w)
        facts.append((say("sections.poe_used"), used))
    facts += [*draws, (say("sections.core_draws"), _watts(network.core_draw_w))]
    if network.ups:
        facts += [
            (say("sections.ups"), term(network.ups)),
            (say("sections.runs_all"), say("sections.aged", minutes=network.ups_minutes_all)),
            (say("sections.runs_core"), say("sections.aged", minutes=network.ups_minutes_core)),
        ]
    facts.append((say("sections.warmer"), say("sections.degrees", rise_c=network.temperature_rise_c)))
    stand = _figure(rack_svg(network.rack, network.rack_units), say("sections.rack_shows"))
    blocks = (stand, Facts(tuple(facts)), Rows(every["rack"]), *said)
    return (Section("rack", say("sections.rack"), blocks, "network"),)


def _watts(draw_w: float) -> Saying:
    return say("sections.watts", draw_w=draw_w)


def _figure(svg: str, shows: str) -> Drawing:
    return Drawing(svg, shows, *drawing_size(svg))


def _work(plan: Plan, every: dict[str, Table]) -> tuple[Section, ...]:
    quote = plan.takeoff.quote
    price = Facts(
        (
            *(
                (say(code), say("sections.money", cost=cost, currency=quote.currency))
                for code, cost in (
                    ("sections.parts", quote.parts),
                    ("sections.labour", quote.labour),
                    ("sections.margin", quote.margin),
                    ("sections.tax", quote.tax),
                    ("sections.total", quote.total),
                    ("sections.total_90", quote.total_90),
                    ("sections.deposit", quote.deposit),
                )
            ),
            (say("sections.valid_for"), say("sections.days", n=quote.valid_days)),
        )
    )
    lists = tuple(
        Bullets(heading, items)
        for heading, items in (
            (say("sections.included"), quote.included),
            (say("sections.excluded"), quote.excluded),
            (say("sections.assumed"), quote.assumptions),
            (say("sections.priced_unknowns"), quote.unknowns),
        )
        if items
    )
    held = tuple(task for task in plan.order if task.held)
    order: list[Block] = []
    if held:
        reasons = dict.fromkeys(task.held for task in held)
        order.append(
            Warning(
                say("sections.held", tasks=[task.id for task in held]),
                tuple(
                    say(
                        "sections.may_not_start",
                        tasks=[task.id for task in held if task.held == reason],
                        why=words.sentence(reason),
                    )
                    for reason in reasons
                ),
            )
        )
    for chart in timeline_svgs(plan.order):
        order.append(_figure(chart, say("sections.timeline_shows")))
    order.append(TaskBlock(tuple(sorted(_for_people(plan), key=lambda task: task.visit))))
    return (
        Section(
            "takeoff",
            say("sections.takeoff"),
            (Rows(every["parts"]), Rows(every["cuts"]), Rows(every["tools"]), Rows(every["labour"])),
            "work",
        ),
        Section(
            "quote",
            say("sections.quote"),
            (*standing_blocks(plan), Rows(every["options"]), price, *lists),
            "work",
        ),
        Section("choices", say("sections.choices"), (Rows(every["choices"]), Rows(every["sites"])), "work"),
        gate_section(plan),
        live_section(plan),
        Section("order", say("sheets.order"), tuple(order), "work"),
        *([Section("ticks", say("sheets.ticks"), (Rows(every["ticks"]),), "work")] if plan.job.ticks else []),
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
            say("sections.open"),
            (Rows(every["unknowns"]), Rows(every["obligations"])),
            "record",
        ),
        *_acceptance(every),
    )


def _acceptance(every: dict[str, Table]) -> tuple[Section, ...]:
    """The sheet to fill in; none where no cable is put to use."""
    if not every["acceptance"].rows:
        return ()
    blocks = (Prose((say("sections.how_to_fill_in"),)), Rows(every["acceptance"]))
    return (Section("acceptance", say("sheets.acceptance"), blocks, "record"),)
