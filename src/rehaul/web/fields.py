"""What a page asks of the live map, as the floors below understand it."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import Annotated, Any, Literal

from pydantic import Field, ValidationError

from rehaul.errors import BadInput
from rehaul.facts.wlan_equipment import access_point_radios
from rehaul.house import Band, Job, Model, Storey
from rehaul.house.base import Id, Name, NotNegative, Point, Positive
from rehaul.jobs import JobState, tried
from rehaul.predict import LinkRate, Radiator, plan_link, standing_radiators
from rehaul.predict.moving import Moving, StoreyNow
from rehaul.same import Same
from rehaul.web.rasters import Raster
from rehaul.web.reading import reader_of
from rehaul.web.still import StillMaps
from rehaul.words import again, fault_words, say

MOST_BOXES = 40
MOST_SENT = 60  # storeys of which a page may hold the map


class Stand(Model):
    """A box of the page's own that would radiate."""

    id: Id
    name: Name | None = None  # a page that gives none has an access point of no name
    equipment: Name
    storey: Id
    position: Point
    height_m: NotNegative = 2.4
    wire_mbps: Positive = 1000.0


class Move(Model):
    """A box standing elsewhere for this request."""

    id: Id
    position: Point | None = None
    height_m: NotNegative | None = None
    storey: Id | None = None


class AskedSpot(Model):
    storey: Id
    position: Point


class Ask(Model):
    """One request on the field socket."""

    n: Annotated[int, Field(ge=0)]
    storey: Id | None = None
    spot: AskedSpot | None = None
    quantity: Literal[
        "down_mbps",
        "low_mbps",
        "high_mbps",
        "up_mbps",
        "up_low_mbps",
        "up_high_mbps",
        "air_mbps",
        "power_dbm",
        "power_sd_db",
    ] = "down_mbps"
    band: Band | None = None
    boxes: Literal["today", "plan"] | Annotated[tuple[Stand, ...], Field(max_length=MOST_BOXES)] = "today"
    moves: Annotated[tuple[Move, ...], Field(max_length=MOST_BOXES)] = ()
    changes: Annotated[tuple[dict[str, Any], ...], Field(max_length=50)] = ()
    step_m: Annotated[float, Field(gt=0)] = 0.25
    held: Annotated[int, Field(ge=0)] | None = None  # the request whose map of this storey the page shows


def ask_from(data: dict[str, Any]) -> Ask:
    """A request from plain data. Raises BadInput naming the field."""
    try:
        ask = Ask.model_validate(data)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        where = ".".join(str(part) for part in first["loc"]) or "request"
        raise BadInput(fault_words(first), where=where, remedy=say("refused_common.mend_field")) from None
    if (ask.storey is None) == (ask.spot is None):
        raise BadInput(
            say("refused_web.storey_spot_wanted"), where="storey", remedy=say("refused_web.give_one_two")
        )
    return ask


class Sketch:
    """The answers to one page's requests; it remembers what it computed for the one before.

    `planned`: every box that radiates once the plan is done; None where there is no plan.
    `still`: the maps of the job that no hand moves, for all its pages.
    """

    def __init__(self, still: StillMaps | None = None) -> None:
        self._moving = Moving()
        self._still = still or StillMaps()
        self._sent: dict[str, tuple[int, Raster]] = {}  # by storey

    def answer(
        self, ask: Ask, state: JobState, planned: tuple[Radiator, ...] | None
    ) -> bytes | dict[str, Any]:
        """A framed raster, or as JSON data a spot, or that a map is as the page holds it. Raises BadInput."""
        started_s = time.perf_counter()
        if ask.spot:
            job, radiators = _tried(ask, state, planned)
            spot = self._moving.spot(job, radiators, ask.spot.storey, ask.spot.position, state.job)
            return {"n": ask.n, "spot": again(spot, reader_of(job)).model_dump(mode="json")}
        assert ask.storey is not None
        raster = self._raster(ask, state, planned)
        n, shown = self._sent.get(ask.storey, (None, None))
        self._sent[ask.storey] = ask.n, raster
        if len(self._sent) > MOST_SENT:
            del self._sent[next(iter(self._sent))]
        took_ms = round((time.perf_counter() - started_s) * 1000, 2)
        said = {"n": ask.n, "revision": state.revision, "took_ms": took_ms}
        if shown is not None and n == ask.held and raster.shows_as(shown):
            return {**said, "as_held": True}
        return raster.framed(**said)

    def _raster(self, ask: Ask, state: JobState, planned: tuple[Radiator, ...] | None) -> Raster:
        def make(moving: Moving) -> Raster:
            job, radiators = _tried(ask, state, planned)
            frame = moving.frame(job, radiators, str(ask.storey), ask.step_m, state.job)
            grid = frame.grid
            place = grid.x0_m, grid.y0_m, grid.step_m, grid.z_m[0]
            rooms = frame.by_room(up=ask.quantity.startswith("up"))
            return Raster(str(ask.storey), ask.quantity, ask.band, *place, _values(ask, frame), rooms)

        if ask.changes or ask.moves or not isinstance(ask.boxes, str):
            return make(self._moving)
        boxes = planned if ask.boxes == "plan" else ask.boxes
        shows = ask.storey, ask.quantity, ask.band, ask.step_m, boxes, Same(state.job)
        return self._still.get(shows, make)


def _tried(
    ask: Ask, state: JobState, planned: tuple[Radiator, ...] | None
) -> tuple[Job, tuple[Radiator, ...]]:
    """The job and the boxes as somebody tries them."""
    job = tried(state, list(ask.changes))
    return job, tuple(_moved(job, radiator, ask.moves) for radiator in _radiators(ask, job, planned))


def _values(ask: Ask, frame: StoreyNow) -> Any:
    if ask.quantity == "power_dbm":
        return frame.power_dbm(ask.band)
    if ask.quantity == "power_sd_db":
        return frame.power_sd_db(ask.band)
    if ask.quantity == "air_mbps":
        return frame.air_mbps()
    end = "low" if "low" in ask.quantity else "high" if "high" in ask.quantity else "median"
    return frame.rate_mbps(end, up=ask.quantity.startswith("up"))


def _radiators(ask: Ask, job: Job, planned: tuple[Radiator, ...] | None) -> tuple[Radiator, ...]:
    if ask.boxes == "today":
        return standing_radiators(job)
    if ask.boxes == "plan":
        if planned is None:
            raise BadInput(
                say("refused_web.no_plan_yet"), where="boxes", remedy=say("refused_web.make_plan_first")
            )
        return planned
    return tuple(_standing(job, stand) for stand in ask.boxes)


def _standing(job: Job, stand: Stand) -> Radiator:
    if all(name != stand.equipment for name, _ in access_point_radios()):
        raise BadInput(
            say("refused_web.does_not_radiate", equipment=stand.equipment),
            where="boxes",
            remedy=say("refused_web.name_class_access_point"),
        )
    name = stand.name or say("web.access_point")
    return Radiator(
        id=stand.id,
        name=name,
        equipment=stand.equipment,
        position_m=(*stand.position, _storey(job, stand.storey).elevation_m + stand.height_m),
        mounting="ceiling" if stand.height_m >= _storey(job, stand.storey).height_m - 0.3 else "desk",
        wire=(plan_link(job), LinkRate(name=say("web.cable_to", name=name), rate_mbps=stand.wire_mbps)),
    )


def _moved(job: Job, radiator: Radiator, moves: tuple[Move, ...]) -> Radiator:
    move = next((move for move in moves if move.id == radiator.id), None)
    if move is None:
        return radiator
    x, y, z = radiator.position_m
    if move.position is not None:
        x, y = move.position
    if move.storey is not None or move.height_m is not None:
        under = [row for row in job.house.storeys if row.elevation_m <= z]
        storey = _storey(job, move.storey) if move.storey else max(under, key=lambda row: row.elevation_m)
        z = storey.elevation_m + (1.0 if move.height_m is None else move.height_m)
    return replace(radiator, position_m=(x, y, z))


def _storey(job: Job, storey: str) -> Storey:
    found = next((row for row in job.house.storeys if row.id == storey), None)
    if found is None:
        raise BadInput(
            say("refused_web.no_storey", storey=storey),
            where="storey",
            remedy=say("refused_common.name_one_that_stands"),
        )
    return found
