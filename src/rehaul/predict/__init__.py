"""Where house and physics meet: field per spot, Mb/s per room with a range, rate per run."""

from rehaul.predict.air import Air, Listener, air_of, wire_mbps
from rehaul.predict.best import best_of, chain_at
from rehaul.predict.calibration import Calibration, calibrate, calibration_of, corrected_air
from rehaul.predict.covering import airs_of, coverage
from rehaul.predict.needs import SERVED_SHARE, Asked, asked, chance_met, serves
from rehaul.predict.radiators import Radiator, plan_link, standing_radiators
from rehaul.predict.receivers import Receivers, receivers_of
from rehaul.predict.results import Coverage, Delay, LinkRate, RoomRate, Spot, StoreyMap
from rehaul.predict.scene import HouseScene, scene_of

__all__ = [
    "SERVED_SHARE",
    "Air",
    "Asked",
    "Calibration",
    "Coverage",
    "Delay",
    "HouseScene",
    "LinkRate",
    "Listener",
    "Radiator",
    "Receivers",
    "RoomRate",
    "Spot",
    "StoreyMap",
    "air_of",
    "airs_of",
    "asked",
    "best_of",
    "calibrate",
    "calibration_of",
    "chain_at",
    "chance_met",
    "corrected_air",
    "coverage",
    "plan_link",
    "receivers_of",
    "scene_of",
    "serves",
    "standing_radiators",
    "wire_mbps",
]
