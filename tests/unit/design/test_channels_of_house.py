"""Channels of a house: neighbours as a scan shows them, widths and powers box by box."""

from __future__ import annotations

import pytest

from rehaul.design.channels import _row, channel_plan
from rehaul.house import Heard
from rehaul.jobs import demo_job
from rehaul.planning import plan
from rehaul.predict import scene_of, standing_radiators
from rehaul.predict.neighbours import span_mhz
from rehaul.wlan import lawful_channels


@pytest.mark.parametrize(
    ("band", "primary", "width", "span"),
    [
        ("2.4", 6, 20, (2427, 2447)),
        ("5", 36, 80, (5170, 5250)),
        ("5", 48, 80, (5170, 5250)),
        ("5", 149, 40, (5735, 5775)),
        ("5", 36, 20, (5170, 5190)),
        ("6", 37, 160, (6105, 6265)),
        ("5", 37, 20, None),
    ],
)
def test_a_primary_channel_stands_for_its_whole_width(
    band: str, primary: int, width: int, span: tuple[float, float] | None
) -> None:
    assert span_mhz(band, primary, width) == span  # type: ignore[arg-type]


def test_a_loud_neighbour_moves_us_away() -> None:
    job = demo_job()
    job = job.model_copy(update={"choices": job.choices.model_copy(update={"dfs": False})})
    radiators = plan(job).radiators[:1]
    loud = Heard(id="H9", band="5", channel=36, width_mhz=80, power_dbm=-40, busy_pct=90)
    found = channel_plan(
        job.model_copy(update={"heard": (loud,)}), radiators, scene_of(job.house, job.country)
    )
    used = [row for row in found.channels if row.band.value == "5"]
    assert used
    assert all(row.centre_channel == 155 and row.width_mhz == 80 for row in used)
    assert not found.overlaps


@pytest.mark.parametrize(("number", "listens"), [(58, 1), (122, 10)])
def test_a_box_on_a_radar_channel_says_how_long_it_is_silent(number: int, listens: int) -> None:
    """ETSI EN 301 893: one minute, ten where weather radar works."""
    job, radiator = demo_job(), standing_radiators(demo_job())[0]
    channel = next(one for one in lawful_channels("DE", "5", 80) if one.number == number)
    row = _row(job.model_copy(update={"country": "DE"}), radiator, "5", channel)
    assert f"silent for {listens} min at first" in row.note


@pytest.mark.parametrize(
    ("country", "number", "said"),
    [("DE", 42, True), ("DE", 106, False), ("US", 42, False), ("US", 155, False)],
)
def test_a_channel_for_indoors_alone_says_so(country: str, number: int, said: bool) -> None:
    """In Germany 5.15 to 5.35 GHz is for indoors, above 5.47 GHz it is not; in the US no such rule stands."""
    job, radiator = demo_job(), standing_radiators(demo_job())[0]
    channel = next(one for one in lawful_channels(country, "5", 80) if one.number == number)
    row = _row(job.model_copy(update={"country": country}), radiator, "5", channel)
    assert ("for indoors alone" in row.note) is said
