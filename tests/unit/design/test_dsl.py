"""DSL on pairs of the house: nothing beside it, and what open branches cost is said."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawn_houses import drawn_job
from rehaul.design.dsl import dsl_notes
from rehaul.design.options import offering_of
from rehaul.design.results import RouterDecision
from rehaul.house import Job, ObligationKind, open_obligations
from rehaul.jobs import open_job

EXAMPLES = Path(__file__).parents[3] / "examples"


def chained() -> Job:
    return open_job(EXAMPLES / "1988-chained-cat3-dsl.rehaul.json")


def live_dsl(job: Job) -> set[str]:
    """Cables with a live DSL line in their sheath."""
    found = {
        run.id
        for run in job.house.runs
        if any(
            o.kind is ObligationKind.DSL and o.id not in job.choices.to_be_moved
            for o in open_obligations(job, run.id)
        )
    }
    if job.service.medium == "dsl" and job.service.run:
        found.add(job.service.run)
    return found


@pytest.mark.parametrize("seeds", [range(start, 300, 10) for start in range(10)])
def test_no_data_beside_a_live_dsl_pair(seeds: range) -> None:
    """Beside it in one old sheath, 100BASE-TX lifts the line's noise by 28 to 51 dB."""
    for seed in seeds:
        job = drawn_job(seed)
        live = live_dsl(job)
        if not live:
            continue
        for option in offering_of(job).options:
            runs = {piece.rsplit(".", 1)[0] for link in option.links for piece in link.pieces}
            runs |= {link.run for link in option.links} | {p for link in option.links for p in link.pieces}
            assert not runs & live, (seed, option.id)


def test_enough_drawn_houses_have_one() -> None:
    assert sum(bool(live_dsl(drawn_job(seed))) for seed in range(300)) >= 20


def test_a_modem_at_the_first_plate_leaves_the_rest_of_the_chain_open() -> None:
    job = chained()
    kept = RouterDecision(box="BX1", do="keep")
    plate = next(outlet for outlet in job.house.outlets if outlet.id == "1-01")
    moved = RouterDecision(box="BX1", do="move", storey=plate.storey, position=plate.position)
    assert len(dsl_notes(job, kept)) == 1, "at the far end nothing hangs open"
    said = " ".join(dsl_notes(job, moved))
    assert "hangs open on C1" in said
    assert all(name in said for name in ("O1", "O2", "M1", "before margin"))


def test_no_word_of_it_where_the_service_is_another() -> None:
    job = chained()
    other = job.model_copy(update={"service": job.service.model_copy(update={"medium": "fibre"})})
    assert dsl_notes(other, RouterDecision()) == ()


def test_power_line_is_never_an_option() -> None:
    for seed in range(40):
        for option in offering_of(drawn_job(seed)).options:
            assert all(link.medium != "power line" for link in option.links)
