"""An old device given a new radio: what that costs, and which places the boxes that stand then serve."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from rehaul.arrays import Bools
from rehaul.design.option import Option
from rehaul.design.results import SwappedDevice
from rehaul.design.routerplaces import HERE
from rehaul.design.works import Work, Works
from rehaul.facts.wlan_equipment import device_swaps
from rehaul.facts.work import prices
from rehaul.house import Box, Job, Need
from rehaul.predict import SERVED_SHARE, Asked, asked
from rehaul.words import say, term


def device_options(job: Job, works: Works, router: Box | None) -> list[Option]:
    """A new radio for the device of each room whose device is old and takes one at its plug.

    The household plugs it in itself, so it takes no visit. It counts with the boxes that stand and stay,
    the router where it is; what it would gain from new boxes besides is left out. **Source**:
    docs/choosing.md, "An old device instead of a box".
    """
    if not job.choices.swap_devices:
        return []
    asking = Counter(need.room for need in job.needs)
    rooms = {room.id: room.name for room in job.house.rooms}
    here = (f"router {HERE}",) if router is not None and router.keep else ()
    found = []
    for need, rates in zip(job.needs, asked(job), strict=True):
        swap = device_swaps().get(need.client or "")
        if swap is None or not rates.rated or asking[need.room] > 1:
            continue
        name = works.add(
            Work(
                id=f"device {need.room}",
                words=say(
                    "design_work.new_radio", part=_part(swap.item), old=swap.old, room=rooms[need.room]
                ),
                parts=((swap.item, 1),),
                about=(need.room,),
            )
        )
        found.append(
            Option(
                id=name,
                what="device",
                group=name,
                cost=0.0,
                cost_90=0.0,
                needs=(name, *here),
                room=need.room,
                swap=swap,
            )
        )
    return found


def _part(item: str) -> str:
    """The short name of a part: what stands before the first `for` or comma."""
    return term(prices()[item].name.split(" for ")[0].split(",")[0].lower())


def stands(option: Option) -> bool:
    """Whether an option is a box as it stands today: what doing nothing is made of.

    Boxes, and the router at the place `here`; not what is set afresh, and nothing that is bought.
    """
    here = option.router is not None and option.router.id == HERE
    return option.what == "box" or (option.what == "router" and here)


def stays(option: Option) -> bool:
    """Whether an option is a box that stands today and stays where it is, whatever else is done.

    A box that goes with the old network stands and does not stay.
    """
    return stands(option) and option.box is not None and option.box.keep


def swapped_need(option: Option, needs: Sequence[Asked]) -> tuple[int, Asked]:
    """The need that a new radio is for, and the same asked with that radio.

    Parameters: `option`, one with a `swap`; `needs` in the order of the requirements.

    Returns the place in `needs`. Raises StopIteration where no need is of its room. **Source**: fact table
    of device swaps.
    """
    assert option.swap is not None
    index = next(i for i, need in enumerate(needs) if need.room == option.room)
    return index, replace(needs[index], client=option.swap.becomes)


def helps(today: Bools, then: Bools) -> bool:
    """Whether a room is short today only for its device: with the new radio the same boxes serve it.

    Parameters: `today` and `then` (places,) of one room: whether each is served. Enough is `SERVED_SHARE` of
    them. **Source**: docs/choosing.md, "An old device instead of a box".

    >>> import numpy as np
    >>> helps(np.zeros(10, dtype=bool), np.ones(10, dtype=bool))
    True
    """
    return bool(today.mean() < SERVED_SHARE - 1e-9 <= then.mean())


def swapped_devices(
    works: Works, options: Sequence[Option], names: dict[str, str]
) -> tuple[SwappedDevice, ...]:
    """The chosen new radios. `names`: of rooms, by id.

    In the order of the options; empty where none gets a new radio. The cost is that of the part, in the
    job's currency.
    """
    return tuple(
        SwappedDevice(
            id=option.id,
            room=option.room,
            name=names[option.room],
            was=option.swap.old,
            becomes=option.swap.becomes,
            item=option.swap.item,
            way=option.id,
            words=works.known[option.id].words,
            cost=works.cost(option.id).middle,
        )
        for option in options
        if option.swap is not None
    )


def with_new_radios(job: Job, devices: Sequence[SwappedDevice]) -> Job:
    """The job as it asks once the old devices have their new radios.

    A need for a device that is swapped in its room names the new class; all others stay. **Source**:
    docs/choosing.md.
    """
    if not devices:
        return job
    now = {(device.room, device.was): device.becomes for device in devices}
    return job.model_copy(update={"needs": tuple(_asked_with(need, now) for need in job.needs)})


def _asked_with(need: Need, now: dict[tuple[str, str], str]) -> Need:
    client = now.get((need.room, need.client or ""))
    return need if client is None else need.model_copy(update={"client": client})
