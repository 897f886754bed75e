"""What the straight way from a box to a room passes, piece by piece: which wall or floor it is that costs."""

from __future__ import annotations

import math

import numpy as np

from rehaul.facts.spectrum import BandGhz
from rehaul.house import Job, Model, Room
from rehaul.house.geometry import room_centre, storey_of
from rehaul.predict import HouseScene, Radiator, scene_of
from rehaul.predict.spectra import spectrum_of
from rehaul.proof.cases import HELD_M, best_air
from rehaul.radio import Crossing, Scene, Transmitter, crossings, field
from rehaul.words import Saying, say
from rehaul.words.fields import Words

NOTHING = Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), ())
SEEN_DB = 0.5  # what costs less is not worth a word


class Passed(Model):
    """One thing on the way, in the order in which it is met."""

    what: Words  # "wall W002", "floor of First floor"
    id: str  # of the wall, the opening, the body; of the storey for a floor
    made_of: str  # construction
    distance_m: float  # from the box
    loss_db: float
    sd_db: float  # how far that may lie off


class RadioWay(Model):
    """The straight way from the box that serves a room best to the middle of the room."""

    box: str
    band: str
    length_m: float
    passes: tuple[Passed, ...]
    together_db: float  # what they cost together: less than their sum, as waves also find other ways

    @property
    def sentence(self) -> Saying:
        """For people."""
        start = say("proof.way_start", box=self.box, length_m=self.length_m, band_ghz=float(self.band))
        if not self.passes:
            return say("proof.way_clear", start=start)
        through = tuple(
            say("proof.passed", what=one.what, made_of=one.made_of, loss_db=one.loss_db)
            for one in self.passes
        )
        return say("proof.way_through", start=start, passes=through, together_db=self.together_db)


def way_to(job: Job, room: Room, stage: str = "before", scene: HouseScene | None = None) -> RadioWay:
    """What stands between a room and the box that serves it best as the house stands.

    Raises BadInput where no box stands that could serve the room.
    **Validity**: the straight way alone; what comes round corners is in the prediction besides.
    **Source**: as `crossings`.
    """
    scene = scene or scene_of(job.house, job.country)
    best = best_air(job, scene, room, stage)
    place = (*room_centre(room), storey_of(job.house, room.storey).elevation_m + HELD_M)
    return _way(job, scene, best.radiator, best.band, place)


def _way(
    job: Job, scene: HouseScene, box: Radiator, band: BandGhz, place: tuple[float, float, float]
) -> RadioWay:
    found = crossings(scene.scene, box.position_m, place, [spectrum_of(band)])
    passed = [_passed(job, scene, one) for one in found]
    sends, bands = Transmitter(box.position_m), [spectrum_of(band)]
    house, open_air = (field(of, sends, [place], bands).gain_db[0, 0] for of in (scene.scene, NOTHING))
    return RadioWay(
        box=box.name,
        band=band,
        length_m=round(math.dist(box.position_m, place), 1),
        passes=tuple(one for one in passed if one.loss_db >= SEEN_DB),
        together_db=round(float(open_air - house), 1),
    )


def _passed(job: Job, scene: HouseScene, one: Crossing) -> Passed:
    owners = {"panel": scene.panel_owner, "plate": scene.plate_owner, "body": scene.body_owner}
    owner = owners[one.piece][one.index]
    return Passed(
        what=_words(job, one, owner),
        id=owner,
        made_of=one.kind,
        distance_m=round(one.distance_m, 1),
        loss_db=round(float(one.loss_db[0]), 1),
        sd_db=round(one.sd_db, 1),
    )


def _words(job: Job, one: Crossing, owner: str) -> Saying:
    if one.piece == "plate":
        name = next((storey.name for storey in job.house.storeys if storey.id == owner), owner)
        return say("proof.floor_of", storey=name)
    if one.piece == "body":
        return say("proof.body", id=owner)
    opening = next((row for row in job.house.openings if row.id == owner), None)
    if opening is not None:
        return say("proof.opening", kind=opening.kind.value, id=owner)
    return say("proof.wall", id=owner)
