"""Every rule of the auditor: its name, and one sentence of what it checks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from rehaul.auditor import (
    bought,
    cables,
    choices,
    continuity,
    copper,
    devices,
    drilling,
    drops,
    money,
    needs,
    nothing,
    optimum,
    order,
    paths,
    places,
    power,
    touch,
)
from rehaul.auditor.finding import PlanFinding
from rehaul.auditor.reading import RowView
from rehaul.house import Job

Judge = Callable[[Job, RowView], Iterator[PlanFinding]]


@dataclass(frozen=True)
class Rule:
    """One rule: its name, its subject, and what judges a plan by it."""

    name: str
    subject: str
    judge: Judge

    @property
    def checks(self) -> str:
        """What it checks: the first sentence of what judges by it."""
        return " ".join((self.judge.__doc__ or "").split("\n\n")[0].split())


RULES: tuple[Rule, ...] = (
    Rule("path-for-each", "paths", paths.one_each),
    Rule("path-from-street", "paths", paths.from_the_street),
    Rule("path-links-stand", "paths", paths.links_stand),
    Rule("path-links-usable", "paths", paths.links_usable),
    Rule("path-weakest-link", "paths", paths.weakest_rules),
    Rule("shared-medium-fits", "paths", paths.shared_fits),
    Rule("power-to-access-points", "power", power.fed_by_cable),
    Rule("supplies-bought", "power", power.supplies_bought),
    Rule("switch-holds", "power", power.switch_holds),
    Rule("mains-where-needed", "power", power.mains_there),
    Rule("held-left-alone", "what is touched", touch.held_left_alone),
    Rule("touches-said", "what is touched", touch.touches_said),
    Rule("checked-before-touched", "what is touched", touch.checked_first),
    Rule("photo-before-undone", "what is touched", touch.photo_first),
    Rule("feeders-left-in-use", "what is touched", touch.feeders_left_in_use),
    Rule("graph-whole", "continuity", continuity.graph_whole),
    Rule("drawn-where-it-is", "continuity", continuity.drawn_where_it_is),
    Rule("comes-to-the-panel", "continuity", continuity.comes_to_the_panel),
    Rule("pieces-join", "continuity", continuity.pieces_join),
    Rule("fed-at-an-end", "continuity", continuity.at_an_end),
    Rule("copper-used-once", "continuity", continuity.copper_used_once),
    Rule("copper-reach", "continuity", continuity.reach_kept),
    Rule("verdict-before-promise", "old cable", copper.promised_with_a_verdict),
    Rule("unknown-not-fast", "old cable", copper.unknown_is_not_fast),
    Rule("coax-fit-for-data", "old cable", copper.coax_is_fit),
    Rule("new-is-bought", "parts and tasks", bought.every_thing_bought),
    Rule("new-is-put-in", "parts and tasks", bought.every_thing_done),
    Rule("cords-bought", "parts and tasks", bought.cords_bought),
    Rule("tasks-have-parts", "parts and tasks", bought.tasks_have_parts),
    Rule("tasks-priced", "parts and tasks", bought.tasks_known),
    Rule("access-points-counted", "parts and tasks", bought.access_points_counted),
    Rule("rack-bought", "parts and tasks", bought.rack_bought),
    Rule("nothing-idle", "parts and tasks", bought.nothing_idle),
    Rule("device-swap-told", "parts and tasks", devices.swaps_told),
    Rule("set-afresh-told", "parts and tasks", devices.set_afresh_told),
    Rule("cut-for-each-cable", "ids and labels", cables.cut_for_each),
    Rule("cable-enough", "ids and labels", cables.cable_enough),
    Rule("one-id", "ids and labels", cables.one_id),
    Rule("labels-stand", "ids and labels", cables.labels_stand),
    Rule("labels-on-schedule", "ids and labels", cables.labels_listed),
    Rule("used-is-tested", "ids and labels", cables.used_is_tested),
    Rule("parts-add-up", "money", money.parts_add_up),
    Rule("labour-adds-up", "money", money.labour_adds_up),
    Rule("total-adds-up", "money", money.total_adds_up),
    Rule("one-offer-chosen", "money", money.one_offer_chosen),
    Rule("offers-serve-what-is-asked", "money", money.offers_serve_what_is_asked),
    Rule("signed-offer-rules", "money", money.signed_offer_rules),
    Rule("within-budget", "money", money.within_budget),
    Rule("starts-from-today", "doing nothing", nothing.starts_from_today),
    Rule("before-is-today", "doing nothing", nothing.before_is_today),
    Rule("no-cost-without-need", "doing nothing", nothing.no_cost_without_need),
    Rule("nothing-chosen-nothing-bought", "doing nothing", nothing.bought_for_a_need),
    Rule("nothing-gets-worse", "doing nothing", nothing.nothing_gets_worse),
    Rule("room-fit-for-a-box", "places", places.room_fit),
    Rule("in-its-room", "places", places.in_its_room),
    Rule("clear-of-openings", "places", places.clear_of_openings),
    Rule("solid-ceilings", "places", places.solid_ceilings),
    Rule("metal-cans", "places", places.metal_cans),
    Rule("rack-fits", "places", places.racks_fit),
    Rule("outlets-found", "places", places.found_outlets),
    Rule("screws-allowed", "marks in the house", drilling.screws_allowed),
    Rule("no-marks-left", "marks in the house", drilling.no_marks_left),
    Rule("landlord-first", "marks in the house", drilling.landlord_first),
    Rule("hazards-first", "marks in the house", drilling.hazards_first),
    Rule("licence-first", "marks in the house", drilling.licence_first),
    Rule("no-copper-outdoors", "marks in the house", drilling.no_copper_outdoors),
    Rule("needs-exist", "order of work", order.needs_exist),
    Rule("order-goes-forward", "order of work", order.goes_forward),
    Rule("waiting-is-held", "order of work", order.waiting_is_held),
    Rule("ends-with-everything", "order of work", order.ends_with_everything),
    Rule("installed-not-without", "order of work", drops.installed_is_not_without),
    Rule("drops-agree", "order of work", drops.drops_say_the_same),
    Rule("met-is-met", "needs", needs.met_is_met),
    Rule("asked-is-judged", "needs", needs.asked_is_judged),
    Rule("unmet-is-said", "needs", needs.unmet_is_said),
    Rule("every-room-is-every-room", "needs", needs.every_room_is_every_room),
    Rule("names-known", "needs", needs.names_known),
    Rule("choices-kept", "what people decided", choices.choices_kept),
    Rule("router-as-decided", "what people decided", choices.router_stays),
    Rule("channels-whose", "what people decided", choices.channels_whose),
    Rule("access-points-apart", "what people decided", choices.names_unique),
    Rule("choice-agrees", "the choice", optimum.choice_agrees),
    Rule("front-is-honest", "the choice", optimum.front_is_honest),
    Rule("proof-holds", "the choice", optimum.proof_holds),
    Rule("nothing-does-better", "the choice", optimum.nothing_does_better),
)

# How an offer was chosen and priced is judged when it is planned. A job may ask for something else once
# it is signed: that is then a proposed change, and no fault of the plan in force.
WHEN_CHOSEN = {
    "parts-add-up",
    "labour-adds-up",
    "total-adds-up",
    "offers-serve-what-is-asked",
    "within-budget",
    "no-cost-without-need",
    "nothing-chosen-nothing-bought",
    "choices-kept",
    "choice-agrees",
    "front-is-honest",
    "proof-holds",
    "nothing-does-better",
}
SIGNED_RULES: tuple[Rule, ...] = tuple(rule for rule in RULES if rule.name not in WHEN_CHOSEN)
