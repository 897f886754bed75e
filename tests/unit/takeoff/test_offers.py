"""Names of offers, frozen offers, and promises by grade."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

import sample_house
from rehaul.design.results import FrontPoint
from rehaul.errors import BadInput
from rehaul.facts.promises import grade_promises
from rehaul.house import Grade, Job, dump_job, parse_job
from rehaul.takeoff import Quote, QuoteOption, accept, is_intact, signature
from rehaul.takeoff.offers import named
from rehaul.takeoff.price import Costs, option


def offer(total: float, rooms: int, chosen: bool = False) -> QuoteOption:
    return QuoteOption(
        name="",
        access_points=1,
        rooms_served=rooms,
        rooms_total=8,
        parts=0,
        labour=0,
        margin=0,
        tax=0,
        total=total,
        total_90=total * 1.2,
        chosen=chosen,
    )


def quote(*options: QuoteOption) -> Quote:
    return Quote(
        currency="EUR",
        parts=1,
        labour=1,
        margin=1,
        tax=1,
        total=100,
        total_90=120,
        options=options,
        included=("All",),
        excluded=("Plaster",),
        assumptions=(),
        unknowns=(),
        deposit=30,
        valid_until="2026-12-16",
    )


def test_three_names_for_the_front() -> None:
    found = named([offer(400, 1), offer(900, 4), offer(1000, 6), offer(1500, 7), offer(2000, 8, True)])
    assert [o.name for o in found] == [
        "1 of 8 rooms",
        "Only what is needed",
        "Better",
        "7 of 8 rooms",
        "Good",
    ]


def test_two_offers_and_one() -> None:
    assert [o.name for o in named([offer(900, 4), offer(2000, 8)])] == ["Only what is needed", "Good"]
    assert [o.name for o in named([offer(900, 8)])] == ["Only what is needed"]
    assert named([]) == ()


def test_an_offer_that_costs_more_for_less_is_left_out() -> None:
    found = named([offer(1000, 4), offer(950, 5), offer(2000, 8)])
    assert [o.total for o in found] == [950, 2000]
    kept = named([offer(1000, 4, True), offer(950, 5), offer(2000, 8)])
    assert [o.total for o in kept] == [1000, 950, 2000]


def test_an_accepted_offer_is_frozen_and_kept_in_the_job(tmp_path: Path) -> None:
    job = Job(id="j", title="Invented", date="2026-11-16")
    made = quote(*named([offer(900, 4), offer(2000, 8, True)]))
    signed = accept(job, made, "Good", signature("Invented owner", "2026-11-20"))
    (accepted,) = parse_job(dump_job(signed)).accepted_offers
    assert is_intact(accepted)
    assert accepted.sha256 == hashlib.sha256(accepted.offer.encode()).hexdigest()
    again = accept(signed, made, "Only what is needed", signature("Invented owner", "2026-11-21"))
    assert [row.option for row in again.accepted_offers] == ["Good", "Only what is needed"]
    assert again.accepted_offers[0] == accepted


@pytest.mark.parametrize("change", [{"total": 1999.0}, {"option": "Better"}])
def test_a_later_change_shows(change: dict[str, object]) -> None:
    job = Job(id="j", title="Invented")
    signed = accept(
        job, quote(*named([offer(2000, 8, True)])), "Only what is needed", signature("A", "2026-11-20")
    )
    accepted = signed.accepted_offers[0]
    assert is_intact(accepted) and not is_intact(accepted.model_copy(update=change))
    forged = accepted.model_copy(update={"offer": accepted.offer.replace("Plaster", "Nothing")})
    assert not is_intact(forged)


def test_refusals_say_what_to_do() -> None:
    job, made = Job(id="j", title="Invented"), quote(*named([offer(2000, 8, True)]))
    with pytest.raises(BadInput, match="Only what is needed"):
        accept(job, made, "Gold", signature("A", "2026-11-20"))
    with pytest.raises(BadInput, match="held until"):
        accept(job, made, "Only what is needed", signature("A", "2026-12-17"))
    for by, date in (("A", "2026-02-30"), ("", "2026-11-20"), ("A", "soon")):
        with pytest.raises(BadInput):
            signature(by, date)


def test_every_grade_has_its_promise() -> None:
    assert list(grade_promises()) == [grade.value for grade in Grade]
    assert "nothing is promised" in grade_promises()["unknown"].quote
    assert "not promised" in grade_promises()["inferred"].quote


def test_an_offer_names_the_few_rooms_that_it_leaves_out() -> None:
    job = sample_house.job()
    rooms = {need.room for need in job.needs}
    names = [room.name for room in job.house.rooms if room.id in rooms]
    served = tuple(names[1:])
    point = FrontPoint(cost=9.0, rooms_served=len(served), rooms=served, sites=("X",), equipment=("e",))
    assert option(job, point, Costs(1.0, 60.0, 90.0)).words.endswith(f"; not {names[0]}")
    whole = point.model_copy(update={"rooms": tuple(names), "rooms_served": len(names)})
    assert "not" not in option(job, whole, Costs(1.0, 60.0, 90.0)).words
