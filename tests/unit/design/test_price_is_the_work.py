"""What the choice charges is what the order of work does, step by step."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from plans_once import made_weighed
from rehaul.design.oldcables import ends_known, left_norm, link_known
from rehaul.design.placing import BOARD_TASKS
from rehaul.facts.equipment import equipment
from rehaul.house import Grade, Run, RunTest, WireMap
from rehaul.jobs import open_job
from rehaul.planning import Weighed

EXAMPLES = Path(__file__).parents[3] / "examples"
UNCHARGED = ("stop", "travel")  # a stop follows from who has to sign; travel is counted in visits
NAMES = (
    "1972-concrete-conduit",
    "1993-hundred-meets-hundred",
    "2003-cable-television",
    "2008-chained-alarm",
    "stone-foil-barn",
)


@cache
def weighed_house(name: str) -> Weighed:
    return made_weighed(open_job(EXAMPLES / f"{name}.rehaul.json"))


@pytest.mark.parametrize("name", NAMES)
def test_every_step_is_charged_in_the_choice(name: str) -> None:
    weighed = weighed_house(name)
    job = weighed.survey.job
    chosen, order = weighed.chosen, weighed.fresh.order
    works = chosen.placing.offering.works
    charged: Counter[str] = Counter()
    for work in works.all_of(need for option in chosen.options for need in option.needs):
        charged.update(works.known[work].tasks)
        charged.subtract(works.known[work].saves)
    charged["access_point"] += len(chosen.choice.access_points)
    if chosen.switch in equipment():
        charged.update((*BOARD_TASKS, *(["switch"] if job.choices.ups_minutes > 0 else [])))
    done = Counter(task.norm for task in order)
    assert order
    assert {norm: n for norm, n in charged.items() if n and norm not in UNCHARGED} == {
        norm: n for norm, n in done.items() if norm not in UNCHARGED
    }


# what is fitted to cables and plates; cords, boxes and cable off the roll are counted by other rules
FITTED = ("jack", "plate", "label", "tag", "joint_box", "fibre_kit", "box_low_voltage", "switch_small")


@pytest.mark.parametrize("name", NAMES)
def test_every_part_that_is_fitted_is_charged_as_often_as_it_is_bought(name: str) -> None:
    weighed = weighed_house(name)
    works = weighed.chosen.placing.offering.works
    charged: Counter[str] = Counter()
    for work in works.all_of(need for option in weighed.chosen.options for need in option.needs):
        for item, count in works.known[work].parts:
            charged[item] += count
        for item, count in works.known[work].saves_parts:
            charged[item] -= count
    bought = {line.item: line.need for line in weighed.fresh.takeoff.parts}
    assert {item: charged[item] for item in FITTED} == {item: bought.get(item, 0) for item in FITTED}
    assert bought["jack"] > 0


def test_what_is_on_record_is_not_done_again() -> None:
    bare = Run(id="C1", ends=("M1", "1-01"))
    assert not ends_known(bare) and not link_known(bare)
    assert ends_known(bare.model_copy(update={"traced": Grade.MEASURED}))
    assert not ends_known(bare.model_copy(update={"traced": Grade.INFERRED}))
    tried = bare.model_copy(update={"tests": (RunTest(wire_map=WireMap.GOOD, link_mbps=100),)})
    assert ends_known(tried) and link_known(tried)
    shorted = bare.model_copy(update={"tests": (RunTest(wire_map=WireMap.SHORT),)})
    assert not ends_known(shorted) and not link_known(shorted)
    lost = tried.model_copy(update={"ends": ("M1", "unknown")})
    assert not ends_known(lost)


def test_a_cable_that_somebody_depends_on_gets_no_tag() -> None:
    job = open_job(EXAMPLES / "1927-two-family.rehaul.json")
    runs = {run.id: run for run in job.house.runs}
    assert left_norm(job, runs["C1"]) == "tag"
    assert left_norm(job, runs["C6"]) == ""
