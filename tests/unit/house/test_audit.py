"""Each finding of the audit is found where it should be, and not where it should not."""

from __future__ import annotations

import pytest

from rehaul.house import (
    Box,
    CableKind,
    Device,
    Estimate,
    Gate,
    House,
    Job,
    Layer,
    MeetingPoint,
    Need,
    Obligation,
    ObligationKind,
    ObligationState,
    Opening,
    OpeningKind,
    Outlet,
    OutletKind,
    Quantity,
    Reading,
    Room,
    Run,
    RunState,
    Service,
    SignOff,
    Slab,
    Splitter,
    Storey,
    Topology,
    Wall,
    require_whole,
)
from rehaul.house.audit import Severity, audit
from rehaul.house.job import Choices

CORNERS = ((0.0, 0.0), (8.0, 0.0), (8.0, 5.0), (0.0, 5.0))
ROUND = [
    Wall(id=f"w{i + 1}", storey="1", start=CORNERS[i], end=CORNERS[(i + 1) % 4], construction="brick-solid")
    for i in range(4)
]
MIDDLE = Wall(id="w5", storey="1", start=(4, 0), end=(4, 5), construction="stud-plasterboard")


def sound_house(**changes: object) -> House:
    """A house in which everything is known."""
    fields: dict[str, object] = {
        "built_year": 1990,
        "tenure": "owned",
        "storeys": (Storey(id="1", name="Ground", elevation_m=0, height_m=2.4),),
        "walls": (*ROUND, MIDDLE),
        "openings": (
            Opening(id="d1", wall="w5", kind="door", offset_m=1, width_m=0.8),
            Opening(
                id="win1",
                wall="w1",
                kind="window",
                offset_m=1,
                width_m=1,
                height_m=1,
                sill_m=0.9,
                construction="glass-double",
            ),
        ),
        "rooms": (
            Room(
                id="r1", name="Living", storey="1", polygon=((0.1, 0.1), (3.9, 0.1), (3.9, 4.9), (0.1, 4.9))
            ),
            Room(
                id="r2", name="Kitchen", storey="1", polygon=((4.1, 0.1), (7.9, 0.1), (7.9, 4.9), (4.1, 4.9))
            ),
        ),
        "outlets": (Outlet(id="1-01", storey="1", kind="telephone", position=(0.1, 2)),),
        "meeting_points": (MeetingPoint(id="m1", name="Closet", storey="1", position=(7.5, 0.3)),),
        "runs": (
            Run(
                id="C01",
                ends=("m1", "1-01"),
                kind="cat5e",
                pairs=4,
                topology="home run",
                state="dead",
                length_m=Estimate(middle=12, low=11, high=13),
            ),
        ),
    }
    return House(**(fields | changes))  # type: ignore[arg-type]


def sound_job(house: House | None = None, **changes: object) -> Job:
    """A job in which everything was asked."""
    fields: dict[str, object] = {
        "id": "j",
        "title": "Sound",
        "house": house or sound_house(),
        "boxes": (Box(id="b1", name="Modem", equipment="dsl modem", storey="1", position=(7.5, 0.3)),),
        "service": Service(modem="b1", medium="dsl"),
        "needs": tuple(Need(id=f"n{i}", room=f"r{i}", uses=("stream 4K",)) for i in (1, 2)),
        "readings": (Reading(id="m-1", quantity=Quantity.DOWN_MBPS, value=40, room="r1"),),
        "gate": Gate(
            lead_paint=False,
            asbestos=False,
            knob_and_tube=False,
            fire_rated_walls=False,
            licence_checked=True,
            landlord_agrees=None,
            asked_about_alarms=True,
        ),
    }
    return Job(**(fields | changes))  # type: ignore[arg-type]


def found(job: Job) -> dict[str, tuple[str, ...]]:
    require_whole(job)
    return {finding.code: finding.where for finding in audit(job)}


def test_a_sound_job_has_no_findings() -> None:
    assert audit(sound_job()) == ()


def test_an_empty_job_is_audited_too() -> None:
    codes = found(Job(id="j", title="Empty"))
    assert {"no-storey", "modem-not-placed", "alarms-not-asked", "no-before-reading"} <= set(codes)


HOUSE_CASES = {
    "walls-nearly-meet": (
        {"walls": (*ROUND, MIDDLE.model_copy(update={"end": (4, 4.7)}))},
        ("w5", "w3"),
    ),
    "walls-overlap": (
        {
            "walls": (
                *ROUND,
                MIDDLE,
                MIDDLE.model_copy(update={"id": "w6", "start": (4.02, 1), "end": (4.02, 3)}),
            )
        },
        ("w5", "w6"),
    ),
    "construction-unknown": (
        {"walls": (*ROUND, MIDDLE.model_copy(update={"construction": "unknown"}))},
        ("w5",),
    ),
    "construction-not-listed": (
        {"walls": (*ROUND, MIDDLE.model_copy(update={"construction": "straw bale"}))},
        ("w5",),
    ),
    "material-unknown": (
        {
            "walls": (
                *ROUND,
                MIDDLE.model_copy(update={"layers": (Layer(material="Mycelium", thickness_m=0.1),)}),
            )
        },
        ("w5",),
    ),
    "storey-empty": (
        {
            "storeys": (
                Storey(id="1", name="Ground", elevation_m=0, height_m=2.4),
                Storey(
                    id="2", name="Attic", elevation_m=2.7, height_m=2, floor=Slab(construction="timber-floor")
                ),
            )
        },
        ("2",),
    ),
    "outlet-never-located": ({"outlets": (Outlet(id="1-01", storey="1", kind="telephone"),)}, ("1-01",)),
    "outlet-off-wall": (
        {"outlets": (Outlet(id="1-01", storey="1", kind="telephone", position=(2, 2)),)},
        ("1-01",),
    ),
    "outlet-kind-unknown": ({"outlets": (Outlet(id="1-01", storey="1", position=(0.1, 2)),)}, ("1-01",)),
    "rooms-overlap": (
        {
            "rooms": (
                Room(id="r1", name="Living", storey="1", polygon=((0, 0), (5, 0), (5, 5), (0, 5))),
                Room(id="r2", name="Kitchen", storey="1", polygon=((4, 0), (8, 0), (8, 5), (4, 5))),
            )
        },
        ("r1", "r2"),
    ),
    "room-without-walls": (
        {
            "rooms": (
                Room(id="r1", name="Living", storey="1", polygon=((0, 0), (4, 0), (4, 5), (0, 5))),
                Room(id="r2", name="Kitchen", storey="1", polygon=((10, 0), (14, 0), (14, 5), (10, 5))),
            )
        },
        ("r2",),
    ),
    "room-name-twice": (
        {
            "rooms": (
                Room(id="r1", name="Bed", storey="1", polygon=((0, 0), (4, 0), (4, 5), (0, 5))),
                Room(id="r2", name="bed", storey="1", polygon=((4, 0), (8, 0), (8, 5), (4, 5))),
            )
        },
        ("r1", "r2"),
    ),
    "storey-without-doors": ({"openings": ()}, ("r1", "r2")),
    "glass-unknown": (
        {
            "openings": (
                Opening(id="d1", wall="w5", kind="door", offset_m=1, width_m=0.8),
                Opening(id="win1", wall="w1", kind="window", offset_m=1, width_m=1, height_m=1, sill_m=1),
            )
        },
        ("win1",),
    ),
    "opening-too-high": (
        {"openings": (Opening(id="d1", wall="w5", kind="door", offset_m=1, width_m=0.8, height_m=2.6),)},
        ("d1", "w5"),
    ),
    "openings-overlap": (
        {
            "openings": tuple(
                Opening(id=f"d{i}", wall="w5", kind="door", offset_m=0.5 * i, width_m=0.8) for i in (1, 2)
            )
        },
        ("d1", "d2"),
    ),
    "no-meeting-point": (
        {
            "meeting_points": (),
            "runs": (
                Run(
                    id="C01",
                    ends=("1-01", "unknown"),
                    kind=CableKind.CAT5E,
                    topology=Topology.HOME_RUN,
                    state=RunState.DEAD,
                ),
            ),
        },
        ("house.meeting_points",),
    ),
    "year-unknown": ({"built_year": None}, ("house.built_year",)),
    "landlord-not-asked": ({"tenure": "rented"}, ("gate.landlord_agrees",)),
}


@pytest.mark.parametrize("code", HOUSE_CASES)
def test_findings_of_the_house(code: str) -> None:
    changes, where = HOUSE_CASES[code]
    assert found(sound_job(sound_house(**changes)))[code] == where


def test_storeys_that_overlap_or_hang_apart() -> None:
    def storeys(elevation_m: float) -> House:
        upper = Storey(
            id="2",
            name="Upper",
            elevation_m=elevation_m,
            height_m=2.4,
            floor=Slab(construction="timber-floor"),
        )
        walls = tuple(w.model_copy(update={"id": f"u{w.id}", "storey": "2"}) for w in ROUND)
        return sound_house(
            storeys=(Storey(id="1", name="Ground", elevation_m=0, height_m=2.4), upper),
            walls=(*ROUND, MIDDLE, *walls),
        )

    assert found(sound_job(storeys(2.2)))["storeys-overlap"] == ("1", "2")
    assert found(sound_job(storeys(5.0)))["storeys-apart"] == ("1", "2")
    assert found(sound_job(storeys(2.7))) == {}


def test_a_floor_of_unknown_construction_is_asked_for_above_the_lowest() -> None:
    walls = tuple(w.model_copy(update={"id": f"u{w.id}", "storey": "2"}) for w in ROUND)
    house = sound_house(
        storeys=(
            Storey(id="1", name="Ground", elevation_m=0, height_m=2.4),
            Storey(id="2", name="Upper", elevation_m=2.7, height_m=2.4),
        ),
        walls=(*ROUND, MIDDLE, *walls),
    )
    assert found(sound_job(house)) == {"floor-unknown": ("2",), "ceiling-unknown": ("1",)}


def test_a_room_without_a_door_where_others_have_one() -> None:
    third = Room(id="r3", name="Box room", storey="1", polygon=((6, 3), (7.9, 3), (7.9, 4.9), (6, 4.9)))
    kitchen = Room(
        id="r2",
        name="Kitchen",
        storey="1",
        polygon=((4.1, 0.1), (7.9, 0.1), (7.9, 3), (6, 3), (6, 4.9), (4.1, 4.9)),
    )
    rooms = (sound_house().rooms[0], kitchen, third)
    walls = (
        *ROUND,
        MIDDLE,
        Wall(id="w6", storey="1", start=(6, 3), end=(8, 3), construction="stud-plasterboard"),
        Wall(id="w7", storey="1", start=(6, 3), end=(6, 5), construction="stud-plasterboard"),
    )
    needs = tuple(Need(id=f"n{i}", room=f"r{i}", uses=("stream 4K",)) for i in (1, 2, 3))
    assert found(sound_job(sound_house(rooms=rooms, walls=walls), needs=needs)) == {
        "room-without-door": ("r3",)
    }


def run(**changes: object) -> House:
    return sound_house(runs=(sound_house().runs[0].model_copy(update=changes),))


@pytest.mark.parametrize(
    ("house", "code"),
    [
        (run(ends=("m1", "unknown")), "run-end-unknown"),
        (run(kind=CableKind.UNKNOWN), "run-kind-unknown"),
        (run(state=RunState.UNKNOWN), "run-state-unknown"),
        (run(topology=Topology.UNKNOWN), "run-topology-unknown"),
        (run(topology=Topology.DAISY_CHAIN), "run-contradicts-itself"),
        (run(state=RunState.LIVE_TELEPHONE), "live-line-without-owner"),
    ],
)
def test_findings_of_a_run(house: House, code: str) -> None:
    assert found(sound_job(house))[code] == ("C01",)


def test_more_outlets_than_cables() -> None:
    outlets = (
        *sound_house().outlets,
        Outlet(id="1-02", storey="1", kind="coax", position=(7.9, 2)),
    )
    findings = found(sound_job(sound_house(outlets=outlets)))
    assert findings == {"outlet-without-run": ("1-02",), "counts-differ": ("house.runs", "house.outlets")}


def test_a_blank_plate_needs_no_cable() -> None:
    outlets = (
        *sound_house().outlets,
        Outlet(id="1-02", storey="1", kind=OutletKind.BLANK, position=(7.9, 2)),
    )
    assert found(sound_job(sound_house(outlets=outlets))) == {}


def obliged(state: ObligationState, sign_off: SignOff | None = None) -> Job:
    alarm = Obligation(
        id="o1", kind=ObligationKind.MONITORED_ALARM, run="C01", state=state, sign_off=sign_off
    )
    return sound_job(obligations=(alarm,))


def test_an_obligation_holds_until_it_is_moved_and_signed() -> None:
    silent = SignOff(by="A. Person", date="2026-03-01")
    signed = SignOff(by="A. Person", date="2026-03-01", words="Test signal received by radio")
    assert "obligation-without-sign-off" in found(obliged(ObligationState.IN_USE))
    assert "obligation-without-sign-off" in found(obliged(ObligationState.IN_USE, signed))
    assert "obligation-without-sign-off" in found(obliged(ObligationState.MOVED))
    assert "obligation-without-sign-off" in found(obliged(ObligationState.MOVED, silent))
    assert "obligation-believed" in found(obliged(ObligationState.BELIEVED_UNUSED))
    assert found(obliged(ObligationState.MOVED, signed)) == {}


JOB_CASES = {
    "no-need": {"needs": ()},
    "room-without-need": {"needs": (Need(id="n1", room="r1", uses=("stream 4K",)),)},
    "need-empty": {"needs": (Need(id="n1", room="r1"), Need(id="n2", room="r2", uses=("stream 4K",)))},
    "need-twice": {
        "needs": tuple(Need(id=f"n{i}", room=f"r{max(1, i - 1)}", uses=("stream 4K",)) for i in (1, 2, 3))
    },
    "modem-not-placed": {"service": Service(medium="dsl")},
    "medium-unknown": {"service": Service(modem="b1")},
    "reading-without-place": {"readings": (Reading(id="m-1", quantity="down_mbps", value=4),)},
    "reading-improbable": {"readings": (Reading(id="m-1", quantity="power_dbm", value=50, room="r1"),)},
    "height-improbable": {"boxes": (sound_job().boxes[0].model_copy(update={"height_m": 400.0}),)},
    "no-before-reading": {"readings": ()},
    "alarms-not-asked": {"gate": sound_job().gate.model_copy(update={"asked_about_alarms": None})},
    "gate-not-asked": {"gate": sound_job().gate.model_copy(update={"asbestos": None})},
    "hazard-noted": {"gate": sound_job().gate.model_copy(update={"asbestos": True})},
    "licence-missing": {"gate": sound_job().gate.model_copy(update={"licence_checked": False})},
    "choice-contradicts-itself": {"choices": Choices(pinned_sites=("s1",), forbidden_sites=("s1",))},
}


@pytest.mark.parametrize("code", JOB_CASES)
def test_findings_of_the_job(code: str) -> None:
    assert list(found(sound_job(**JOB_CASES[code]))) == [code]


CHAIN = {
    "outlets": tuple(
        Outlet(id=f"1-0{n}", storey="1", kind="telephone", position=(0.1, n), mains=None if n == 1 else True)
        for n in (1, 2)
    ),
    "runs": (
        sound_house().runs[0].model_copy(update={"ends": ("m1", "1-01", "1-02"), "topology": "daisy chain"}),
    ),
}
PLATES = tuple(Outlet(id=f"1-0{n}", storey="1", kind="coax", position=(0.1, n)) for n in (1, 2))
COAX = tuple(
    Run(id=f"K{n}", ends=("SP1", f"1-0{n}"), kind="coax", topology="home run", state="dead") for n in (1, 2)
)
INPUT = Run(id="K3", ends=("m1", "SP1"), kind="coax", topology="home run", state="dead")
SPLITTER = Splitter(id="SP1", name="Loft splitter", storey="1", passes_mhz=1675, input="K3")


def coaxial(splitter: Splitter = SPLITTER, **changes: object) -> House:
    house: dict[str, object] = {"outlets": PLATES, "runs": (INPUT, *COAX), "splitters": (splitter,)}
    return sound_house(**(house | changes))


def upstairs(**floor: object) -> House:
    """The sound house with an attic above it."""
    attic = Storey(id="2", name="Attic", elevation_m=2.7, floor=Slab(**floor))  # type: ignore[arg-type]
    return sound_house(storeys=(*sound_house().storeys, attic))


UNLOOKED = {
    "mains-unknown": (sound_house(**CHAIN), {}, ("1-01",)),
    "splitter-rating-unknown": (coaxial(SPLITTER.model_copy(update={"passes_mhz": None})), {}, ("SP1",)),
    "splitter-input-unknown": (coaxial(SPLITTER.model_copy(update={"input": None})), {}, ("SP1",)),
    "no-splitter-noted": (
        coaxial(
            splitters=(), runs=tuple(run.model_copy(update={"ends": ("m1", run.ends[1])}) for run in COAX)
        ),
        {},
        ("m1", "K1", "K2"),
    ),
    "entry-filter-unknown": (
        coaxial(),
        {"service": Service(modem="b1", medium="cable", run="K3")},
        ("house.entry_filter",),
    ),
    "ceiling-unknown": (upstairs(), {}, ("1",)),
}


@pytest.mark.parametrize("code", UNLOOKED)
def test_what_nobody_has_looked_at(code: str) -> None:
    house, changes, where = UNLOOKED[code]
    assert found(sound_job(house, **changes)).get(code) == where


def test_what_was_looked_at_is_not_asked_again() -> None:
    assert found(sound_job(coaxial())) == {}
    mains = tuple(outlet.model_copy(update={"mains": False}) for outlet in CHAIN["outlets"])
    assert found(sound_job(sound_house(**{**CHAIN, "outlets": mains}))) == {}
    ground = sound_house().storeys[0].model_copy(update={"ceiling": "solid"})
    known = upstairs().model_copy(update={"storeys": (ground, upstairs().storeys[1])})
    for house in (known, upstairs(construction="concrete-slab")):
        assert "ceiling-unknown" not in found(sound_job(house))
    reversible = sound_job(upstairs(), choices=Choices(fixing="reversible"))
    assert "ceiling-unknown" not in found(reversible), "nothing is screwed to it anyway"
    unwanted = coaxial(SPLITTER.model_copy(update={"passes_mhz": None}))
    assert found(sound_job(unwanted, choices=Choices(coax_adapters=False))) == {}


def test_the_cable_that_brings_the_service_in_is_asked_for() -> None:
    pair = sound_house().runs[0].model_copy(update={"state": RunState.UNKNOWN, "kind": CableKind.QUAD})
    codes = found(sound_job(sound_house(runs=(pair,))))
    assert codes["service-run-unknown"] == ("service.run", "C01")
    named = Service(modem="b1", medium="dsl", run="C01")
    assert "service-run-unknown" not in found(sound_job(sound_house(runs=(pair,)), service=named))
    fibre = Service(modem="b1", medium="fibre")
    assert "service-run-unknown" not in found(sound_job(sound_house(runs=(pair,)), service=fibre))


def test_what_a_box_hangs_on() -> None:
    modem = sound_job().boxes[0]
    router = Box(id="b2", name="Router", equipment="router HE 2x2", storey="1", position=(7, 1))
    point = Box(id="b3", name="Old box", equipment="access point HE 2x2", storey="1", position=(1, 1))

    def boxes(**changes: object) -> Job:
        return sound_job(boxes=(modem, router, point.model_copy(update=changes)))

    assert found(boxes()) == {"box-feed-unknown": ("b3",)}
    assert found(boxes(fed_by="run")) == {"box-run-unknown": ("b3",)}
    for known in ({"fed_by": "run", "run": "C01"}, {"fed_by": "wireless"}, {"run": "C01"}, {"keep": False}):
        assert found(boxes(**known)) == {}, known


def test_a_name_with_a_slip_in_it() -> None:
    modem = sound_job().boxes[0]
    router = Box(id="b2", name="Router", equipment="router HE 2x", storey="1", position=(7, 1))
    device = Device(id="v1", name="Ann's telephone", client="fone")
    need = sound_job().needs[0].model_copy(update={"client": "tablett", "uses": ("stream 4k",)})
    job = sound_job(boxes=(modem, router), devices=(device,), needs=(need, sound_job().needs[1]))
    findings = {finding.where[0]: finding for finding in audit(job)}
    assert {where: finding.code for where, finding in findings.items()} == {
        "b2": "equipment-unknown",
        "v1": "client-unknown",
        "n1": "use-unknown",
    }
    assert findings["b2"].proposed_fix == "Write 'router HE 2x2', if that is meant."
    assert findings["v1"].proposed_fix == "Write 'phone', if that is meant."
    far = audit(sound_job(devices=(device.model_copy(update={"client": "zzz"}),)))[0]
    assert far.proposed_fix.startswith("Use a name of the table, such as camera, ")


def test_a_need_where_nobody_lives() -> None:
    rooms = tuple(room.model_copy(update={"lived_in": room.id == "r1"}) for room in sound_house().rooms)
    assert found(sound_job(sound_house(rooms=rooms))) == {"need-where-nobody-lives": ("n2", "r2")}


def test_serious_findings_come_first_and_all_say_what_to_do() -> None:
    findings = audit(Job(id="j", title="Bare", house=sound_house(outlets=(), runs=())))
    order = [list(Severity).index(finding.severity) for finding in findings]
    assert order == sorted(order)
    for finding in findings:
        assert finding.sentence.endswith(".")
        assert finding.proposed_fix.endswith(".")
        assert finding.where


def test_doors_count_as_known_without_a_construction() -> None:
    assert sound_house().openings[0].kind is OpeningKind.DOOR
    assert sound_house().openings[0].construction == "unknown"
    assert audit(sound_job()) == ()
