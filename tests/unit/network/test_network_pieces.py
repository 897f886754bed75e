"""Joints of coax, cables joined end to end, and what a closer look says: each figure worked out beside it."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.copper import RunFacts
from rehaul.facts.cables import cable
from rehaul.house import Box, CableKind, House, Job, Obligation, Outlet, Run, Splitter, Storey
from rehaul.house.job import Service
from rehaul.network import closer
from rehaul.network.cabling import _blind, _certified_class, telling
from rehaul.network.closer import _certified, _class_of, class_check, other_uses
from rehaul.network.coaxtree import (
    Joint,
    _is_beside,
    _is_free,
    _is_rated,
    _kept,
    _new,
    coax_trees,
    joined_at,
    joint_range_db,
)
from rehaul.network.series import _joined
from rehaul.network.verdicts import EthernetVerdict, RunVerdict, Telling, TellingAnswer

thing: Any = SimpleNamespace


def coax(name: str, *ends: str, **more: Any) -> Run:
    return Run.model_validate({"id": name, "ends": ends, "kind": "coax", "state": "dead", **more})


def splitter(name: str, x: float | None = 0.0, **more: Any) -> Splitter:
    place = None if x is None else (x, 0.0)
    given = {"id": name, "name": name, "storey": "0", "position": place, "passes_mhz": 1675.0, **more}
    return Splitter.model_validate(given)


def job(runs: tuple[Run, ...], splitters: tuple[Splitter, ...] = (), **more: Any) -> Job:
    house = House(
        storeys=(Storey(id="0", name="Ground", elevation_m=0.0),),
        outlets=tuple(Outlet(id=f"o{n}", storey="0", position=(float(n), 0.0)) for n in range(6)),
        splitters=splitters,
        runs=runs,
    )
    return Job(id="j", title="Invented", house=house, **more)


@pytest.mark.parametrize(
    ("joint", "low", "high"),
    [
        (Joint("s", ("s",), 2, "A", ("A", "B", "C")), 4.6, 4.6),  # from its input
        (Joint("s", ("s",), 2, "B", ("A", "B", "C")), 4.6, 4.6),  # to its input
        (Joint("s", ("s",), 2, "C", ("A", "B", "C")), 20.0, 20.0),  # from output to output
        (Joint("s", ("s",), 3, "C", ("A", "B", "C")), 20.0, 24.6),
        (Joint("s", ("s",), 2, None, ("A", "B", "C")), 4.6, 20.0),  # nobody looked
        (Joint("s", ("s",), 2, None, ("A", "B", "C"), new=True), 4.6, 4.6),  # the nearer cable on its input
        (Joint("s", ("s",), 2, "C", ("A", "B", "C"), new=True), 20.0, 20.0),  # an input that is known stays
        (Joint("s", ("s",), 1, "C", ("A", "B", "C")), 0.0, 0.0),
    ],
)
def test_loss_through_a_joint(joint: Joint, low: float, high: float) -> None:
    assert joint_range_db(joint, "A", "B") == pytest.approx((low, high))


def test_a_coax_that_data_may_go_over() -> None:
    """Both ends found, no line comes in on it, nobody depends on it."""
    run = coax("X", "o1", "o2")
    assert _is_free(job((run,)), run)
    lost = coax("X", "o1", "unknown")
    three = coax("X", "o1", "o2", "o3")
    assert not _is_free(job((lost,)), lost) and not _is_free(job((three,)), three)
    assert not _is_free(job((run,), service=Service(run="X")), run)
    box = Box(id="b", name="B", equipment="router HE 2x2", storey="0", position=(0, 0), run="X")
    assert not _is_free(job((run,), boxes=(box,)), run)
    owed = Obligation.model_validate({"id": "O", "kind": "television", "run": "X"})
    assert not _is_free(job((run,), obligations=(owed,)), run)


def test_trees_of_coax_and_what_stops_them() -> None:
    runs = (coax("A", "o1", "s"), coax("B", "s", "o2"), coax("C", "o3", "o4"))
    two = coax_trees(job(runs, (splitter("s"),)))
    assert [(tree.id, [run.id for run in tree.runs], tree.stop) for tree in two] == [
        ("coax s", ["A", "B"], ""),
        ("coax C", ["C"], ""),
    ]
    assert two[0].joints[0].runs == ("A", "B") and two[0].free == {"A", "B", "C"}
    (loud, _) = coax_trees(job(runs, (splitter("s", amplifier=True),)))
    assert "s" in loud.stop
    owed = Obligation.model_validate({"id": "O", "kind": "satellite", "run": "B"})
    dish, plain = coax_trees(job(runs, (splitter("s"),), obligations=(owed,)))
    assert "B" in dish.stop and not plain.stop
    assert all(tree.stop for tree in coax_trees(job(runs, (splitter("s"),), service=Service(medium="cable"))))
    noted = job(runs, (splitter("s"),), service=Service(medium="cable", run="C"))
    assert not any(tree.stop for tree in coax_trees(noted))


def test_a_way_over_a_splitter_by_hand() -> None:
    """Twice 10 m of RG-6 (28.00 dB in 100 m at 1675 MHz), four connectors of 0.1 dB, and the splitter."""
    length = {"middle": 10.0, "low": 9.0, "high": 11.0}
    runs = (
        coax("A", "o1", "s", length_m=length, coax="RG-6"),
        coax("B", "s", "o2", length_m=length, coax="RG-6"),
    )
    here = job(runs, (splitter("s", input="A", capped=True),))
    (tree,) = coax_trees(here)
    path = tree.path(here, "o1", "o2")
    assert path is not None and path.length_m == 20.0
    cables = 2 * 10 * 0.27997 + 0.4
    assert (path.least_db, path.loss_db) == pytest.approx((cables + 4.6, cables + 4.6), abs=0.02)
    assert tree.path(here, "o1", "o3") is None
    unlooked = job(runs, (splitter("s", capped=True),))
    wide = coax_trees(unlooked)[0].path(unlooked, "o1", "o2")
    assert wide is not None and (wide.least_db, wide.loss_db) == pytest.approx(
        (cables + 4.6, cables + 20.0), abs=0.02
    )


def test_splitters_kept_and_replaced() -> None:
    assert _is_rated(splitter("s", passes_mhz=1675.0)) and not _is_rated(splitter("s", passes_mhz=1674.0))
    assert not _is_rated(splitter("s", passes_mhz=None))
    runs = (coax("A", "o1", "s"), coax("B", "s", "o2"))
    kept = _kept(runs, splitter("s", ways=3))
    assert (kept.caps, kept.stop, kept.ways, kept.runs) == (2, "", 3, ("A", "B")), "four ports, two used"
    assert _kept(runs, splitter("s", ways=3, capped=True)).caps == 0
    assert _kept(runs, splitter("s", ways=1)).caps == 0
    lost = _kept(runs, splitter("s", None, ways=3))
    assert "s" in lost.stop and not _kept(runs, splitter("s", None, ways=1)).stop
    old = splitter("s", passes_mhz=1000.0, input="A")
    new = _new(job(runs, (old,)), runs, [old])
    assert (new.new, new.input, new.stop, new.runs) == (True, "A", "", ("A", "B")) and new.ways >= 2
    assert _new(job(runs, (old,)), runs, [splitter("s", None)]).stop
    owed = Obligation.model_validate({"id": "O", "kind": "television", "run": "B"})
    assert "B" in _new(job(runs, (old,), obligations=(owed,)), runs, [old]).stop
    many = tuple(coax(f"C{n}", "s", "o1") for n in range(34))
    assert _new(job(many, (old,)), many, [old]).stop, "no splitter has so many ways"


def test_what_is_at_the_same_place() -> None:
    assert _is_beside(splitter("a", 0.0), splitter("b", 1.0)) and not _is_beside(
        splitter("a"), splitter("b", 1.01)
    )
    assert not _is_beside(splitter("a", None), splitter("b")) and not _is_beside(
        splitter("a"), splitter("b", None)
    )
    assert not _is_beside(splitter("a", height_m=0.3), splitter("b", 0.8, height_m=1.0)), (
        "up as well as along"
    )


def test_trees_that_end_at_one_place_are_joined_by_a_new_splitter() -> None:
    runs = (coax("A", "o1", "o2"), coax("B", "o1", "o3"), coax("C", "o4", "o5"))
    trees = coax_trees(job(runs))
    whole = joined_at(trees, "o1")
    assert whole is not None and [run.id for run in whole.runs] == ["A", "B"] and whole.id == "coax o1"
    (joint,) = whole.joints
    assert joint.new and joint.ways == 2 and joint.runs == ("A", "B") and joint.input is None
    assert joined_at(trees, "o4") is None and joined_at(trees, "o9") is None


def facts(**more: Any) -> RunFacts:
    given = {"category": "cat5", "pairs": 4, "length_m": (1.0, 2.0, 3.0), "topology": "home run", **more}
    return RunFacts(**given)


def test_cables_joined_end_to_end_are_as_good_as_the_worst() -> None:
    whole = _joined(
        [facts(splices=1, awg=24, taps_m=(2.0,)), facts(category="quad", pairs=2, splices=0, awg=26)], 1
    )
    assert (whole.category, whole.pairs, whole.splices, whole.awg) == ("quad", 2, 2, 26)
    assert whole.length_m == (2.0, 4.0, 6.0) and whole.taps_m == (2.0,) and whole.loop_ohm is None
    vague = _joined([facts(pairs=None, splices=None, awg=24), facts(splices=3)], 1)
    assert (vague.pairs, vague.splices, vague.awg) == (None, None, None)
    alone = _joined([facts(loop_ohm=4.0, splices=None)], 0)
    assert alone.loop_ohm == 4.0 and _joined([facts(splices=2)], 0).splices == 2
    unknown = _joined([facts(category="unknown"), facts(category="cat3")], 1)
    assert unknown.category == "unknown", "little better than the worst"
    assert _joined([facts(category="unknown"), facts(category="quad")], 1).category == "quad"


def test_classes_and_rates_that_a_certificate_settles() -> None:
    assert _class_of(cable("cat6")) == "class E" and _class_of(cable("quad")) == "class D"
    assert _class_of(cable("cat3")) == "class D", "class C has no limits here"
    assert (_certified("class D"), _certified("class E"), _certified("class C")) == (
        "1000BASE-T", "1000BASE-T", "10BASE-T",
    )  # fmt: skip
    assert _certified("class EA") == "10GBASE-T"
    assert _certified_class(CableKind.CAT5E) == "class D" and _certified_class(CableKind.COAX) == ""


def paired(**more: Any) -> Run:
    given = {
        "id": "C",
        "ends": ("o1", "o2"),
        "kind": "cat5e",
        "pairs": 4,
        "state": "dead",
        "topology": "home run",
    }
    return Run.model_validate({**given, **more})


def test_limits_are_looked_at_where_it_is_known_what_hangs_on_a_cable() -> None:
    length = {"middle": 30.0, "low": 28.0, "high": 32.0}
    clean = class_check(job(()), paired(length_m=length))
    assert clean is not None and (clean.channel, clean.ethernet, clean.broken) == (
        "class D",
        "1000BASE-T",
        (),
    )
    assert clean.top_mhz == 100.0 and clean.loss_allowed_db == 24.0 and 13 < clean.loss_left_db < 24
    tapped = class_check(job(()), paired(length_m=length, taps_m=(2.0,), topology="daisy chain"))
    assert tapped is not None and tapped.broken
    worst = [one.by_db for one in tapped.broken]
    assert worst == sorted(worst, reverse=True) and min(worst) > 0
    for more in (
        {"state": "damaged"},
        {"kind": "unknown"},
        {"kind": "coax"},
        {"topology": "daisy chain"},
        {"topology": "unknown"},
        {"tests": ({"certified_to": "cat5e"},)},
    ):
        assert class_check(job(()), paired(**more)) is None, more


def verdict(likely: float, length_m: float = 20.0) -> RunVerdict:
    return RunVerdict.model_construct(run="C", ends=("o1", "o2"), length_m=length_m, likely_mbps=likely)


def test_pairs_that_hold_no_gigabit_could_carry_something_else() -> None:
    run = paired(kind="quad", pairs=2)
    here = job((run,))
    (use,) = other_uses(here, run, verdict(100.0), ())
    assert (use.low_mbps, use.most_mbps) == (200.0, 1000.0)
    assert other_uses(here, run, verdict(closer.GOOD_MBPS), ()) == ()
    assert other_uses(here, run, verdict(100.0, 100.1), ()) == (), "out of reach"
    for more in ({"state": "damaged"}, {"ends": ("o1", "unknown")}, {"kind": "fibre"}):
        other = run.model_copy(update=dict(Run.model_validate({**run.model_dump(), **more})))
        assert other_uses(job((other,)), other, verdict(0.0), ()) == (), more


def row(band: str, mbps: float) -> EthernetVerdict:
    return EthernetVerdict.model_validate(
        {"ethernet": "x", "rate_mbps": mbps, "band": band, "chance": 0.9, "reason": "r", "grade": "unknown"}
    )


def test_a_cable_of_which_nothing_is_known_is_at_most_worth_a_try() -> None:
    assert row("likely", 10.0).lifted_chance == 0.0
    assert [_blind(row(band, 10.0)).band for band in ("likely", "try it", "no")] == ["try it", "try it", "no"]
    fast = _blind(row("likely", 100_000.0))
    assert fast.band == "no" and fast.reason != "r"
    assert telling(job(()), paired(kind="coax")) is None and telling(job(()), paired(state="damaged")) is None
    asked = telling(job(()), paired(kind="unknown", pairs=None, topology="unknown"))
    assert asked is not None and sum(answer.chance for answer in asked.answers) == pytest.approx(
        1.0, abs=0.02
    )


def test_what_the_next_reading_would_tell_is_said_in_percent() -> None:
    answers = tuple(
        TellingAnswer(answer=name, chance=chance, then=then)
        for name, chance, then in (("rare", 0.05, 0.5), ("four pairs", 0.7, 0.85), ("two pairs", 0.25, 0.1))
    )
    told = Telling(reading="how many pairs", ethernet="1000BASE-T", chance=0.64, answers=answers).sentence
    assert "64" in told and "85" in told and told.index("four pairs") < told.index("two pairs")
