"""How each kind of finding is asked of people: in which words, where it is settled, by which answer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, NamedTuple

from rehaul.house.audit import answers
from rehaul.house.audit.finding import Finding
from rehaul.house.job import Job

Page = Literal["house", "cables", "coverage", "quote", "work", "tests", "handover"]


class AskKind(NamedTuple):
    """One kind of question. `title` and `why` are codes of sentences."""

    title: str
    why: str
    page: Page  # where it is settled, if not in place
    answer: Callable[[Job, Finding], answers.Answer | None] | None = None


ASK_KINDS: dict[str, AskKind] = {  # by the code of the finding
    "equipment-unknown": AskKind("asks.equipment_unknown", "whys.equipment_unknown", "house"),
    "client-unknown": AskKind("asks.client_unknown", "whys.client_unknown", "house"),
    "use-unknown": AskKind("asks.use_unknown", "whys.use_unknown", "coverage"),
    "opening-too-high": AskKind("asks.opening_too_high", "whys.opening_too_high", "house"),
    "construction-not-listed": AskKind(
        "asks.construction_not_listed", "whys.construction_not_listed", "house"
    ),
    "openings-overlap": AskKind("asks.openings_overlap", "whys.openings_overlap", "house"),
    "glass-unknown": AskKind("asks.glass_unknown", "whys.glass_unknown", "house", answers.glass),
    "no-need": AskKind("asks.no_need", "whys.no_need", "coverage"),
    "room-without-need": AskKind("asks.room_without_need", "whys.room_without_need", "coverage"),
    "need-empty": AskKind("asks.need_empty", "whys.need_empty", "coverage"),
    "need-where-nobody-lives": AskKind(
        "asks.need_where_nobody_lives", "whys.need_where_nobody_lives", "coverage"
    ),
    "need-twice": AskKind("asks.need_twice", "whys.need_twice", "coverage"),
    "modem-not-placed": AskKind("asks.modem_not_placed", "whys.modem_not_placed", "house", answers.modem),
    "medium-unknown": AskKind("asks.medium_unknown", "whys.medium_unknown", "house", answers.medium),
    "obligation-without-sign-off": AskKind(
        "asks.obligation_without_sign_off", "whys.obligation_without_sign_off", "cables"
    ),
    "obligation-believed": AskKind("asks.obligation_believed", "whys.obligation_believed", "cables"),
    "live-line-without-owner": AskKind(
        "asks.live_line_without_owner", "whys.live_line_without_owner", "cables"
    ),
    "alarms-not-asked": AskKind("asks.alarms_not_asked", "whys.alarms_not_asked", "cables", answers.alarms),
    "gate-not-asked": AskKind("asks.gate_not_asked", "whys.gate_not_asked", "house", answers.gate),
    "hazard-noted": AskKind("asks.hazard_noted", "whys.hazard_noted", "house"),
    "licence-missing": AskKind("asks.licence_missing", "whys.licence_missing", "house", answers.licence),
    "landlord-not-asked": AskKind(
        "asks.landlord_not_asked", "whys.landlord_not_asked", "house", answers.landlord
    ),
    "year-unknown": AskKind("asks.year_unknown", "whys.year_unknown", "house", answers.year),
    "choice-contradicts-itself": AskKind(
        "asks.choice_contradicts_itself", "whys.choice_contradicts_itself", "coverage"
    ),
    "no-room": AskKind("asks.no_room", "whys.no_room", "house"),
    "room-name-twice": AskKind("asks.room_name_twice", "whys.room_name_twice", "house"),
    "room-without-walls": AskKind("asks.room_without_walls", "whys.room_without_walls", "house"),
    "storey-without-doors": AskKind("asks.storey_without_doors", "whys.storey_without_doors", "house"),
    "room-without-door": AskKind("asks.room_without_door", "whys.room_without_door", "house"),
    "rooms-overlap": AskKind("asks.rooms_overlap", "whys.rooms_overlap", "house"),
    "no-storey": AskKind("asks.no_storey", "whys.no_storey", "house"),
    "storeys-overlap": AskKind("asks.storeys_overlap", "whys.storeys_overlap", "house"),
    "storeys-apart": AskKind("asks.storeys_apart", "whys.storeys_apart", "house"),
    "floor-unknown": AskKind("asks.floor_unknown", "whys.floor_unknown", "house", answers.floor),
    "storey-empty": AskKind("asks.storey_empty", "whys.storey_empty", "house"),
    "outlet-never-located": AskKind("asks.outlet_never_located", "whys.outlet_never_located", "cables"),
    "outlet-off-wall": AskKind("asks.outlet_off_wall", "whys.outlet_off_wall", "house"),
    "outlet-without-run": AskKind("asks.outlet_without_run", "whys.outlet_without_run", "cables"),
    "outlet-kind-unknown": AskKind(
        "asks.outlet_kind_unknown", "whys.outlet_kind_unknown", "cables", answers.outlet_kind
    ),
    "run-kind-unknown": AskKind("asks.run_kind_unknown", "whys.run_kind_unknown", "cables", answers.run_kind),
    "run-state-unknown": AskKind(
        "asks.run_state_unknown", "whys.run_state_unknown", "cables", answers.run_state
    ),
    "run-topology-unknown": AskKind(
        "asks.run_topology_unknown", "whys.run_topology_unknown", "cables", answers.run_topology
    ),
    "run-end-unknown": AskKind("asks.run_end_unknown", "whys.run_end_unknown", "cables"),
    "run-contradicts-itself": AskKind(
        "asks.run_contradicts_itself", "whys.run_contradicts_itself", "cables", answers.run_topology
    ),
    "no-meeting-point": AskKind("asks.no_meeting_point", "whys.no_meeting_point", "house"),
    "counts-differ": AskKind("asks.counts_differ", "whys.counts_differ", "cables"),
    "reading-without-place": AskKind("asks.reading_without_place", "whys.reading_without_place", "tests"),
    "reading-improbable": AskKind("asks.reading_improbable", "whys.reading_improbable", "tests"),
    "no-before-reading": AskKind("asks.no_before_reading", "whys.no_before_reading", "tests"),
    "height-improbable": AskKind("asks.height_improbable", "whys.height_improbable", "house"),
    "splitter-rating-unknown": AskKind(
        "asks.splitter_rating_unknown", "whys.splitter_rating_unknown", "cables", answers.splitter_mhz
    ),
    "splitter-input-unknown": AskKind("asks.splitter_input_unknown", "whys.splitter_input_unknown", "cables"),
    "no-splitter-noted": AskKind("asks.no_splitter_noted", "whys.no_splitter_noted", "cables"),
    "entry-filter-unknown": AskKind(
        "asks.entry_filter_unknown", "whys.entry_filter_unknown", "cables", answers.entry_filter
    ),
    "box-feed-unknown": AskKind("asks.box_feed_unknown", "whys.box_feed_unknown", "house", answers.fed_by),
    "run-said-twice": AskKind("asks.run_said_twice", "whys.run_said_twice", "cables"),
    "box-run-unknown": AskKind("asks.box_run_unknown", "whys.box_run_unknown", "cables"),
    "service-run-unknown": AskKind(
        "asks.service_run_unknown", "whys.service_run_unknown", "cables", answers.service_run
    ),
    "ceiling-unknown": AskKind("asks.ceiling_unknown", "whys.ceiling_unknown", "house", answers.ceiling),
    "mains-unknown": AskKind("asks.mains_unknown", "whys.mains_unknown", "cables", answers.mains),
    "walls-nearly-meet": AskKind("asks.walls_nearly_meet", "whys.walls_nearly_meet", "house"),
    "walls-overlap": AskKind("asks.walls_overlap", "whys.walls_overlap", "house"),
    "construction-unknown": AskKind(
        "asks.construction_unknown", "whys.construction_unknown", "house", answers.wall
    ),
    "material-unknown": AskKind("asks.material_unknown", "whys.material_unknown", "house"),
}
