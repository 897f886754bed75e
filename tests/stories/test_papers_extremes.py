"""Papers of jobs at the edges: nothing surveyed yet, names as long as they may be, everything large."""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path

import pypdfium2

import sample_plan
from rehaul.design.results import Port, RackItem
from rehaul.house import House, Job
from rehaul.planning import Plan
from rehaul.sheets import handover_files, write_papers
from rehaul.sheets.document import pdf
from rehaul.takeoff.labels import labels_for


def text(made: bytes) -> str:
    pages = pypdfium2.PdfDocument(made)
    return " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())


def nothing() -> Plan:
    """A job that somebody has just opened: no house, no choice, no task."""
    plan = sample_plan.plan()
    empty = replace(plan.before, sources=(), source_names=(), maps=(), rooms=())
    takeoff = plan.takeoff.model_copy(
        update={
            "parts": (),
            "cuts": (),
            "tools": (),
            "labour": (),
            "quote": plan.takeoff.quote.model_copy(update={"options": (), "excluded": (), "unknowns": ()}),
        }
    )
    return Plan(
        job=Job(id="new", title="New job", house=House()),
        cabling=(),
        before=empty,
        choice=plan.choice.model_copy(
            update={"access_points": (), "candidates": (), "front": (), "shortfalls": ()}
        ),
        after=empty,
        channels=plan.channels.model_copy(update={"channels": (), "overlaps": ()}),
        network=plan.network.model_copy(
            update={
                "ports": (),
                "rack": (),
                "rack_units": 0,
                "spare_ports": 0,
                "subnets": (),
                "addresses": (),
            }
        ),
        takeoff=takeoff,
        order=(),
        open_questions=(),
    )


def test_a_job_just_opened_has_papers(tmp_path: Path) -> None:
    assert write_papers(nothing(), tmp_path / "papers")
    assert handover_files(nothing())["handover.pdf"]
    said = text(pdf(nothing()))
    assert "New job" in said and "undated" in said and "None." in said


def long_names() -> Plan:
    """80 letters for every name, 32 for every id of a run: as long as the job document allows."""
    plan = sample_plan.plan()
    house = plan.job.house
    name = "Wunderkammer " * 6
    renamed = house.model_copy(
        update={
            "rooms": tuple(room.model_copy(update={"name": (name + room.id)[-80:]}) for room in house.rooms),
            "storeys": tuple(storey.model_copy(update={"name": name[:80]}) for storey in house.storeys),
            "meeting_points": tuple(m.model_copy(update={"name": name[:80]}) for m in house.meeting_points),
        }
    )
    names = {room.id: room.name for room in renamed.rooms}
    after = replace(
        plan.after,
        rooms=tuple(rate.model_copy(update={"name": names[rate.room]}) for rate in plan.after.rooms),
    )
    return replace(plan, job=plan.job.model_copy(update={"house": renamed, "title": name[:80]}), after=after)


def test_names_as_long_as_they_may_be_print(tmp_path: Path) -> None:
    write_papers(long_names(), tmp_path)
    said = (tmp_path / "plan.pdf").read_bytes()
    assert len(pypdfium2.PdfDocument(said)) < 60


def test_a_rack_of_48_ports_prints_every_one() -> None:
    plan = sample_plan.plan()
    ports = tuple(
        Port(port=i, device=f"Desk {i}", run=f"C{i:02d}", rate_mbps=1000, panel_port=i) for i in range(1, 49)
    )
    rack = tuple(
        RackItem(unit=i, height_u=1, name=f"Thing {i}", equipment="thing", draw_w=1) for i in range(1, 13)
    )
    network = plan.network.model_copy(
        update={"ports": ports, "rack": rack, "rack_units": 12, "spare_ports": 0}
    )
    said = text(pdf(replace(plan, network=network)))
    assert all(f"Desk {i}" in said for i in range(1, 49))
    assert all(f"Thing {i}" in said for i in range(1, 13))


def test_five_hundred_plates_take_seconds_and_not_minutes() -> None:
    plan = sample_plan.plan()
    house = plan.job.house
    outlet = house.outlets[1]
    many = tuple(
        outlet.model_copy(
            update={"id": f"G-{i:03d}", "position": (0.3 + 9 * (i % 50) / 50, 0.3 + 0.6 * (i // 50))}
        )
        for i in range(500)
    )
    big = replace(
        plan,
        job=plan.job.model_copy(
            update={"house": house.model_copy(update={"outlets": (*house.outlets, *many)})}
        ),
    )
    start = time.process_time()
    said = text(pdf(big))
    assert time.process_time() - start < 30  # a guard against a search that never ends, not a measurement
    assert "G-499" in said
    assert len(labels_for(big.job, big.choice, big.network, (), ())) > 500
