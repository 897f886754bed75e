"""The people: what they need, who depends on a line, what they allow, what was asked at the door."""

from __future__ import annotations

from drawing.sketch import Sketch
from rehaul.facts.wlan_equipment import room_needs
from rehaul.house import (
    Choices,
    Decision,
    Device,
    Gate,
    Hazard,
    Heard,
    Need,
    Obligation,
    Reading,
    Room,
    Run,
)

ON_COPPER = (
    "monitored alarm",
    "pendant alarm",
    "entry phone",
    "lift",
    "dsl",
    "fax",
    "telephone",
    "other household",
    "other",
)
ON_COAX = ("television", "satellite", "cable modem", "other household")
STATES = ("in use", "believed unused", "moved and tested", "released")
MODEST = ("web and mail", "stream 1080p", "video call 720p", "stream 720p")
HIGH = ("stream 4K", "large downloads", "home office", "cloud game")
UP = ("camera 4 MP", "camera 8 MP H.265", "camera 1080p", "video call 1080p")
CLIENTS = ("new phone", "laptop", "tablet", "television", "camera", "small device")
DAY = "2026-03-02"

SURELY_MBPS = 140.0  # about what a phone surely gets of the best box in its room


def draw_needs(sketch: Sketch) -> None:
    """What each room asks for."""
    if sketch.wants("needs: none", 0.03):
        return
    moods = ("modest", "high", "up-heavy", "above the plan")
    mood = next((mood for mood in moods if f"needs: {mood}" in sketch.themes), "")
    usual = {"modest": 2.0, "mixed": 3.0, "high": 5.0, "up-heavy": 1.5, "above the plan": 0.3}
    mood = mood or sketch.weighed(usual)
    for room in sketch.lived_in():
        if sketch.maybe(0.85) or not sketch.needs:
            sketch.needs.append(_need(sketch, room, mood))
    for room in sketch.rooms:
        if (room.outside or room.outbuilding) and sketch.maybe(0.85):
            sketch.needs.append(_need(sketch, room, "modest"))
    _wired_and_special(sketch)


def _need(sketch: Sketch, room: Room, mood: str) -> Need:
    if mood == "mixed":
        mood = sketch.pick(("modest", "high"))
    more: dict[str, object] = {}
    if mood == "modest":
        uses = (sketch.pick(MODEST),)
        if sketch.maybe(0.3):
            more["down_mbps"] = sketch.pick((5.0, 10.0, 15.0))
    elif mood == "up-heavy":
        uses = (sketch.pick(UP), sketch.pick(UP))
        more["up_mbps"] = sketch.pick((None, 8.0, 20.0, 60.0))
    elif mood == "above the plan":
        uses = ("large downloads",)
        more["down_mbps"] = sketch.service.down_mbps * sketch.pick((0.8, 1.5, 1.5, 2.0))
    else:
        uses = (sketch.pick(HIGH), sketch.pick(HIGH)) if sketch.maybe(0.5) else (sketch.pick(HIGH),)
        if sketch.maybe(0.8):
            share = sketch.pick((0.3, 0.5, 0.6, 0.8))
            more["down_mbps"] = round(min(sketch.service.down_mbps, SURELY_MBPS) * share)
    if mood != "above the plan" and sketch.maybe(0.85):
        more |= _within_the_plan(sketch, uses, more)
    if sketch.maybe(0.1):
        more["client"] = sketch.pick(CLIENTS)
    if sketch.maybe(0.08):
        more["delay_ms"] = sketch.pick((20.0, 30.0, 60.0))
    return Need.model_validate(
        {
            "id": sketch.new_id("W"),
            "room": room.id,
            "uses": tuple(dict.fromkeys(uses)),
            "probability": sketch.weighed({0.9: 8.0, 0.8: 1.0, 0.95: 1.0}),
            "wired_outlets": sketch.weighed({0: 7.0, 1: 1.6, 2: 0.6}),
            **more,
        }
    )


def _within_the_plan(sketch: Sketch, uses: tuple[str, ...], stated: dict[str, object]) -> dict[str, object]:
    """Rates stated where the sum of the uses would be more than is paid for: people know what they bought."""
    found: dict[str, object] = {}
    for field, paid in (("down_mbps", sketch.service.down_mbps), ("up_mbps", sketch.service.up_mbps)):
        asked = sum(getattr(room_needs()[use], field) for use in dict.fromkeys(uses))
        if stated.get(field) is None and asked > paid:
            found[field] = round(paid * sketch.pick((0.4, 0.8)), 1)
    return found


def _wired_and_special(sketch: Sketch) -> None:
    changes: tuple[tuple[str, dict[str, object]], ...] = (
        ("wired", {"wired_outlets": sketch.pick((1, 2))}),
        ("three-outlets", {"wired_outlets": 3}),
        ("delay", {"delay_ms": 30.0, "uses": ("cloud game",)}),
        ("old-client", {"client": "old laptop"}),
        ("camera-client", {"client": "camera"}),
    )
    for theme, change in changes:
        if sketch.wants(theme, 0.03):
            index = sketch.dice.randrange(len(sketch.needs))
            sketch.needs[index] = sketch.needs[index].model_copy(update=change)


def draw_obligations(sketch: Sketch) -> None:
    """Who still depends on a cable; some signed for, some only believed."""
    copper = [run for run in sketch.runs if run.kind.value not in ("coax", "fibre", "bell wire")]
    coax = [run for run in sketch.runs if run.kind == "coax"]
    for kind in dict.fromkeys((*ON_COPPER, *ON_COAX)):
        runs = (coax if kind in ON_COAX else []) + (copper if kind in ON_COPPER else [])
        if not runs or not sketch.wants(f"holds: {kind}", 0.03):
            continue
        line = next((run for run in runs if run.id == sketch.service.run), None)
        of_line = kind == {"cable": "cable modem", "dsl": "dsl"}.get(sketch.service.medium)
        _obligation(sketch, kind, line if line is not None and of_line else sketch.pick(runs))
    _of_the_service(sketch)


def _of_the_service(sketch: Sketch) -> None:
    """The line that the service comes in on is usually entered as one that somebody depends on."""
    kind = {"cable": "cable modem", "dsl": "dsl"}.get(sketch.service.medium)
    run = next((run for run in sketch.runs if run.id == sketch.service.run), None)
    named = {obligation.run for obligation in sketch.obligations}
    if kind and run is not None and run.id not in named and sketch.maybe(0.6):
        _obligation(sketch, kind, run, state="in use")


def _obligation(sketch: Sketch, kind: str, run: Run, state: str = "") -> None:
    named = [f"state: {name}" for name in STATES if f"state: {name}" in sketch.themes]
    usual = {"in use": 5.0, "believed unused": 1.5, "moved and tested": 1.2, "released": 1.2}
    state = state or (named[0].removeprefix("state: ") if named else sketch.weighed(usual))
    signed = state in ("moved and tested", "released") and not sketch.wants("unsigned", 0.2)
    words = "" if signed and sketch.maybe(0.15) else "Tested with the owner; the old pair may go"
    pairs = (1,) if run.pairs and sketch.maybe(0.3) else ()
    sketch.obligations.append(
        Obligation.model_validate(
            {
                "id": sketch.new_id("O"),
                "kind": kind,
                "run": run.id,
                "pairs": pairs,
                "state": state,
                "who": sketch.pick(("", "Invented firm", "Invented neighbour")),
                "sign_off": {"by": "Invented owner", "date": DAY, "words": words} if signed else None,
            }
        )
    )


def draw_hazards(sketch: Sketch) -> None:
    for kind, before in (("asbestos", 1990), ("lead paint", 1978), ("knob and tube", 1950), ("other", 2021)):
        if sketch.wants(f"hazard: {kind}", 0.045 if sketch.year < before else 0.0):
            state = sketch.weighed({"suspected": 4.0, "present": 2.0, "made safe": 1.0, "tested clear": 1.0})
            done = state in ("made safe", "tested clear") and sketch.maybe(0.8)
            where: dict[str, object] = {}
            if sketch.maybe(0.6):
                room = sketch.pick(sketch.indoors())
                where = {"storey": room.storey}
                if sketch.maybe(0.5):
                    where["room"] = room.id
            sketch.hazards.append(
                Hazard.model_validate(
                    {
                        "id": sketch.new_id("H"),
                        "kind": kind,
                        "state": state,
                        "sign_off": {"by": "Invented laboratory", "date": DAY} if done else None,
                        **where,
                    }
                )
            )


def draw_decisions(sketch: Sketch) -> None:
    """Somebody tested a cable and wrote it down."""
    for run in sketch.runs:
        if sketch.maybe(0.08):
            sketch.decisions.append(
                Decision.model_validate(
                    {
                        "id": sketch.new_id("D"),
                        "run": run.id,
                        "sign_off": {
                            "by": "Invented technician",
                            "date": DAY,
                            "words": "No voltage",
                        },
                    }
                )
            )


def gate(sketch: Sketch, tenure: str) -> Gate:
    """What was answered at the door."""
    if sketch.wants("gate: nothing asked", 0.08):
        return Gate(landlord_agrees=_landlord(sketch) if tenure != "owned" else None)
    complete = sketch.wants("gate: all asked", 0.25)

    def answer(yes: float) -> bool | None:
        return None if not complete and sketch.maybe(0.35) else sketch.maybe(yes)

    old = sketch.year < 1978
    return Gate(
        lead_paint=answer(0.4 if old else 0.02),
        asbestos=answer(0.25 if sketch.year < 1990 else 0.0),
        knob_and_tube=answer(0.15 if sketch.year < 1950 else 0.0),
        fire_rated_walls=answer(0.15),
        licence_checked=answer(0.8),
        landlord_agrees=_landlord(sketch) if tenure != "owned" else None,
        asked_about_alarms=answer(0.85),
    )


def _landlord(sketch: Sketch) -> bool | None:
    for theme, said in (("landlord: yes", True), ("landlord: no", False), ("landlord: not asked", None)):
        if theme in sketch.themes:
            return said
    return sketch.weighed({None: 3.0, True: 2.0, False: 1.0})


def tenure(sketch: Sketch) -> str:
    if any(theme.startswith("landlord") for theme in sketch.themes):
        return "rented"
    if "tenure: unknown" in sketch.themes:
        return "unknown"
    return sketch.weighed({"owned": 6.0, "rented": 2.5, "unknown": 1.0})


def choices(sketch: Sketch) -> Choices:
    """What people decided."""
    sites = [outlet.id for outlet in sketch.outlets if outlet.position is not None]
    sites += [point.id for point in sketch.points]
    values: dict[str, object] = {}
    if sites and sketch.wants("forbidden", 0.08):
        values["forbidden_sites"] = (sketch.pick(sites),)
    good = _likely_sites(sketch)
    if good and sketch.wants("pinned", 0.5):
        values["pinned_sites"] = (sketch.pick(good),)
        values.pop("forbidden_sites", None)
    for theme, chance, change in (
        ("no-new-pulls", 0.15, {"new_pulls": False}),
        ("router-stays", 0.08, {"move_router": False}),
        ("no-hops", 0.12, {"wireless_hops": False}),
        ("no-adapters", 0.12, {"coax_adapters": False}),
        ("reversible", 0.1, {"fixing": "reversible"}),
        ("budget: nothing", 0.0, {"budget": 0.0}),
        ("budget", 0.08, {"budget": sketch.pick((0.0, 150.0, 400.0, 900.0))}),
        ("whole-rooms", 0.015, {"whole_rooms": True}),
        ("two-people", 0.06, {"people": 2}),
        ("no-battery", 0.2, {"ups_minutes": 0.0}),
        ("no-spare-ports", 0.1, {"spare_ports": 0}),
        ("many-spare-ports", 0.04, {"spare_ports": 8}),
        ("dfs", 0.3, {"dfs": True}),
        ("own-labour", 0.2, {"labour_per_h": sketch.pick((0.0, 35.0, 85.0))}),
        ("taxed", 0.5, {"tax_pct": sketch.pick((7.0, 19.0, 20.0, 25.0))}),
    ):
        if sketch.wants(theme, chance):
            values |= change
    held = [obligation.id for obligation in sketch.obligations if obligation.state == "in use"]
    if held and sketch.wants("to-be-moved", 0.15):
        values["to_be_moved"] = (sketch.pick(held),)
    return Choices.model_validate(values)


def _likely_sites(sketch: Sketch) -> list[str]:
    """Plates where an access point could well hang: on a sound home run from where there is mains."""
    held = {obligation.run for obligation in sketch.obligations} | {sketch.service.run}
    own = {room.id for room in sketch.lived_in()}
    plates = {outlet.id for outlet in sketch.outlets if outlet.position is not None and outlet.room in own}
    powered = {point.id for point in sketch.points if point.power_sockets}
    ends = [end for run in sketch.runs for end in run.ends]
    return [
        run.ends[-1]
        for run in sketch.runs
        if run.kind.value in ("cat5e", "cat6", "cat6a")
        and len(run.ends) == 2
        and run.ends[0] in powered
        and run.ends[-1] in plates
        and ends.count(run.ends[-1]) == 1
        and run.id not in held
        and run.state.value in ("dead", "unknown")
        and not (run.tests or run.splices or run.taps_m)
    ]


def draw_readings(sketch: Sketch) -> None:
    """What was measured before, by the household's own telephone."""
    if not sketch.wants("readings", 0.2) or not sketch.lived_in():
        return
    device = Device(id=sketch.new_id("T"), name="Household telephone", client="phone")
    sketch.devices.append(device)
    for room in sketch.lived_in()[: sketch.dice.randint(1, 4)]:
        rate = min(sketch.service.down_mbps, 420.0) * sketch.between(0.15, 0.95)
        sketch.readings.append(
            Reading.model_validate(
                {
                    "id": sketch.new_id("Q"),
                    "quantity": "down_mbps",
                    "value": round(rate, 1),
                    "spread": round(rate * 0.1, 1),
                    "repeats": 3,
                    "room": room.id,
                    "storey": room.storey if sketch.maybe(0.5) else None,
                    "position": sketch.spaces[room.id].middle() if sketch.maybe(0.5) else None,
                    "device": device.id if sketch.maybe(0.8) else None,
                    "doors": sketch.pick(("open", "shut", "unknown")),
                }
            )
        )


def heard(sketch: Sketch) -> tuple[Heard, ...]:
    """Neighbours' networks in a scan."""
    if not sketch.wants("heard", 0.2):
        return ()
    found = []
    for _ in range(sketch.dice.randint(1, 5)):
        band = sketch.pick(("2.4", "5"))
        channel = sketch.pick((1, 6, 11) if band == "2.4" else (36, 44, 100))
        found.append(
            Heard.model_validate(
                {
                    "id": sketch.new_id("V"),
                    "band": band,
                    "channel": channel,
                    "power_dbm": sketch.between(-90, -55, 0),
                    "busy_pct": sketch.pick((None, 10.0, 40.0)),
                }
            )
        )
    return tuple(found)
