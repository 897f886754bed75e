"""Labels: the same id on both ends, plate, panel and plan, readable on 6 mm tape."""

from __future__ import annotations

import pytest

import sample_plan
from rehaul.papers import labels, sheet_svg
from rehaul.papers.labels import TAPES_M, Label, labels_table

SMALLEST_M = 0.0018  # ISO 3098: the smallest nominal height of lettering


def test_both_ends_of_every_used_cable_carry_its_id() -> None:
    every = labels(sample_plan.plan())
    ends = [label.place for label in every if label.id == "C01" and label.where == "cable end"]
    assert ends == ["Cellar board", "Sewing room"]
    assert [label.place for label in every if label.id == "N1"] == ["Cellar board", "Hall"]


def test_a_far_end_that_nobody_found_is_said_on_the_near_one() -> None:
    (label,) = [label for label in labels(sample_plan.plan()) if label.id == "C08"]
    assert label.alias == "DO NOT CUT untested, far end not found"


def test_a_held_cable_says_so_on_every_end() -> None:
    held = [label for label in labels(sample_plan.plan()) if label.id == "C02"]
    assert len(held) == 3
    assert {label.alias for label in held} == {"DO NOT CUT O1"}


def test_a_plate_that_was_never_found_has_no_label() -> None:
    assert not [label for label in labels(sample_plan.plan()) if label.id == "U-04"]


@pytest.mark.parametrize("tape_m", TAPES_M)
def test_every_label_can_be_read_on_the_tape(tape_m: float) -> None:
    for label in labels(sample_plan.plan()):
        fitted = label.on_tape(tape_m)
        assert fitted.capital_m >= SMALLEST_M
        assert label.id in " ".join(fitted.lines)


def test_the_longest_id_keeps_its_size_and_loses_its_friendly_name() -> None:
    label = Label("A" * 32, "somewhere", "cable end", "closet", wrap=True)
    fitted = label.on_tape(0.006)
    assert fitted.capital_m >= SMALLEST_M
    assert fitted.lines[0].count("A" * 32) == 3


def test_ids_on_labels_stand_on_the_plan() -> None:
    plan = sample_plan.plan()
    drawn = "".join(sheet_svg(plan, storey.id) for storey in plan.job.house.storeys)
    for label in labels(plan):
        if label.where == "plate" or (label.where == "box" and label.id.startswith("AP")):
            assert f">{label.id}</text>" in drawn


def test_the_list_has_a_row_for_each_label() -> None:
    assert len(labels_table(sample_plan.plan()).rows) == len(labels(sample_plan.plan()))
