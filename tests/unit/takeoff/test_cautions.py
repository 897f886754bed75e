"""Cautions stand at the steps where they belong, and nowhere else."""

from __future__ import annotations

import pytest

import sample_house
from rehaul.house import CableKind, Job, RunState
from rehaul.takeoff.cautions import Circumstances, cautions_for, is_telephone
from rehaul.words import Reader, again


def old_house() -> Job:
    job = sample_house.job()
    return job.model_copy(update={"gate": job.gate.model_copy(update={"lead_paint": True})})


def said(stage: str, **more: bool) -> str:
    return " ".join(cautions_for(old_house(), stage, Circumstances(**more)))


def test_names_and_channels_are_set_without_a_dust_mask() -> None:
    assert "drilling" not in said("commission")
    assert "lead" not in said("commission")


@pytest.mark.parametrize(
    ("country", "built", "words"),
    [
        ("US", 1977, "before 1978 may hold lead"),
        ("US", 1978, ""),
        ("FR", 1960, "Old paint may hold lead"),
        ("GB", 1977, "Old paint may hold lead"),  # no rule of theirs is on record: no year is told
        ("GB", 1978, ""),
        ("FR", None, "Old paint may hold lead"),
    ],
)
def test_lead_is_told_with_the_year_of_the_country_where_it_has_a_rule(
    country: str, built: int | None, words: str
) -> None:
    job = sample_house.job()
    house = job.house.model_copy(update={"built_year": built})
    gate = job.gate.model_copy(update={"lead_paint": None})
    job = job.model_copy(update={"house": house, "country": country, "gate": gate})
    (lead,) = [line for line in cautions_for(job, "run", Circumstances()) if "lead" in line] or [""]
    assert words in lead and bool(words) == bool(lead)
    assert not lead or "rule of your country" in lead
    french = again(lead, Reader("fr"))
    assert ("1978" in french) == ("1978" in words)


def test_an_access_point_that_is_screwed_on_has_dust_and_lead() -> None:
    assert "drilling overhead" in said("commission", screws=True)
    assert "may hold lead" in said("commission", screws=True)
    assert "ladder" in said("commission", high=True)


def test_a_new_cable_keeps_its_cautions() -> None:
    assert "drilling overhead" in said("run") and "may hold lead" in said("run")


def test_coax_is_no_telephone_line_and_has_its_own_caution() -> None:
    job = sample_house.job()
    run = job.house.runs[0]
    coax = run.model_copy(update={"kind": CableKind.COAX})
    house = job.house.model_copy(update={"runs": (coax, *job.house.runs[1:])})
    assert not is_telephone(job.model_copy(update={"house": house}), run.id)
    assert "bonded to earth" in said("trace", coax=True)
    assert "bonded to earth" not in said("trace")


def test_a_step_that_nothing_is_true_of_has_no_caution_of_a_circumstance() -> None:
    """A ringing line, an alarm, a ladder, a hole, an attic, powered cables, coax: each has to be said."""
    words = {
        "telephone": "telephone pair", "alarm": "pendant alarm", "high": "ladder", "hole": "listed seal",
        "attic": "attic", "poe": "powered cables", "coax": "bonded to earth",
    }  # fmt: skip
    for stage in ("commission", "run", "rack", "terminate", "trace"):
        for flag, word in words.items():
            assert word not in said(stage), (stage, flag)
    for flag, word in words.items():
        assert any(word in said(stage, **{flag: True}) for stage in ("run", "rack", "trace")), flag


@pytest.mark.parametrize(
    ("run", "more", "carries"),
    [
        ("C01", {}, False),  # a dead data cable to a data plate
        ("C01", {"kind": CableKind.QUAD}, True),
        ("C01", {"kind": CableKind.UNKNOWN}, True),
        ("C01", {"state": RunState.LIVE_TELEPHONE}, True),
        ("C01", {"state": RunState.ALARM}, True),
        ("C01", {"state": RunState.UNKNOWN}, True),
        ("C01", {"state": RunState.DAMAGED}, False),
        ("C01", {"ends": ("M1", "U-04")}, True),  # a plate of unknown kind
        ("C05", {}, True),  # to a telephone plate
        ("C05", {"kind": CableKind.COAX}, False),
        ("C06", {}, False),  # coax of unknown state
    ],
)
def test_which_cable_may_carry_the_voltage_of_a_telephone(
    run: str, more: dict[str, object], carries: bool
) -> None:
    job = sample_house.job()
    runs = tuple(row.model_copy(update=more) if row.id == run else row for row in job.house.runs)
    house = job.house.model_copy(update={"runs": runs})
    assert is_telephone(job.model_copy(update={"house": house}), run) is carries
