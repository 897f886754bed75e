"""Switch, battery, ports and addresses on the demo house; the cheapest class by trying all of them."""

from __future__ import annotations

import ipaddress

import pytest

from plans_once import made_weighed
from rehaul.design.battery import cheapest_battery
from rehaul.design.networking import network
from rehaul.facts.equipment import equipment_of
from rehaul.jobs import demo_job
from rehaul.planning import Plan, Weighed
from rehaul.power import ups_minutes


@pytest.fixture(scope="module")
def weighed() -> Weighed:
    return made_weighed(demo_job())


@pytest.fixture(scope="module")
def planned(weighed: Weighed) -> Plan:
    return weighed.fresh


@pytest.mark.parametrize(("load_w", "minutes"), [(30, 20), (76, 30), (120, 45)])
def test_battery_is_the_cheapest_that_lasts(load_w: float, minutes: float) -> None:
    found = cheapest_battery(load_w, minutes)
    lasting = [
        k for k in equipment_of("battery") if ups_minutes(load_w, k.battery_v, k.battery_ah) >= minutes
    ]
    assert lasting and found.price == min(kind.price for kind in lasting)


def test_largest_battery_where_none_lasts() -> None:
    found = cheapest_battery(500, 600)
    assert found.battery_ah * found.battery_v == max(
        k.battery_ah * k.battery_v for k in equipment_of("battery")
    )


def test_ports_power_and_rack_add_up(planned: Plan) -> None:
    found = planned.network
    assert [port.port for port in found.ports] == list(range(1, len(found.ports) + 1))
    panel = [port.panel_port for port in found.ports if port.panel_port]
    assert panel == list(range(1, len(panel) + 1))
    assert found.spare_ports >= planned.job.choices.spare_ports
    assert found.poe_used_w <= found.poe_budget_w
    assert found.poe_used_w == pytest.approx(sum(port.poe_w for port in found.ports))
    assert found.draw_w == pytest.approx(found.core_draw_w + found.poe_used_w, abs=0.2)
    assert found.rack_units == sum(item.height_u for item in found.rack)
    assert found.ups_minutes_core >= found.ups_minutes_all >= planned.job.choices.ups_minutes


def test_the_battery_carries_what_is_fed_over_the_cables_too(weighed: Weighed) -> None:
    """Asked for so many minutes that a battery carries the core so long, but not what hangs on it besides."""
    job, drawn = weighed.survey.job, weighed.fresh.network
    assert drawn.draw_w > drawn.core_draw_w + 1
    kinds = {kind.name: kind for kind in equipment_of("battery")}
    largest = max(kinds.values(), key=lambda kind: kind.battery_ah * kind.battery_v)
    for kind in kinds.values():
        everything, core = (
            ups_minutes(load_w, kind.battery_v, kind.battery_ah)
            for load_w in (drawn.draw_w, drawn.core_draw_w)
        )
        asked = job.choices.model_copy(update={"ups_minutes": (everything + core) / 2})
        found = network(job.model_copy(update={"choices": asked}), weighed.chosen, weighed.fresh.graph_after)
        assert found.ups_minutes_all >= round(asked.ups_minutes) - 1 or found.ups == largest.name
        assert kind == largest or found.ups != kind.name


def test_units_of_the_rack_do_not_overlap(planned: Plan) -> None:
    filled = [unit for item in planned.network.rack for unit in range(item.unit, item.unit + item.height_u)]
    assert sorted(filled) == list(range(1, planned.network.rack_units + 1))


def test_addresses_are_private_apart_and_single(planned: Plan) -> None:
    """RFC 1918: 10/8, 172.16/12 and 192.168/16."""
    found = planned.network
    private = [ipaddress.ip_network(n) for n in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16")]
    subnets = {row.name: ipaddress.ip_network(row.subnet) for row in found.subnets}
    assert {"home", "guest", "things"} <= set(subnets)
    assert len({row.vlan for row in found.subnets}) == len(found.subnets)
    for name, subnet in subnets.items():
        assert any(subnet.subnet_of(big) for big in private)  # type: ignore[arg-type]
        assert not any(subnet.overlaps(other) for key, other in subnets.items() if key != name)
    given = [row for row in found.addresses if row.network in subnets]
    assert len({row.address for row in given}) == len(given)
    assert len({(row.name, row.network) for row in given}) == len(given)
    for row in given:
        assert ipaddress.ip_address(row.address) in subnets[row.network]
    assert {f"ap-{p.name.lower().replace(' ', '-')}" for p in planned.choice.access_points} <= {
        row.name for row in given
    }


def test_one_box_alone_translates_addresses(planned: Plan) -> None:
    outside = [row for row in planned.network.addresses if row.network == "outside"]
    assert len(outside) == 1 and "one box alone" in outside[0].note


def test_nothing_is_mounted_in_a_flush_metal_can_however_roomy(weighed: Weighed) -> None:
    """Battery, switch and panel go on a board beside it: a can is closed, and nothing airs it."""
    job = weighed.survey.job
    for enclosure, stands in (("flush metal can", "beside"), ("open wall", "in")):
        points = tuple(
            point.model_copy(update={"enclosure": enclosure, "inside_m": None})
            for point in job.house.meeting_points
        )
        house = job.house.model_copy(update={"meeting_points": points})
        found = network(job.model_copy(update={"house": house}), weighed.chosen, weighed.fresh.graph_after)
        assert found.rack and found.stands == stands
