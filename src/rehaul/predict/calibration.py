"""The model meets the house: readings correct the losses of its constructions, for every map at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike

from rehaul.arrays import Floats
from rehaul.house import Job, Learnt, Quantity
from rehaul.predict.air import Air, Listener, airs_of_each
from rehaul.predict.censored import stand_ins
from rehaul.predict.correction import Correction, correct, corrected_field
from rehaul.predict.doubts import Basis, Doubts, Sender, Ways, doubts_of
from rehaul.predict.observations import Observation, heard, observation
from rehaul.predict.paths import Paths, SpotXyz
from rehaul.predict.radiators import Radiator
from rehaul.predict.residual import MOST_READINGS, Residual, ResidualView, joint_variance, residual_of
from rehaul.predict.scene import HouseScene
from rehaul.predict.shares import HeldRate, delivered_of, rate_observation, with_held
from rehaul.radio import Cells, Grid
from rehaul.wlan import ShareSpread


@dataclass(frozen=True, eq=False)
class Calibration:
    """What the readings of one house say, and which of them do not fit the rest."""

    doubts: Doubts
    correction: Correction
    residual: Residual | None  # None: what is left over is not carried to neighbouring places
    readings: tuple[str, ...]  # ids used, in the order of the correction's weights
    left_out: tuple[tuple[str, str], ...]  # ids not used, and why
    held: tuple[str, ...] = ()  # ids of rates that the wires held back: they bound the delivered share

    @property
    def used(self) -> tuple[str, ...]:
        """Every reading that the maps take in."""
        return (*self.readings, *self.held)

    @property
    def says(self) -> bool:
        """Whether readings or earlier houses say anything."""
        return bool(self.used) or bool(self.doubts.learnt)

    @property
    def suspects(self) -> tuple[str, ...]:
        """Readings that do not fit the rest: a wrong room, a sleeping device, somebody in the way."""
        return tuple(np.array(self.readings, dtype=object)[self.correction.suspect].tolist())

    def view(self, basis: Basis) -> ResidualView:
        """What to add to the loss at every place, and the standard deviation there.

        `basis` as `doubts.basis` makes it. **Validity** and **Source**: docs/calibration.md.
        """
        if self.residual is not None:
            return self.residual.view(basis)
        shift, sd = corrected_field(self.correction, basis.design, basis.own_variance)
        sd = np.sqrt(sd**2 + np.float32(basis.level_variance))
        return ResidualView(basis, shift, sd, np.empty((0, len(shift)), dtype=np.float32))

    def covariance(self, one: ResidualView, other: ResidualView) -> Floats:
        """Covariance of the losses at two sets of places after the readings (k, m) [dB²].

        Without a residual it holds what places share through the doubts; a place's own variance is not in it.
        **Source**: docs/calibration.md, "The update".
        """
        if self.residual is not None:
            return self.residual.covariance(one, other)
        shared = one.basis.design.T @ (self.correction.covariance.astype(np.float32) @ other.basis.design)
        return shared + np.float32(one.basis.level_shared(other.basis))

    def apply(self, air: Air, ways: Ways) -> Air:
        """The same air, corrected by the readings and by earlier houses.

        `ways` lead from its box to its places. Power and spread move where powers were read, the delivered
        share where rates were. Without either the air comes back with its usual share. **Validity** and
        **Source**: docs/calibration.md.
        """
        share = delivered_of(self.doubts, self.correction, air)
        if not self.moves:
            return replace(air, delivered=share)
        view = self.view(self.doubts.basis(ways, Sender(air.radiator.id, air.band), air.client))
        return _moved(air, share, view.shift_db, view.sd_db)

    @property
    def moves(self) -> bool:
        """Whether readings or earlier houses say anything of the power, not of what is delivered alone."""
        return bool(self.readings) or bool(self.doubts.learnt)

    def strange(self, sender: Sender) -> bool:
        """Whether nothing is known of a sender itself: then it is like any other such at its spot."""
        read = any(sender.box == known.box for known in self.doubts.sources)
        return not read and sender.band not in self.doubts.levels and sender.box not in self.doubts.rate_boxes


def calibrate(
    scene: HouseScene,
    observations: Sequence[Observation],
    left_out: Sequence[tuple[str, str]] = (),
    *,
    spatial: bool = True,
    learnt: Learnt | None = None,
    held: Sequence[HeldRate] = (),
) -> Calibration:
    """Update the losses of the scene's constructions by what was observed.

    Parameters: `spatial`, whether what is left over at a reading is carried to its neighbourhood;
    `learnt`, what earlier houses say, from which the doubts of this one start; `held`, rates that say only
    that the share is at least so much.
    **Validity**: any number of observations; the losses of constructions that no path crosses stay as
    they were; beyond some hundred readings nothing is carried to neighbourhoods. **Source**: `correct`
    and `residual_of`; prior spreads of the fact tables.
    """
    sources = [seen.source for seen in observations]
    doubts = doubts_for(scene, observations, learnt, held)
    prior = doubts.prior_variance()
    rows, mean = rows_of(doubts, observations), doubts.prior_mean()
    read_db = np.array([-seen.difference_db for seen in observations])  # more power is less loss
    loss_db = read_db - mean @ rows.design.astype(np.float64)
    noise = np.array([seen.sd_db**2 for seen in observations])
    bounds = np.array([seen.at_most for seen in observations], dtype=np.bool_)
    if bounds.any():
        loss_db, noise = stand_ins(joint_variance(prior, rows, sources), loss_db, noise, bounds)
    total = noise + rows.own_variance.astype(np.float64)
    found = correct(doubts.names, prior, rows.design.T.astype(np.float64), loss_db, total)
    found = replace(found, mean_db=found.mean_db + mean)
    left = None
    if spatial and 0 < len(observations) <= MOST_READINGS:
        noise = noise + total * (1.0 / found.weight - 1.0)
        left = residual_of(prior, mean, rows, sources, loss_db, noise, found.scale)
    return Calibration(
        doubts,
        with_held(doubts, found, held),
        left,
        tuple(seen.reading for seen in observations),
        tuple(left_out),
        tuple(one.reading for one in held),
    )


def doubts_for(
    scene: HouseScene,
    observations: Sequence[Observation],
    learnt: Learnt | None = None,
    held: Sequence[HeldRate] = (),
) -> Doubts:
    """The doubts of a house: its constructions, and the boxes and devices that were read in it.

    `observations` and `held` are the readings, those that wires held back apart; `learnt` what earlier
    houses taught. Without readings the constructions alone are left. **Source**: docs/calibration.md, "What
    may be wrong".
    """
    sources = [seen.source for seen in observations]
    devices = [(seen.device, seen.client) for seen in observations]
    known = [(row.term, row.shift_db, row.sd_db) for row in learnt.terms] if learnt else []
    rates = [(seen.source.box, (seen.device, seen.client)) for seen in observations if seen.ln_per_db > 0]
    rates += [(one.box, (one.device, one.client)) for one in held]
    shared = [box for box, _ in rates], [device for _, device in rates]
    return doubts_of(scene.scene.kinds, devices, sources, known, *shared)


def rows_of(doubts: Doubts, observations: Sequence[Observation]) -> Basis:
    """The observations as places (n,), in their order, each with its own source.

    What comes back names no source itself: ask each observation. Empty arrays for no observations.
    **Source**: docs/calibration.md, "What may be wrong".
    """
    parts = [
        doubts.basis(seen.ways, seen.source, seen.client, seen.device, seen.ln_per_db)
        for seen in observations
    ]
    return Basis(
        Sender("", ""),
        np.concatenate([part.points_m for part in parts] or [np.empty((0, 3))]),
        np.concatenate(
            [part.design for part in parts] or [np.empty((len(doubts.names), 0), dtype=np.float32)], axis=1
        ),
        np.concatenate([part.own_variance for part in parts] or [np.empty(0, dtype=np.float32)]),
    )


def corrected_air(
    job: Job,
    scene: HouseScene,
    radiator: Radiator,
    places: Grid | Cells | ArrayLike,
    listener: Listener,
    calibration: Calibration | None = None,
    paths: Paths | None = None,
) -> tuple[Air, ...]:
    """The air of one box at every place, corrected by readings where there are any.

    `paths` in the scene to the same places, where several boxes may stand at a spot. **Source**:
    docs/calibration.md, "The update".
    """
    return corrected_airs(job, [radiator], listener, calibration, paths or Paths(scene, places))[0]


def corrected_airs(
    job: Job,
    radiators: Sequence[Radiator],
    listener: Listener,
    calibration: Calibration | None,
    paths: Paths,
) -> tuple[tuple[Air, ...], ...]:
    """The airs of several boxes at the places of `paths`, in their order, as `corrected_air`.

    What boxes at a spot share is worked out once, and together with that of the other spots.
    """
    airs = airs_of_each(radiators, job.country, listener, dfs=job.choices.dfs, paths=paths)
    if calibration is None or not calibration.says:
        return airs
    spots: dict[_Alike, list[SpotXyz]] = {}
    of: dict[Sender, _Alike] = {}
    for air in (air for some in airs for air in some):
        sender = Sender(air.radiator.id, air.band)
        if sender not in of:
            of[sender] = calibration, listener.client, None if calibration.strange(sender) else sender
        spots.setdefault(of[sender], []).append(air.radiator.position_m)
    views: dict[_Alike, dict[SpotXyz, tuple[Floats, Floats]]] = {}
    if calibration.moves:
        first = {alike: sender for sender, alike in reversed(of.items())}
        for alike, some_spots in spots.items():
            look = partial(_look, calibration, first[alike], listener.client)
            views[alike] = paths.each(some_spots, alike, look)

    def corrected(air: Air) -> Air:
        alike = of[Sender(air.radiator.id, air.band)]
        share = paths.once(
            ("share", air.band, alike), partial(delivered_of, calibration.doubts, calibration.correction, air)
        )
        if not calibration.moves:
            return replace(air, delivered=share)
        return _moved(air, share, *views[alike][air.radiator.position_m])

    return tuple(tuple(corrected(air) for air in some) for some in airs)


_Alike: TypeAlias = tuple[Calibration, str, Sender | None]  # senders of which the readings say the same


def _look(
    calibration: Calibration, sender: Sender, client: str, ways: Ways
) -> Sequence[tuple[Floats, Floats]]:
    """What readings say of a sender at the places of ways from several spots: shift and spread of each."""
    view = calibration.view(calibration.doubts.basis(ways, sender, client))
    return list(zip(view.shift_db, view.sd_db, strict=True))


def _moved(air: Air, delivered: ShareSpread, shift_db: Floats, sd_db: Floats) -> Air:
    """The same air with the loss moved by a shift (*places) and of another spread."""
    shape = air.power_dbm.shape
    return Air(
        air.radiator, air.band, air.link,
        air.power_dbm - shift_db.reshape(shape), sd_db.reshape(shape),
        air.client, delivered,
    )  # fmt: skip


def calibration_of(job: Job, scene: HouseScene, radiators: Sequence[Radiator]) -> Calibration:
    """What the readings of a job taken before the work say of the boxes that stand.

    `scene` must be of the job's house; `radiators` are the boxes as they stand. Readings of other boxes are
    left out, with the reason. A job without readings gives a calibration that changes nothing, unless
    something was learnt. **Validity** and **Source**: docs/calibration.md.
    """
    seen, held, left_out = read_before(job, scene, radiators)
    return calibrate(scene, seen, left_out, learnt=job.learnt, held=held)


def read_before(
    job: Job, scene: HouseScene, radiators: Sequence[Radiator]
) -> tuple[tuple[Observation, ...], tuple[HeldRate, ...], tuple[tuple[str, str], ...]]:
    """The readings taken before the work against their predictions, those held back by wires, and the rest.

    Readings of Mb/s are taken as straight in the power about what readings of power leave of it. **Source**:
    docs/calibration.md, "The update".
    """
    before = [reading for reading in job.readings if reading.stage == "before"]
    found, left_out = heard(job, scene, radiators, before)
    powers = [one for one in found if one.reading.quantity is Quantity.POWER_DBM]
    seen = [observation(one) for one in powers]
    known = calibrate(scene, seen, learnt=job.learnt)
    held: list[HeldRate] = []
    for one in (one for one in found if one.reading.quantity is not Quantity.POWER_DBM):
        rate = rate_observation(one, known.apply(one.air, one.ways))
        if isinstance(rate, str):
            left_out = (*left_out, (one.reading.id, rate))
        elif isinstance(rate, HeldRate):
            held.append(rate)
        else:
            seen.append(rate)
    return tuple(seen), tuple(held), left_out
