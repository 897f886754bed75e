"""Which places each option serves: the field of a box once, then the wires and hops that may feed it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Bools, Reals
from rehaul.design.channels import channel_plan, with_widths
from rehaul.design.devices import helps, stays, swapped_need
from rehaul.design.option import Option
from rehaul.design.options import Offering
from rehaul.design.sampled import places_of, room_index
from rehaul.design.settings import set_afresh
from rehaul.facts.equipment import Equipment
from rehaul.facts.link_media import link_media
from rehaul.house import Job
from rehaul.house.geometry import storey_of
from rehaul.network.model import Link
from rehaul.predict import (
    SERVED_SHARE,
    Air,
    Asked,
    Calibration,
    HouseScene,
    LinkRate,
    Listener,
    Radiator,
    Receivers,
    plan_link,
    serves,
    wire_mbps,
)
from rehaul.predict.hops import hop_rates_mbps
from rehaul.predict.kept import KeptHouse
from rehaul.predict.needs import serves_each
from rehaul.predict.paths import Paths
from rehaul.predict.radiators import box_radiator, radiates
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say, term

STEP_MBPS = 5.0


@dataclass(frozen=True, eq=False)
class Served:
    """What every option serves."""

    radiators: tuple[Radiator | None, ...]  # one per option; None: it does not radiate, or no hop reaches it
    serves: Bools  # (options, places)
    starts: NDArray[np.int64]  # (needs + 1,) first place of each need
    airs: _Airs  # of each box at the places of each need

    def most_mbps(self, index: int) -> float:
        """The most that any box by itself surely gives where a need is: its rate down, as surely as asked,
        on as much of the room as counts. In steps of 5 Mb/s; 0 where that is not even one step.
        """
        boxes = [radiator for radiator in self.radiators if radiator is not None]
        return self.airs.most_mbps(boxes, index)


def served_by(
    job: Job,
    offering: Offering,
    scene: HouseScene,
    receivers: Receivers,
    needs: Sequence[Asked],
    calibration: Calibration | None,
    kept: KeptHouse | None = None,
) -> Served:
    """Whether each option alone meets each need at each of its places, both ways and as surely as asked.

    Parameters: `needs`, those that ask the air for anything; `calibration`, what readings say or None.

    Returns rows in the order of the options. An option that does not radiate, or that no hop reaches, serves
    nothing.

    **Validity**: at the widths that boxes use alone; only a box set afresh has those of a plan of channels.
    **Source**: docs/choosing.md.
    """
    kept = kept or KeptHouse()  # one box may be fed in many ways
    places = [places_of(job, receivers, need.room) for need in needs]
    starts = np.cumsum([0, *(len(points) for points in places)])
    # one offering is of jobs that differ in nothing that these depend on
    boxes = kept.step("boxes", (offering, scene), lambda: _boxes_of(job, scene, offering))
    airs = _Airs(job, scene, receivers, calibration, needs, kept)
    table = airs.table(boxes)
    standing = [
        row
        for row, (option, radiator) in enumerate(zip(offering.options, boxes.radiators, strict=True))
        if radiator is not None and stays(option)
    ]
    as_they_stand = _told_apart([boxes.radiators[row] for row in standing])
    for row, option in enumerate(offering.options):
        if option.swap is not None:
            i, need = swapped_need(option, needs)
            here = slice(starts[i], starts[i + 1])
            new = _Airs(job, scene, receivers, calibration, [need], kept)
            then = np.any(new.table(as_they_stand), axis=0)
            if helps(np.any(table[standing, here], axis=0), then):
                table[row, here] = then
    return Served(boxes.radiators, table, starts, airs)


@dataclass(frozen=True, eq=False)
class _Boxes:
    """The boxes of options, told apart from the wires that feed them."""

    radiators: tuple[Radiator | None, ...]  # one per option
    alone: tuple[Radiator, ...]  # each once, under no name and on no wires
    which: NDArray[np.intp]  # (option,) number among these; -1: none
    wires_mbps: Reals  # (option, 2) what their wires carry down and up


def _boxes_of(job: Job, scene: HouseScene, offering: Offering) -> _Boxes:
    """The box of each option, with the links that feed it and what its hop carries."""
    hung = _Hung(job)
    boxes = _with_hops(job, scene, offering, [hung.radiator_of(option) for option in offering.options])
    return _told_apart(_as_planned(job, scene, offering, boxes))


def _told_apart(radiators: Sequence[Radiator | None]) -> _Boxes:
    alone = [radiator and replace(radiator, name="", wire=()) for radiator in radiators]
    number = {box: n for n, box in enumerate(dict.fromkeys(box for box in alone if box))}
    wires = [(wire_mbps(box), wire_mbps(box, up=True)) if box else (0.0, 0.0) for box in radiators]
    which = np.array([number[box] if box else -1 for box in alone], dtype=np.intp)
    return _Boxes(tuple(radiators), tuple(number), which, np.array(wires).reshape(-1, 2))


class _Airs:
    """Fields and their verdicts, each worked out once however many ways feed the same box."""

    def __init__(
        self,
        job: Job,
        scene: HouseScene,
        receivers: Receivers,
        calibration: Calibration | None,
        needs: Sequence[Asked],
        kept: KeptHouse,
    ) -> None:
        self._job, self._scene, self._calibration = job, scene, calibration
        self._needs, self._kept = needs, kept
        spans = [receivers.span(room_index(job, need.room)) for need in needs]
        self._at = [np.arange(span.start, span.stop) for span in spans]  # places of each need
        self._of_client = {
            client: tuple(i for i, need in enumerate(needs) if need.client == client)
            for client in dict.fromkeys(need.client for need in needs)
        }
        self._places = receivers.in_rooms
        self._paths = Paths(scene, self._places)

    def table(self, boxes: _Boxes) -> Bools:
        """Whether each box with its wires serves the places of all needs, one need after the other.

        Returns (option, place); nothing where there is no box.
        """
        found = np.zeros((len(boxes.radiators), sum(map(len, self._at))), dtype=np.bool_)
        met, there = self._tables(boxes.alone), np.flatnonzero(boxes.which >= 0)
        ends = np.cumsum([0, *map(len, self._at)]).tolist()
        for need, (start, end) in zip(self._needs, pairwise(ends), strict=True):
            carried = (boxes.wires_mbps[there] >= (need.down_mbps, need.up_mbps)).all(axis=1)
            rows = there[carried]
            found[rows, start:end] = met[need][boxes.which[rows]]
        return found

    def _tables(self, boxes: tuple[Radiator, ...]) -> dict[Asked, Bools]:
        """Whether boxes serve the places of each need, were their wires as wide as any: (box, place)."""
        found: dict[Asked, Bools] = {}
        for client, rows in self._of_client.items():
            known = self._kept.tables(self._job, self._scene, boxes, self._places, client, self._calibration)
            fresh = [i for i in rows if self._needs[i] not in known]
            if fresh:
                known.update(self._looked_up(boxes, client, fresh))
            found.update((self._needs[i], known[self._needs[i]]) for i in rows)
        return found

    def _looked_up(self, boxes: tuple[Radiator, ...], client: str, rows: Sequence[int]) -> dict[Asked, Bools]:
        """The same of some needs of one kind of device, as far as boxes were not asked before."""
        known = [
            self._kept.verdicts(self._job, self._scene, box, self._places, client, self._calibration)
            for box in boxes
        ]
        missing: dict[tuple[int, ...], list[int]] = {}
        for number, met in enumerate(known):
            fresh = tuple(i for i in rows if self._needs[i] not in met)
            if fresh:
                missing.setdefault(fresh, []).append(number)
        for some, numbers in missing.items():
            for number, verdicts in zip(
                numbers, self._judged([boxes[n] for n in numbers], client, some), strict=True
            ):
                known[number].update(verdicts)
        places = {self._needs[i]: len(self._at[i]) for i in rows}
        return {
            need: np.array([met[need] for met in known], dtype=np.bool_).reshape(len(boxes), count)
            for need, count in places.items()
        }

    def _judged(
        self, boxes: Sequence[Radiator], client: str, rows: Sequence[int]
    ) -> Iterator[dict[Asked, Bools]]:
        """What each box serves of some needs of one kind of device, worked out together."""
        at = np.concatenate([self._at[i] for i in rows])
        ends = np.cumsum([len(self._at[i]) for i in rows])
        each = np.repeat(np.arange(len(rows)), np.diff(ends, prepend=0))
        needs = [self._needs[i] for i in rows]
        airs = [[air.at(at) for air in some] for some in self._airs(boxes, client)]
        for met in serves_each(airs, needs, each):
            yield dict(zip(needs, np.split(met.copy(), ends[:-1]), strict=True))

    def most_mbps(self, radiators: Sequence[Radiator], index: int) -> float:
        """See `Served.most_mbps`."""
        steps = int(self._needs[index].down_mbps / STEP_MBPS)
        low, high = 0, steps  # what is asked itself is not reached, or nobody would ask
        while low < high:
            middle = (low + high + 1) // 2
            asked = replace(self._needs[index], down_mbps=middle * STEP_MBPS)
            if any(self._reaches(airs, index, asked) for airs in self._airs(radiators, asked.client)):
                low = middle
            else:
                high = middle - 1
        return low * STEP_MBPS

    def _reaches(self, airs: Sequence[Air], index: int, asked: Asked) -> bool:
        here = [air.at(self._at[index]) for air in airs]
        return bool(here) and float(serves(here, asked).mean()) >= SERVED_SHARE

    def _airs(self, radiators: Sequence[Radiator], client: str) -> list[tuple[Air, ...]]:
        """The airs of boxes in all rooms, for one kind of device."""
        return self._kept.airs(
            *(self._job, self._scene, radiators, self._places, Listener(client)),
            *(self._calibration, self._paths),
        )


class _Hung:
    """Boxes with the links that feed them; what several of them hang on is put into words once."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._paid = plan_link(job)
        self._rates: dict[int, tuple[Link, LinkRate]] = {}  # by which link it is, which stays alive here
        self._ports: dict[str, LinkRate] = {}  # by class of equipment

    def radiator_of(self, option: Option) -> Radiator | None:
        """The box of an option as one that radiates; None where it does not."""
        if option.what == "access point":
            assert option.place is not None and option.equipment is not None
            place, kind = option.place, option.equipment
            z_m = storey_of(self._job.house, place.storey).elevation_m + place.height_m
            mounting = "desk" if place.mounting == "shelf" else place.mounting
            wire = (self._rate(link) for link in option.links if link.medium != "wireless hop")
            chain = (self._paid, *wire, self._port(kind))
            return Radiator(kind.name, place.name, kind.name, (*place.position, z_m), mounting, chain)
        box = option.box
        if box is None or not radiates(box):
            return None
        if option.router is not None:
            spot = option.router
            box = box.model_copy(
                update={"storey": spot.storey, "position": spot.position, "height_m": spot.height_m}
            )
        return box_radiator(self._job, set_afresh(box) if option.afresh_of else box)

    def _rate(self, link: Link) -> LinkRate:
        known = self._rates.get(id(link))
        if known is None:
            known = self._rates[id(link)] = link, rate_of(link)
        return known[1]

    def _port(self, kind: Equipment) -> LinkRate:
        if kind.name not in self._ports:
            name = say("design_work.port_name", box=kind.name)
            rate_mbps = round(ethernet_tcp_mbps(kind.port_mbps), 1)
            self._ports[kind.name] = LinkRate(name=name, rate_mbps=rate_mbps)
        return self._ports[kind.name]


def wired_as(job: Job, option: Option, radiator: Radiator) -> Radiator:
    """The box of an option with the links that it hangs on now.

    Parameters: `radiator`, the option's own as `served_by` has it. Its place, widths and hop stay.
    """
    now = _Hung(job).radiator_of(option)
    return radiator if now is None else replace(radiator, wire=now.wire)


def rate_of(link: Link) -> LinkRate:
    """A link of the graph as one of the chain to a spot.

    Payload [Mb/s] down and up. **Validity**: the middle rate of the link, not its low one. **Source**:
    docs/wlan.md, "The chain".
    """
    return LinkRate(name=words_of(link), rate_mbps=link.rate_mbps, up_mbps=link.up_mbps)


def words_of(link: Link) -> str:
    """A link's name in the chain to a spot.

    Names an old cable by its id, and air or coax as the fact table of media does.
    """
    if link.id == "uplink" and link.medium == "cord":
        return say("design_work.router_port_name")
    words = link_media()[link.medium].words
    if words:
        return say("design_work.medium_of_run", medium=words, run=link.run) if link.run else term(words)
    old = link.age == "old"
    return say("design_work.run_name", run=link.id) if old else say("design_work.new_run_name")


def _as_planned(
    job: Job, scene: HouseScene, offering: Offering, radiators: list[Radiator | None]
) -> list[Radiator | None]:
    """The same boxes, those set afresh at the widths that a plan of channels gives the boxes that stay."""
    if not any(option.afresh_of for option in offering.options):
        return radiators
    stays = [box_radiator(job, set_afresh(box)) for box in job.boxes if box.keep and radiates(box)]
    names = {box.id for box in stays}
    planned = {box.id: box for box in with_widths(stays, channel_plan(job, stays, scene), boxes=names)}
    return [
        replace(box, widths_mhz=planned[box.id].widths_mhz) if box and option.afresh_of else box
        for option, box in zip(offering.options, radiators, strict=True)
    ]


def _with_hops(
    job: Job, scene: HouseScene, offering: Offering, radiators: list[Radiator | None]
) -> list[Radiator | None]:
    """The same boxes, those that hang by radio with what their hop carries."""
    hanging = [
        (row, radiators[row])
        for row, option in enumerate(offering.options)
        if option.links and option.links[0].medium == "wireless hop"
    ]
    boxes = [(row, box) for row, box in hanging if box is not None]
    router = offering.router
    if not boxes or router is None or not radiates(router):
        return [None if row in dict(hanging) else box for row, box in enumerate(radiators)]
    rates = hop_rates_mbps(job, scene, box_radiator(job, set_afresh(router)), [box for _, box in boxes])
    found = list(radiators)
    for (row, box), rate in zip(boxes, rates, strict=True):
        found[row] = replace(box, hop_mbps=rate) if rate > 0 else None
    return found
