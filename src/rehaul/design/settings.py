"""Radios that stand and are set narrower than they could be: what setting them afresh takes, and gives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rehaul.design.option import Option
from rehaul.design.results import ChannelPlan, Choice, SetBox
from rehaul.design.routerplaces import HERE
from rehaul.facts.spectrum import BandGhz
from rehaul.facts.wlan_equipment import access_point_radios
from rehaul.house import Box, Job
from rehaul.predict.radiators import radiates
from rehaul.words import say

COMMISSION = "commission"  # id of the work by which names, channels and widths are set
# Widths that a plan of channels sets.
WIDTHS_MHZ: dict[BandGhz, tuple[int, ...]] = {"2.4": (20,), "5": (20, 40, 80), "6": (20, 40, 80, 160)}


def set_afresh(box: Box) -> Box:
    """The box as it will be set: what it was set to is no matter."""
    return box.model_copy(update={"set_to": ()})


def is_narrow(box: Box) -> bool:
    """Whether a radio of the box is set narrower than it could be.

    **Validity**: a band whose width was not read, or of a class that no table lists, counts as wide.
    **Source**: widths of the fact table of access points' radios, no wider than `WIDTHS_MHZ`.
    """
    return bool(radiates(box) and _narrow_bands(box))


def _narrow_bands(box: Box) -> list[tuple[str, int, int]]:
    """Bands set too narrow: band, width as set, width that the plan of channels may give it."""
    found: list[tuple[str, int, int]] = []
    for row in box.set_to:
        radio = access_point_radios().get((box.equipment, row.band.value))
        if radio is not None and row.width_mhz is not None:
            could_mhz = min(radio.max_width_mhz, max(WIDTHS_MHZ[row.band.value]))
            if row.width_mhz < could_mhz:
                found.append((row.band.value, row.width_mhz, could_mhz))
    return found


def settings_options(job: Job, router: Box | None) -> list[Option]:
    """Every box that stands and stays, set afresh where it is.

    Each costs what commissioning costs, which an access point pays anyway; a router only where it stays in
    its place. **Source**: docs/choosing.md.
    """
    found = []
    for box in job.boxes:
        if box.keep and is_narrow(box):
            is_router = router is not None and box.id == router.id
            stands = f"router {HERE}" if is_router else f"box {box.id}"
            name = f"settings {box.id}"
            found.append(
                Option(
                    id=name,
                    what="settings",
                    group=name,
                    cost=0.0,
                    cost_90=0.0,
                    needs=(COMMISSION, *((stands,) if is_router else ())),
                    box=box,
                    afresh_of=stands,
                )
            )
    return found


def also_afresh(option: Option) -> list[Option]:
    """The router at another place as it is set, and where that is narrow also set afresh there.

    Returns the option itself, and after it the one set afresh where there is one. **Source**:
    docs/choosing.md, "A radio that stands, set afresh".
    """
    if not option.moves or option.box is None or not is_narrow(option.box):
        return [option]
    needs = (*option.needs, COMMISSION)
    return [option, replace(option, id=f"{option.id} set afresh", needs=needs, afresh_of=option.id)]


def boxes_set_afresh(options: Sequence[Option]) -> tuple[SetBox, ...]:
    """Boxes that stand and whose radio a choice has set afresh, with what is said of it.

    In the order of the options; the sentence names band, width as it may be and as it is [MHz].
    """
    boxes = [option.box for option in options if option.box is not None and option.afresh_of]
    return tuple(SetBox(box=box.id, name=box.name, words=_words(box)) for box in boxes)


def wider_only(job: Job, choice: Choice, plan: ChannelPlan) -> tuple[SetBox, ...]:
    """Boxes set afresh, without those that the plan of channels leaves as narrow: new boxes took the air.

    Parameters: `plan`, channels of all boxes that will radiate. A band without a width on record is no gain.
    """
    set_to = {(box.id, row.band): row.width_mhz for box in job.boxes for row in box.set_to}
    wider = {
        row.access_point
        for row in plan.channels
        if row.width_mhz > (set_to.get((row.access_point, row.band)) or row.width_mhz)
    }
    return tuple(row for row in choice.set_afresh if row.box in wider)


def _words(box: Box) -> str:
    wider = tuple(
        say("design_work.wider", band_ghz=float(band), could_mhz=could, was_mhz=was)
        for band, was, could in _narrow_bands(box)
    )
    return say("design_work.set_afresh", box=box.name, wider=wider)
