"""The way up on paper: its own map where it varies, its own table, and what delay is like, in words."""

from dataclasses import replace

import numpy as np
import pytest

import sample_plan
from rehaul.planning import Plan
from rehaul.predict import Delay
from rehaul.sheets import map_svg, tables
from rehaul.sheets.blocks import Bullets
from rehaul.sheets.ratemap import coverage_svgs, ramp_of, varies_up
from rehaul.sheets.sections import drawing_sections
from rehaul.sheets.summary import rooms_section

PLAN = sample_plan.plan()
DELAY = Delay(grade="high", low_ms=18, high_ms=640, at="the cable line", asked_ms=60, verdict="at risk")


def told() -> Plan:
    """The sample plan with one room that asks for up and delay."""
    first, *others = PLAN.after.rooms
    asking = first.model_copy(
        update={
            "up_need_mbps": 10.0, "up_served_pct": 40.0, "up_low_mbps": 4.0, "up_median_mbps": 8.0,
            "up_high_mbps": 12.0, "narrowest_up": "plan", "together_mbps": 33.0, "delay": DELAY,
        }
    )  # fmt: skip
    after = replace(PLAN.after, rooms=(asking, *others), notes=("Data wait long", "A device clings"))
    return replace(PLAN, after=after)


def test_the_map_of_up_has_its_own_levels_and_title() -> None:
    down, up = (map_svg(PLAN, "G", up=way) for way in (False, True))
    assert "Rates up on" in up and "Rates up on" not in down
    assert "Mb/s up through the whole chain" in up
    assert max(ramp_of(PLAN, up=True).levels_mbps) < max(ramp_of(PLAN).levels_mbps)
    named = coverage_svgs(PLAN.job, PLAN.after, up=True)
    assert set(named) == {f"map-up-{storey.id}.svg" for storey in PLAN.job.house.storeys}


def test_a_sheet_of_up_is_there_only_where_it_varies() -> None:
    keys = {section.key for section in drawing_sections(PLAN)}
    assert varies_up(PLAN.after) and "map-G-up" in keys
    flat = tuple(
        replace(grid, rate_up_mbps=np.where(np.isnan(grid.rate_up_mbps), np.nan, 20.0).astype(np.float32))
        for grid in PLAN.after.maps
    )
    even = replace(PLAN, after=replace(PLAN.after, maps=flat))
    assert not varies_up(even.after)
    assert not [section.key for section in drawing_sections(even) if section.key.endswith("-up")]


def test_the_table_says_what_a_room_asks_up_and_how_late_it_may_be() -> None:
    every = tables(told())
    row = dict(
        zip([column.key for column in every["rooms_up"].columns], every["rooms_up"].rows[0], strict=True)
    )
    assert row["up_need_mbps"] == pytest.approx(10) and row["up_served_pct"] == pytest.approx(40)
    assert row["after"] == "8.0 Mb/s (4.0 to 12)" and row["after_narrowest"] == "the rate paid for"
    assert row["together_mbps"] == pytest.approx(33)
    assert row["delay"] == "18 to 640 ms, high" and row["delay_met"] == "60 ms: at risk"


def test_notes_stand_below_the_table_as_sentences() -> None:
    section = rooms_section(told(), tables(told()))
    (points,) = [block for block in section.blocks if isinstance(block, Bullets)]
    assert points.items == ("Data wait long.", "A device clings.")
    bare = rooms_section(PLAN, tables(PLAN))
    assert not [block for block in bare.blocks if isinstance(block, Bullets)]
