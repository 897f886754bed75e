"""What the radios of boxes that stand are set to: mostly not read, now and then too narrow."""

from __future__ import annotations

from random import Random

from drawing.sketch import Sketch
from rehaul.facts.wlan_equipment import access_point_radios
from rehaul.house import Box
from rehaul.house.job import RadioSetting

READ = 0.35  # of the boxes that radiate
CHANNELS = {"2.4": (1, 6, 11, 3), "5": (36, 44, 149), "6": (5, 37)}
WIDTHS = {"2.4": (20, 40), "5": (20, 20, 40, 80), "6": (20, 80, 160)}


def draw_settings(sketch: Sketch, dice: Random) -> None:
    """Settings of some boxes, by dice of their own, so that all else is drawn as it would be without."""
    sketch.boxes[:] = [_read(box, dice) for box in sketch.boxes]


def _read(box: Box, dice: Random) -> Box:
    bands = [band for name, band in sorted(access_point_radios()) if name == box.equipment]
    if not bands or not box.radio or dice.random() >= READ:
        return box
    rows = tuple(
        RadioSetting.model_validate(
            {
                "band": band,
                "channel": dice.choice(CHANNELS[band]) if dice.random() < 0.8 else None,
                "width_mhz": dice.choice(WIDTHS[band]) if dice.random() < 0.8 else None,
            }
        )
        for band in bands
    )
    return box.model_copy(update={"set_to": rows})
