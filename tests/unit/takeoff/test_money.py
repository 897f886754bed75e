"""From parts and minutes to the price: spares, packs, margin and tax, worked out a second time."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import pytest

from plans_once import made_weighed
from rehaul.design.options import offering_of
from rehaul.design.outlets import least_mbps
from rehaul.facts.work import prices
from rehaul.jobs import open_job
from rehaul.planning import Weighed

EXAMPLES = Path(__file__).parents[3] / "examples"
MARGIN_PCT, TAX_PCT = 30.0, 20.0


@cache
def weighed() -> Weighed:
    job = open_job(EXAMPLES / "2003-cable-television.rehaul.json")
    choices = job.choices.model_copy(update={"margin_pct": MARGIN_PCT, "tax_pct": TAX_PCT})
    return made_weighed(job.model_copy(update={"choices": choices}))


def test_the_margin_is_a_share_of_the_price_before_tax() -> None:
    quote = weighed().fresh.takeoff.quote
    for row in (quote, *(option for option in quote.options if option.total > 0)):
        net = row.parts + row.labour + row.margin
        assert row.margin == pytest.approx(net * MARGIN_PCT / 100, abs=0.02)
        assert row.tax == pytest.approx(net * TAX_PCT / 100, abs=0.02)
        assert row.total == pytest.approx(net + row.tax, abs=0.02)


def test_every_part_is_bought_with_its_spare_in_whole_packs() -> None:
    lines = weighed().fresh.takeoff.parts
    spared = 0
    for line in lines:
        row = prices().get(line.item)
        if row is None:
            assert line.quantity == line.need
            continue
        wanted = line.need * (1 + row.spare_pct / 100)
        assert line.quantity == pytest.approx(math.ceil(wanted / row.sold_in - 1e-9) * row.sold_in)
        assert line.price == pytest.approx(line.quantity * line.unit_price, abs=0.01)
        spared += line.quantity > math.ceil(line.need / row.sold_in - 1e-9) * row.sold_in
    assert spared, "no spare here makes a difference"


@pytest.mark.parametrize("down_mbps", [50.0, 300.0, 900.0])
def test_no_wired_outlet_is_offered_that_carries_less_than_its_room_asks(down_mbps: float) -> None:
    job = open_job(EXAMPLES / "1993-hundred-meets-hundred.rehaul.json")
    service = job.service.model_copy(update={"down_mbps": 1000.0})
    needs = tuple(need.model_copy(update={"down_mbps": down_mbps, "wired_outlets": 1}) for need in job.needs)
    asking = job.model_copy(update={"needs": needs, "service": service})
    options = [option for option in offering_of(asking).options if option.what == "outlet"]
    least = least_mbps(asking)
    assert options and all(option.wire_mbps >= least[option.room] for option in options)
