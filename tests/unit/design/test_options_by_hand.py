"""What one option carries, and radios set afresh, on boxes made by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.design.option import Option
from rehaul.design.settings import (
    also_afresh,
    boxes_set_afresh,
    is_narrow,
    set_afresh,
    settings_options,
    wider_only,
)
from rehaul.facts.equipment import equipment
from rehaul.house import Band, Box, Job
from rehaul.wlan import ethernet_tcp_mbps

thing = SimpleNamespace
PLAIN = Option("x", "access point", "g", 10.0, 12.0)


def links(*rates: float) -> Any:
    return thing(links=tuple(thing(rate_mbps=rate) for rate in rates))


def test_an_option_carries_what_its_narrowest_link_or_its_own_port_does() -> None:
    gigabit, fast = equipment()["access point HE 2x2"], equipment()["access point HE 4x4"]
    assert PLAIN.wire_mbps == float("inf") and PLAIN.links == ()
    fed = replace(PLAIN, feed=links(2300.0, 2000.0), uplink=links(2200.0))
    assert fed.wire_mbps == 2000.0 and [link.rate_mbps for link in fed.links] == [2200.0, 2300.0, 2000.0]
    assert replace(fed, equipment=gigabit).wire_mbps == pytest.approx(ethernet_tcp_mbps(1000))
    assert replace(fed, equipment=fast).wire_mbps == 2000.0
    assert replace(PLAIN, uplink=links(90.0)).wire_mbps == 90.0


def box(name: str = "RT1", width: int | None = 20, **more: Any) -> Box:
    return Box.model_validate(
        {"id": name, "name": name.title(), "equipment": "router HE 2x2", "storey": "0", "position": (0, 0),
         "set_to": [{"band": "5", "channel": 36, "width_mhz": width}], **more}
    )  # fmt: skip


@pytest.mark.parametrize(("width", "narrow"), [(20, True), (40, True), (80, False), (None, False)])
def test_a_radio_is_narrow_below_eighty_megahertz_at_5_ghz(width: int | None, narrow: bool) -> None:
    assert is_narrow(box(width=width)) is narrow
    assert not is_narrow(box(width=width, radio=False)), "it is off"
    assert set_afresh(box(width=width)).set_to == () and not is_narrow(set_afresh(box(width=width)))


def test_boxes_that_stay_and_are_narrow_may_be_set_afresh_for_nothing() -> None:
    router, other, gone, wide = box("RT1"), box("AP2"), box("AP3", keep=False), box("AP4", 80)
    job = Job(id="j", title="Invented", boxes=(router, other, gone, wide))
    found = settings_options(job, router)
    assert [option.id for option in found] == ["settings RT1", "settings AP2"]
    assert all((option.cost, option.cost_90) == (0.0, 0.0) for option in found), "its time is paid as a work"
    assert [len(option.needs) for option in found] == [2, 1], "the router must stay for that"
    assert found[0].afresh_of in found[0].needs and found[1].afresh_of == "box AP2"
    assert [row.afresh_of for row in settings_options(job, None)] == ["box RT1", "box AP2"]
    said = boxes_set_afresh([*found, PLAIN])
    assert [row.box for row in said] == ["RT1", "AP2"]
    assert said[0].words == "Set the radio of Rt1 afresh: 5 GHz up to 80 MHz wide instead of 20"


def test_a_router_that_moves_is_offered_as_it_is_set_and_afresh() -> None:
    there: Any = thing(id="elsewhere")
    moving = replace(PLAIN, id="move", router=there, box=box(), needs=("way",))
    both = also_afresh(moving)
    assert [option.id for option in both] == ["move", "move set afresh"]
    assert both[1].afresh_of == "move" and both[1].needs[0] == "way" and len(both[1].needs) == 2
    assert also_afresh(replace(moving, box=box(width=80))) == [replace(moving, box=box(width=80))]
    assert (
        len(also_afresh(replace(moving, router=None))) == 1
        and len(also_afresh(replace(moving, box=None))) == 1
    )


def test_what_the_plan_of_channels_leaves_as_narrow_is_not_set_afresh() -> None:
    job = Job(id="j", title="Invented", boxes=(box("RT1"), box("AP2"), box("AP3", None)))
    choice: Any = thing(set_afresh=tuple(thing(box=name) for name in ("RT1", "AP2", "AP3")))

    def channel(name: str, width: int, band: str = "5") -> Any:
        return thing(access_point=name, band=Band(band), width_mhz=width)

    plan: Any = thing(
        channels=(channel("RT1", 40), channel("AP2", 20), channel("AP3", 80), channel("AP2", 20, "2.4"))
    )
    assert [row.box for row in wider_only(job, choice, plan)] == ["RT1"]
