"""The router's own ports in place of a main switch, and the cords that reach them."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest

from rehaul.design.cords import cord_item
from rehaul.design.options import offering_of
from rehaul.design.ownports import MEDIUM, add_battery, one_port, own_ports
from rehaul.house import Box, Choices, Job
from rehaul.jobs import open_job
from rehaul.network.core import gateway

EXAMPLES = Path(__file__).parents[3] / "examples"
ROUTER = Box(id="R", name="Router", equipment="router HE 2x2", storey="1", position=(0.0, 0.0))


def job(spare: int) -> Job:
    return Job(id="j", title="Invented", choices=Choices(spare_ports=spare))


@pytest.mark.parametrize(("spare", "left"), [(0, 3), (1, 3), (2, 2), (3, 1), (4, 0), (9, 0)])
def test_ports_wished_spare_stay_free(spare: int, left: int) -> None:
    """A router of four ports; one of them something may hang on already."""
    assert own_ports(job(spare), ROUTER) == left
    share = one_port(job(spare), ROUTER)
    assert share == (((MEDIUM, round(1 / left, 6)),) if left else ())
    assert sum(part for _, part in share) * left <= 1


def test_a_router_of_no_known_class_has_the_usual_ports() -> None:
    assert own_ports(job(0), ROUTER.model_copy(update={"equipment": "grey box"})) == 3


@pytest.mark.parametrize(
    ("minutes", "volts"),
    [(0, None), (1, 12), (90, 12), (95, 12), (105, 24), (185, 24), (205, 48), (380, 48), (5000, 48)],
)
def test_the_battery_beside_a_router_lasts_what_is_asked_at_45_watts(minutes: int, volts: int | None) -> None:
    """Aged batteries of 9 Ah give 73.4 Wh of their 108, 216 and 432: at 45 W 98, 196 and 392 minutes."""
    added: list[Any] = []
    works = SimpleNamespace(
        job=Job(id="j", title="j", choices=Choices(ups_minutes=minutes)),
        add=lambda work: added.append(work) or work.id,
    )
    assert add_battery(cast(Any, works)) == (("battery",) if volts else ())
    assert [work.parts for work in added] == ([((f"battery {volts} V 9 Ah", 1),)] if volts else [])


@pytest.mark.parametrize(
    ("length_m", "item"),
    [(0.2, "cord_025"), (0.5, "cord_050"), (1.4, "cord_200"), (5.0, "cord_500"), (5.1, "cord_long")],
)
def test_the_shortest_stocked_cord_that_reaches(length_m: float, item: str) -> None:
    assert cord_item(length_m) == item


def test_what_hangs_on_own_ports_takes_none_of_a_switch() -> None:
    offering = offering_of(open_job(EXAMPLES / "1993-hundred-meets-hundred.rehaul.json"))
    fed = [option for option in offering.options if option.uplink is not None and option.feed is not None]
    own = [option for option in fed if option.uplink and option.uplink.own]
    switched = [option for option in fed if option.uplink and not option.uplink.own]
    assert own and switched
    for option in own:
        works = [offering.works.known[name] for name in offering.works.all_of(option.needs)]
        assert option.ports == 0 and option.watts == 0 and not any(work.ports for work in works)
        assert any(load == MEDIUM for work in works for load, _ in work.loads)
    injector = {
        (o.feed.id, o.equipment.name if o.equipment else ""): o.cost for o in own if o.feed and not o.supply
    }
    assert injector
    for option in switched:
        key = (option.feed.id if option.feed else "", option.equipment.name if option.equipment else "")
        if key in injector and option.what == "access point" and not option.supply:
            assert injector[key] == pytest.approx(option.cost + 22.0)  # the injector of the price list


def test_a_router_without_a_radio_stays_on_the_board() -> None:
    """Why: in the open it gains nothing, and a socket costs less than a router in the room."""
    document = open_job(EXAMPLES / "2001-eight-home-runs.rehaul.json")
    router = gateway(document)
    assert router is not None and router.equipment == "router wired"
    spots = {option.router.id for option in offering_of(document).options if option.router is not None}
    assert spots == {"here"}
