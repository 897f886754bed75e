"""Labels: the same id on both ends, plate, panel and plan, readable on 6 mm tape."""

from __future__ import annotations

import pytest

import sample_plan
from rehaul.sheets import sheet_svg
from rehaul.sheets.labels import TAPES_M, labels_table, on_tape
from rehaul.takeoff.labels import LabelLine

SMALLEST_M = 0.0018  # ISO 3098: the smallest nominal height of lettering


def test_both_ends_of_every_used_cable_carry_its_id() -> None:
    every = sample_plan.plan().labels
    ends = [label.place for label in every if label.id == "C01" and label.on == "cable end"]
    assert ends == ["Cellar board", "Sewing room"]
    assert [label.place for label in every if label.id == "N1"] == ["Cellar board", "Hall"]


def test_a_far_end_that_nobody_found_is_said_on_the_near_one() -> None:
    (label,) = [label for label in sample_plan.plan().labels if label.id == "C08"]
    assert label.alias == "DO NOT CUT untested, far end not found"


def test_a_held_cable_says_so_on_every_end() -> None:
    held = [label for label in sample_plan.plan().labels if label.id == "C02"]
    assert len(held) == 3
    assert {label.alias for label in held} == {"DO NOT CUT O1"}


def test_a_plate_that_was_never_found_has_no_label() -> None:
    assert not [label for label in sample_plan.plan().labels if label.id == "U-04"]


@pytest.mark.parametrize("tape_m", TAPES_M)
def test_every_label_can_be_read_on_the_tape(tape_m: float) -> None:
    for label in sample_plan.plan().labels:
        fitted = on_tape(label, tape_m)
        assert fitted.capital_m >= SMALLEST_M
        assert label.id in " ".join(fitted.lines)


def test_the_longest_id_keeps_its_size_and_loses_its_friendly_name() -> None:
    label = LabelLine(id="A" * 32, alias="somewhere", on="cable end", place="closet", wrap=True)
    fitted = on_tape(label, 0.006)
    assert fitted.capital_m >= SMALLEST_M
    assert fitted.lines[0].count("A" * 32) == 3


def test_ids_on_labels_stand_on_the_plan() -> None:
    plan = sample_plan.plan()
    drawn = "".join(sheet_svg(plan, storey.id) for storey in plan.job.house.storeys)
    for label in plan.labels:
        if label.on == "plate" or (label.on == "box" and label.id.startswith("AP")):
            assert f">{label.id}</text>" in drawn


def test_the_list_has_a_row_for_each_label() -> None:
    assert len(labels_table(sample_plan.plan()).rows) == len(sample_plan.plan().labels)
