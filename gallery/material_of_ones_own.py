"""A wall that no table knows, from its measured loss: what comes through it into the next room."""

import numpy as np

from rehaul.radio import (
    FrequencyBand,
    LayeredKind,
    Measured,
    Scene,
    SlabLayer,
    Stack,
    Transmitter,
    field,
    kind,
)

straw = LayeredKind(
    "straw bale, lime plaster",
    Measured(
        points=((2.45e9, 9.0), (5.5e9, 15.0)),  # hertz, decibels; invented
        like=Stack((SlabLayer("plaster", 0.03),)),  # it throws back as this does
    ),
    sd_db=3.0,
)
walls_m = np.array([[5.0, -4.0, 5.0, 4.0, 0.0, 2.6]])  # x0, y0, x1, y1, z0, z1
sender = Transmitter((1.0, 0.0, 2.0), eirp_dbm=20.0)
places_m = np.array([[4.0, 0.0, 1.0], [6.0, 0.0, 1.0], [9.0, 2.0, 1.0]])
bands = [FrequencyBand(2.437e9, 20e6), FrequencyBand(5.5e9, 80e6)]
for made_of in (straw, kind("stud-plasterboard")):
    scene = Scene(walls_m, np.array([0]), (), (made_of,))
    power_dbm = field(scene, sender, places_m, bands).power_dbm  # (band, place)
    print(f"{made_of.name}: " + "; ".join(f"{low:.1f} and {high:.1f} dBm" for low, high in power_dbm.T))
