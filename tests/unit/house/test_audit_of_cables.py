"""Findings of cables, obligations, boxes, needs and of what nobody has looked at."""

from __future__ import annotations

import pytest

from rehaul.house import (
    Box,
    CableKind,
    Device,
    House,
    Job,
    Need,
    Obligation,
    ObligationKind,
    ObligationState,
    OpeningKind,
    Outlet,
    OutletKind,
    Reading,
    Run,
    RunState,
    Service,
    SignOff,
    Slab,
    Splitter,
    Storey,
    Topology,
)
from rehaul.house.audit import Severity, audit
from rehaul.house.job import Choices
from sound_house import found, sound_house, sound_job


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
