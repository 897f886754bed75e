"""What facts, physics, tracing, proof, takeoff and design refuse is said to a French reader in French."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from rehaul.copper.run import RunFacts
from rehaul.copper.coax import splitter_loss_db
from rehaul.design.tries import DropAttempt
from rehaul.errors import Refusal
from rehaul.exact.coverage import Requirement
from rehaul.facts.constructions import construction
from rehaul.facts.labels import tape
from rehaul.facts.table import parse
from rehaul.facts.terminations import StripRow, strip_rule
from rehaul.house import House, Job, Room, Storey
from rehaul.predict.size import remedy_for
from rehaul.proof.cases import room_named
from rehaul.proof.reading_table import new_reading, readings_from_table
from rehaul.radio import SlabLayer
from rehaul.sheets.qr import qr_svg
from rehaul.takeoff import tick_off
from rehaul.takeoff.accepted import signature
from rehaul.takeoff.results import Task
from rehaul.tracing.job_tracing import point_of
from rehaul.tracing.labels import fit_label
from rehaul.tracing.partitions import mask_of
from rehaul.wlan import link_between
from rehaul.words import Reader, Saying, speaking

FRENCH = Reader("fr")
STRIP = "connector,jacket_strip_m,untwist_m,bare_m,advice,document,edition,place,how\nj,{strip},0,0,a,d,,p,memory\n"
JOB = Job(
    id="j",
    title="J",
    house=House(
        storeys=(Storey(id="g", name="Ground", elevation_m=0),),
        rooms=(Room(id="r1", name="Den", storey="g", polygon=((0, 0), (4, 0), (4, 3), (0, 3))),),
    ),
)
STEP = Task(id="T01", key="k", title="Pull C1", stage="run", visit=1, place="Hall", minutes=5)
SCENES: dict[str, tuple[Callable[[], object], str]] = {
    "a construction": (lambda: construction("cheese"), ""),
    "a tape": (lambda: tape(0.005), ""),
    "a cell of a fact table": (lambda: parse(STRIP.format(strip="long"), StripRow, name="strips"), ""),
    "a connector": (lambda: strip_rule("glue"), ""),
    "a splitter": (lambda: splitter_loss_db(2, 0, 3, through_db=3.7, across_db=20.0), ""),
    "a category": (lambda: RunFacts(category="cat 9", length_m=(1, 2, 3)), ""),
    "a layer": (lambda: SlabLayer("brick", -0.1), ""),
    "a radio": (lambda: link_between("lamp", "laptop", "5"), ""),
    "a requirement": (lambda: Requirement("den", np.array([0]), np.array([1.0]), 1.5), ""),
    "a try": (lambda: DropAttempt("pull", 0.5, 9.0, 4.0, 0.0), ""),
    "a meeting point": (lambda: point_of(JOB, None), ""),
    "tied conductors": (lambda: mask_of([(1, 9)], 8), ""),
    "a label": (lambda: fit_label(["a", "b", "c", "d"]), ""),
    "a room": (lambda: room_named(JOB, "attic"), ""),
    "a reading": (lambda: new_reading(JOB, {"room": "attic", "down_mbps": "5"}), ""),
    "a table": (lambda: readings_from_table("room,down_mbps\nattic,5\nattic,6\n", JOB), ""),
    "a step": (lambda: tick_off(JOB, (STEP,), "T9", by="Ann"), ""),
    "a signature": (lambda: signature("Ann", "yesterday"), ""),
    "a code": (lambda: qr_svg("x" * 9000, 20.0, shows="w"), ""),
}


def refused(act: Callable[[], object]) -> Refusal:
    with pytest.raises(Refusal) as caught:
        act()
    return caught.value


@pytest.mark.parametrize("scene", SCENES)
def test_a_refusal_is_said_in_french(scene: str) -> None:
    act, french = SCENES[scene]
    refusal = refused(act)
    assert isinstance(refusal.problem, Saying) and isinstance(refusal.remedy, Saying)
    before = str(refusal)
    with speaking(FRENCH):
        assert str(refusal) == french
    assert str(refusal) == before  # to everybody else what it was
