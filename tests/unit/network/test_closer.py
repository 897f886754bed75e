"""A closer look at old cables: limits they miss, other uses, and where that is told."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from plans_once import made_plan
from rehaul.cli.main import main
from rehaul.house import (
    CableKind,
    Estimate,
    Job,
    Obligation,
    ObligationKind,
    Run,
    RunState,
    RunTest,
    Topology,
)
from rehaul.jobs import demo_job, open_job, save_job
from rehaul.network import closer_looks, run_verdicts
from rehaul.network.closer import class_check
from rehaul.network.coaxtree import coax_trees
from rehaul.planning import plan_data
from rehaul.sheets import tables
from rehaul.sheets.sections import sections

EXAMPLES = Path(__file__).parents[3] / "examples"
DEMO = demo_job()


def cable(**changes: object) -> Run:
    length = Estimate(middle=60.0, low=55.0, high=65.0)
    plain = {"kind": CableKind.CAT5E, "pairs": 4, "topology": Topology.HOME_RUN, "state": RunState.DEAD}
    return Run.model_validate({"id": "C1", "ends": ("MP1", "0-01"), "length_m": length, **plain, **changes})


def with_run(run: Run, **changes: object) -> Job:
    house = DEMO.house.model_copy(update={"runs": (run, *DEMO.house.runs[1:])})
    return DEMO.model_copy(update={"house": house, **changes})


def test_a_tap_misses_the_loss_of_its_class_where_it_is_a_quarter_wave() -> None:
    run = cable(topology=Topology.DAISY_CHAIN, taps_m=(2.0,))
    found = class_check(with_run(run), run)
    assert found is not None and (found.channel, found.ethernet) == ("class D", "1000BASE-T")
    loss = next(one for one in found.broken if one.quantity == "insertion loss")
    assert loss.by_db > 10 and loss.at_mhz == pytest.approx(23, rel=0.05)
    assert found.sentence.startswith(
        "Class D, which settles 1000BASE-T: as noted it misses insertion loss by"
    )


@pytest.mark.parametrize(
    ("kind", "channel", "top_mhz"),
    [("cat5e", "class D", 100), ("cat6", "class E", 250), ("cat6a", "class EA", 500)],
)
def test_sound_cable_keeps_the_class_it_is_sold_for(kind: str, channel: str, top_mhz: float) -> None:
    run = cable(kind=kind)
    found = class_check(with_run(run), run)
    assert found is not None and (found.channel, found.broken) == (channel, ())
    assert 0 < found.loss_left_db < found.loss_allowed_db and found.top_mhz == top_mhz
    longer = class_check(with_run(run), cable(kind=kind, length_m=Estimate(middle=130, low=120, high=140)))
    assert longer is not None and longer.broken[0].quantity == "insertion loss"


def test_nothing_is_said_of_what_nobody_knows_or_a_certificate_says() -> None:
    tested = RunTest(certified_to="cat5e")
    for changes in (
        {"kind": CableKind.UNKNOWN},
        {"kind": CableKind.COAX},
        {"state": RunState.DAMAGED},
        {"topology": Topology.DAISY_CHAIN},
        {"topology": Topology.UNKNOWN},
        {"tests": (tested,)},
    ):
        run = cable(**changes)
        assert class_check(with_run(run), run) is None, changes


def test_telephone_cable_may_carry_data_as_such_unless_somebody_s_dsl_is_on_it() -> None:
    quad = cable(kind=CableKind.QUAD, pairs=2)
    (free, *_) = closer_looks(with_run(quad))
    assert [one.medium for one in free.other] == ["telephone pair"]
    assert any(said.startswith("As telephone pair, ") for said in free.closer)
    owed = Obligation(id="O9", kind=ObligationKind.DSL, run="C1")
    (held, *_) = closer_looks(with_run(quad, obligations=(*DEMO.obligations, owed)))
    assert held.other == () and not any("telephone pair" in said for said in held.closer)
    (good, *_) = closer_looks(with_run(cable()))
    assert good.likely_mbps >= 1000 and good.other == ()


def test_coax_is_told_by_the_way_that_loses_least_and_no_more_than_the_plan_counts() -> None:
    job = open_job(EXAMPLES / "1999-coax-cascade.rehaul.json")
    tree = next(tree for tree in coax_trees(job) if tree.joints)
    found = {row.run: row.other for row in closer_looks(job)}
    told = 0
    for run in tree.runs:
        for use in found[run.id]:
            if use.where:
                told += 1
                end = use.where.removeprefix("to ")
                path = next(p for own in run.ends if own != end and (p := tree.path(job, own, end)))
                assert (
                    use.most_mbps <= path.rates_mbps()[2] + 0.1 and use.low_mbps <= path.rates_mbps()[0] + 0.1
                )
    assert told


def test_a_closer_look_changes_no_verdict() -> None:
    plain = run_verdicts(DEMO)
    empty = {"telling": None, "against": None, "other": (), "closer": ()}
    assert tuple(row.model_copy(update=empty) for row in closer_looks(DEMO)) == plain
    assert closer_looks(DEMO, plain) == closer_looks(DEMO)


def test_the_verb_the_plan_and_the_cable_schedule_say_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = open_job(EXAMPLES / "1993-hundred-meets-hundred.rehaul.json")
    save_job(tmp_path / "job.rehaul.json", job)
    main(["cables", str(tmp_path / "job.rehaul.json")])
    said = capsys.readouterr().out
    found = made_plan(job)
    looks = [(row.run, words) for row in found.cabling for words in row.closer]
    assert looks and all(words in said for _, words in looks)
    assert any("Class D, which settles 1000BASE-T: as noted it misses NEXT" in words for _, words in looks)
    data = json.loads(json.dumps(plan_data(found)))
    assert data["cabling"][0]["against"]["broken"][0]["quantity"] == "NEXT"
    assert [tuple(row[:2]) for row in tables(found)["closer"].rows] == looks
    (schedule,) = [section for section in sections(found) if section.key == "cables"]
    assert any(getattr(block, "table", None) == tables(found)["closer"] for block in schedule.blocks)
