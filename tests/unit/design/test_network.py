"""Switch, battery, ports and addresses on the demo house; the cheapest class by trying all of them."""

from __future__ import annotations

import ipaddress

import pytest

from rehaul.design.battery import cheapest_battery
from rehaul.facts.equipment import equipment_of
from rehaul.jobs import demo_job
from rehaul.plan import Plan, plan
from rehaul.power import ups_minutes


@pytest.fixture(scope="module")
def planned() -> Plan:
    return plan(demo_job())


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
    network = planned.network
    assert [port.port for port in network.ports] == list(range(1, len(network.ports) + 1))
    panel = [port.panel_port for port in network.ports if port.panel_port]
    assert panel == list(range(1, len(panel) + 1))
    assert network.spare_ports >= planned.job.choices.spare_ports
    assert network.poe_used_w <= network.poe_budget_w
    assert network.poe_used_w == pytest.approx(sum(port.poe_w for port in network.ports))
    assert network.draw_w == pytest.approx(network.core_draw_w + network.poe_used_w, abs=0.2)
    assert network.rack_units == sum(item.height_u for item in network.rack)
    assert network.ups_minutes_core >= network.ups_minutes_all >= planned.job.choices.ups_minutes


def test_units_of_the_rack_do_not_overlap(planned: Plan) -> None:
    filled = [unit for item in planned.network.rack for unit in range(item.unit, item.unit + item.height_u)]
    assert sorted(filled) == list(range(1, planned.network.rack_units + 1))


def test_addresses_are_private_apart_and_single(planned: Plan) -> None:
    """RFC 1918: 10/8, 172.16/12 and 192.168/16."""
    network = planned.network
    private = [ipaddress.ip_network(n) for n in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16")]
    subnets = {row.name: ipaddress.ip_network(row.subnet) for row in network.subnets}
    assert {"home", "guest", "things"} <= set(subnets)
    assert len({row.vlan for row in network.subnets}) == len(network.subnets)
    for name, subnet in subnets.items():
        assert any(subnet.subnet_of(big) for big in private)  # type: ignore[arg-type]
        assert not any(subnet.overlaps(other) for key, other in subnets.items() if key != name)
    given = [row for row in network.addresses if row.network in subnets]
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
