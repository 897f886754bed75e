"""What to look at on site where physics, a code or an owner may bite: thin wires, heat, battery, tenancy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from rehaul.design.networking import ENCLOSURES
from rehaul.design.results import Choice, Network
from rehaul.facts.conductors import copper_property
from rehaul.facts.enclosures import EnclosurePlace, place_temperatures, standby
from rehaul.facts.equipment import equipment_named
from rehaul.facts.poe import poe_class_row
from rehaul.house import Bell, Job, Model, Run
from rehaul.network.cabling import run_length, run_verdict
from rehaul.network.core import core_point
from rehaul.network.series import put_right
from rehaul.power import (
    bell,
    bundle_advice,
    bundle_rise_c,
    cabinet_temperature_c,
    code_checks,
    heat_advice,
    switch_budget,
    ups_minutes_range,
)
from rehaul.words import Saying, say, term
from rehaul.words.fields import Words

CheckState = Literal["pass", "mind", "fail", "look"]  # `look`: only somebody on site can say
LOCAL = "Check your local code."
_EU = frozenset(
    "AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK".split()  # noqa: SIM905
)


class SiteCheck(Model):
    """One thing that was checked, or that somebody has to look at."""

    id: str  # K01, K02, ...
    what: Words
    place: Words
    state: CheckState
    words: Words
    source: Words = ""
    about: tuple[str, ...] = ()


def site_checks(job: Job, choice: Choice, network: Network) -> tuple[SiteCheck, ...]:
    """Bells, power over old runs and of the switch, heat, battery, separation, bonding and tenancy.

    Numbered K01, K02 in that order, each with what was found: pass, mind, fail, or look where only somebody
    on site can say. What does not occur in the house has no row.

    **Source**: docs/power.md; docs/work.md, "Checks on site".
    """
    found = [
        *_bells(job),
        *_powered(job, choice),
        *_switch(network),
        *_bundle(job, network),
        *_heat(job, network),
        *_battery(job, network),
        *_codes(job),
        *_tenancy(job, choice),
    ]
    return tuple(row.model_copy(update={"id": f"K{number:02d}"}) for number, row in enumerate(found, 1))


def _row(
    what: str, place: str, state: CheckState, words: str, about: Sequence[str] = (), source: str = ""
) -> SiteCheck:
    return SiteCheck(
        id="K", what=term(what), place=place, state=state, words=words, about=tuple(about), source=source
    )


def _bells(job: Job) -> Iterator[SiteCheck]:
    runs = {run.id: run for run in job.house.runs}
    for row in job.house.bells:
        yield _bell(job, row, runs[row.run])


def _bell(job: Job, row: Bell, run: Run) -> SiteCheck:
    """Judged at the middle length with the gauge noted, and at the long end with the thinnest it may be."""
    length = run_length(job.house, run)
    usual = run.gauge_awg or int(copper_property("usual gauge"))
    thin = run.gauge_awg or int(copper_property("thinnest gauge"))
    middle = bell(row.transformer_v, row.load_va, length.middle, usual, needs_v=row.needs_v)
    worst = bell(row.transformer_v, row.load_va, length.high, thin, needs_v=row.needs_v)
    state: CheckState = "fail" if not middle.feasible else "pass" if worst.feasible else "mind"
    words = {
        "pass": middle.reason,
        "mind": say("takeoff_checks.bell_mind", found=middle.reason),
        "fail": say("takeoff_checks.bell_fail", found=middle.reason),
    }[state]
    return _row("voltage at the door", run.id, state, words, (row.id, run.id))


def _powered(job: Job, choice: Choice) -> Iterator[SiteCheck]:
    """Power over Ethernet on the old runs that feed an access point."""
    runs = {run.id: run for run in job.house.runs}
    for ap in choice.access_points:
        run = runs.get(ap.site.run)
        if run is None:
            continue
        asked = equipment_named(ap.equipment).poe_class
        if ap.supply:
            words = say("takeoff_checks.own_supply", box=ap.id)
            yield _row("power at the place", ap.name, "mind", words, (run.id, ap.id), term(LOCAL))
            continue
        if ap.way.split(" up ")[0].endswith(" switched") or "+" in ap.way:
            words = say("takeoff_checks.small_switch", box=ap.id, run=run.id)
            yield _row("power over an old run", ap.name, "mind", words, (run.id, ap.id), term(LOCAL))
            continue
        right = put_right(run)
        rows = {row.poe_class: row for row in run_verdict(job, right).power}
        found = rows.get(asked)
        if found is None:
            continue
        state: CheckState = {"likely": "pass", "try it": "mind"}.get(found.band, "fail")  # type: ignore[assignment]
        code = "takeoff_checks.class_to" if right == run else "takeoff_checks.class_to_later"
        words = say(code, poe_class=asked, box=ap.id, found=found.reason)
        if right != run:
            state = "mind" if state == "pass" else state
        yield _row("power over an old run", ap.name, state, words, (run.id, ap.id), term(LOCAL))


def _switch(network: Network) -> Iterator[SiteCheck]:
    """What the switch reserves by class for what it feeds, and what that draws, against what it can give."""
    fed = [port for port in network.ports if port.poe_class and not port.injector]
    if not fed or not network.poe_budget_w:
        return
    drawn_w = sum(port.poe_w for port in fed)
    found = switch_budget(tuple(port.poe_class for port in fed), network.poe_budget_w, drawn_w=drawn_w)
    state: CheckState = "pass" if found.easy else "mind" if found.fits else "fail"
    yield _row("power the switch gives", network.switch, state, found.reason, [port.link for port in fed])


def _bundle(job: Job, network: Network) -> Iterator[SiteCheck]:
    """Heat of the powered cables where they come together, every pair at the current its class may draw."""
    fed = [port for port in network.ports if port.poe_class]
    point = core_point(job)
    if len(fed) < 2 or point is None:
        return
    runs = {run.id: run for run in job.house.runs}
    usual, thinnest = (int(copper_property(f"{which} gauge")) for which in ("usual", "thinnest"))
    awg = max(runs[p.run].gauge_awg or thinnest if p.run in runs else usual for p in fed)
    rows = [poe_class_row(port.poe_class) for port in fed]
    rise_c = bundle_rise_c(
        len(fed), max(row.pairset_a for row in rows), awg, pairs=2 * max(row.pairsets for row in rows)
    )
    place: EnclosurePlace = "attic in summer" if point.enclosure == "attic" else "room"
    ambient_c = place_temperatures()[place].temperature_c
    advice = bundle_advice(len(fed), rise_c, ambient_c)
    words = (
        say("takeoff_checks.bundle_advised", cables=len(fed), rise_k=rise_c, advice=advice)
        if advice
        else say("takeoff_checks.bundle", cables=len(fed), rise_k=rise_c)
    )
    state: CheckState = "fail" if advice else "pass"
    yield _row("heat in the bundle", point.name, state, words, [port.link for port in fed])


def _heat(job: Job, network: Network) -> Iterator[SiteCheck]:
    """Air around the boxes: what stays in the enclosure is the core and the switch's own loss."""
    limit_c = standby("equipment limit")
    point = core_point(job)
    if point is not None and network.ports:
        places: list[EnclosurePlace] = ["attic in summer"] if point.enclosure == "attic" else ["room"]
        for place in places:
            warm_c = cabinet_temperature_c(network.core_draw_w, ENCLOSURES[point.enclosure], place)
            state: CheckState = "pass" if warm_c <= limit_c else "fail"
            advice = heat_advice(warm_c, vented=point.vented)
            words = _warm(network.core_draw_w, point.enclosure, advice)
            yield _row("heat where the boxes stand", point.name, state, words, (point.id,))


def _warm(draw_w: float, enclosure: str, advice: str) -> Saying:
    can = enclosure == "flush metal can"
    code = "takeoff_checks.heat_in_can" if can else "takeoff_checks.heat"
    return say(code, draw_w=draw_w, enclosure=enclosure, advice=advice)


def _battery(job: Job, network: Network) -> Iterator[SiteCheck]:
    if not network.ups:
        return
    kind = equipment_named(network.ups)
    loads = {"takeoff_checks.battery_all": network.draw_w, "takeoff_checks.battery_core": network.core_draw_w}
    for code, load_w in loads.items():
        if load_w <= 0:
            continue
        low, high = ups_minutes_range(load_w, kind.battery_v, kind.battery_ah)
        state: CheckState = "pass" if low >= job.choices.ups_minutes else "mind"
        words = say(
            code,
            battery=kind.label,
            load_w=load_w,
            aged_min=low,
            new_min=high,
            asked_min=job.choices.ups_minutes,
        )
        yield _row("minutes on battery", term(network.ups), state, words)


def _codes(job: Job) -> Iterator[SiteCheck]:
    for check in code_checks(code_region(job.country)):
        yield _row(check.check, term("on the whole way"), "look", check.advice, (), check.source)


def _tenancy(job: Job, choice: Choice) -> Iterator[SiteCheck]:
    """What the owner of a rented house is asked before anything is fixed, and whether anything is."""
    if job.house.tenure != "rented":
        return
    agrees = job.gate.landlord_agrees
    screwed = [ap.id for ap in choice.access_points if ap.site.fixing == "screws"]
    pulled = any(ap.site.new_pull_m for ap in choice.access_points) or any(o.pull for o in choice.outlets)
    loose = not screwed and not pulled
    planned = say("takeoff_checks.stands_loose") if loose else say("takeoff_checks.is_fixed")
    old = any(ap.site.run for ap in choice.access_points) or any(o.run for o in choice.outlets)
    if old:
        planned = say("words.in_turn", parts=(planned, say("takeoff_checks.opens_plates")))
    code = {
        None: "takeoff_checks.landlord_ask",
        False: "takeoff_checks.landlord_no",
        True: "takeoff_checks.landlord_yes",
    }[agrees]
    state: CheckState = "look" if agrees is None else "pass"
    yield _row("tenancy", term("the whole home"), state, say(code, planned=planned), tuple(screwed))


def code_region(country: str) -> str:
    """The rows of the separation table for an ISO country code: "UK", "EU", or the code itself.

    **Validity**: a code that the table does not have gives no row; then the local code is asked for.
    **Source**: regions of the fact table `separation`, ISO 3166-1 codes.

    >>> code_region("GB"), code_region("PT"), code_region("AU")
    ('UK', 'EU', 'AU')
    """
    return {"GB": "UK"}.get(country, "EU" if country in _EU else country)
