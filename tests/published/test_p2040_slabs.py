"""Slabs and stacks against values computed from the recommendation by two programs that are not ours."""

from __future__ import annotations

import numpy as np
import pytest

from published import Published
from rehaul.radio import (
    FrequencyBand,
    Scene,
    SlabLayer,
    Stack,
    Transmitter,
    field_at,
    kind,
    loss_table,
)
from slab_losses import reflection_loss_db, transmission_loss_db

DOCUMENT = "ITU-R P.2040, slab formulas and material table as carried by sionna-rt 2.2.0"
WHY = "the two programs agree to 2e-4 dB; deep reflection nulls to about 5e-3 dB"

# layers in mm; GHz; degrees; dB: through TE, through TM, reflected TE, reflected TM
CASES = (
    ("plasterboard 12.5", 2.437, 0, 1.0870, 1.0870, 7.8890, 7.8890),
    ("plasterboard 12.5", 5.5, 0, 1.0075, 1.0075, 9.8098, 9.8098),
    ("plasterboard 12.5", 6.5, 0, 0.7583, 0.7583, 16.0165, 16.0165),
    ("wood 40", 2.437, 0, 0.6135, 0.6135, 21.2428, 21.2428),
    ("wood 40", 5.5, 0, 1.4543, 1.4543, 21.8533, 21.8533),
    ("chipboard 18", 5.5, 0, 1.7017, 1.7017, 19.4409, 19.4409),
    ("plywood 18", 5.5, 0, 6.2948, 6.2948, 12.8885, 12.8885),
    ("glass 4", 2.437, 0, 1.0924, 1.0924, 6.7891, 6.7891),
    ("glass 4", 5.5, 0, 2.9578, 2.9578, 3.2359, 3.2359),
    ("glass 4", 6.5, 0, 3.2541, 3.2541, 2.9491, 2.9491),
    ("brick 102.5", 2.437, 0, 3.5243, 3.5243, 7.6196, 7.6196),
    ("brick 102.5", 5.5, 0, 4.1073, 4.1073, 6.5234, 6.5234),
    ("brick 215", 2.437, 0, 5.5964, 5.5964, 11.9981, 11.9981),
    ("brick 215", 5.5, 0, 6.7553, 6.7553, 8.0398, 8.0398),
    ("concrete 100", 2.437, 0, 8.0714, 8.0714, 7.6415, 7.6415),
    ("concrete 100", 5.5, 0, 14.0316, 14.0316, 7.7479, 7.7479),
    ("concrete 200", 2.437, 0, 14.7472, 14.7472, 7.7403, 7.7403),
    ("concrete 200", 5.5, 0, 26.4709, 26.4709, 8.0975, 8.0975),
    ("concrete 200", 6.5, 0, 29.9669, 29.9669, 8.0984, 8.0984),
    ("concrete 200", 5.5, 45, 28.9155, 26.9038, 5.8323, 11.6535),
    ("brick 102.5", 5.5, 45, 3.8720, 3.0166, 11.4858, 19.2143),
    ("brick 102.5", 2.437, 60, 4.2544, 2.5956, 9.7794, 32.6264),
    ("plasterboard 12.5", 5.5, 60, 3.8504, 0.6162, 2.9569, 30.8653),
    ("glass 6", 5.5, 45, 5.3959, 1.6580, 1.5840, 5.3649),
    ("marble 20", 5.5, 30, 0.9690, 0.6794, 10.0926, 12.7210),
    ("ceiling board 15", 5.5, 0, 0.2556, 0.2556, 15.6394, 15.6394),
    ("plasterboard 12.5 + air 89 + plasterboard 12.5", 2.437, 0, 2.8240, 2.8240, 4.6435, 4.6435),
    ("plasterboard 12.5 + air 89 + plasterboard 12.5", 2.437, 45, 2.0495, 0.7215, 5.4995, 13.8756),
    ("plasterboard 12.5 + air 89 + plasterboard 12.5", 5.5, 0, 2.8782, 2.8782, 5.1104, 5.1104),
    ("plasterboard 12.5 + air 89 + plasterboard 12.5", 5.5, 45, 6.4103, 1.8456, 2.0160, 8.8247),
    ("plasterboard 12.5 + air 89 + plasterboard 12.5", 6.5, 0, 1.4466, 1.4466, 13.7314, 13.7314),
    ("plasterboard 12.5 + air 89 + plasterboard 12.5", 6.5, 45, 1.5239, 1.3540, 23.9753, 29.5048),
    ("plasterboard 25 + air 70 + plasterboard 25", 2.437, 0, 2.9171, 2.9171, 4.9622, 4.9622),
    ("plasterboard 25 + air 70 + plasterboard 25", 2.437, 45, 2.4693, 1.1254, 5.8559, 17.8091),
    ("plasterboard 25 + air 70 + plasterboard 25", 5.5, 0, 5.1835, 5.1835, 3.8934, 3.8934),
    ("plasterboard 25 + air 70 + plasterboard 25", 5.5, 45, 6.4899, 2.8168, 2.9267, 10.4377),
    ("plasterboard 25 + air 70 + plasterboard 25", 6.5, 0, 3.3682, 3.3682, 8.1784, 8.1784),
    ("plasterboard 25 + air 70 + plasterboard 25", 6.5, 45, 6.3624, 3.1635, 3.6699, 11.5790),
    ("brick 102.5 + air 50 + brick 102.5", 2.437, 0, 7.6057, 7.6057, 4.9550, 4.9550),
    ("brick 102.5 + air 50 + brick 102.5", 2.437, 45, 7.7565, 5.4699, 12.0445, 20.2872),
    ("brick 102.5 + air 50 + brick 102.5", 5.5, 0, 7.7814, 7.7814, 5.6910, 5.6910),
    ("brick 102.5 + air 50 + brick 102.5", 5.5, 45, 8.2252, 6.1203, 10.6305, 18.0840),
    ("brick 102.5 + air 50 + brick 102.5", 6.5, 0, 7.6598, 7.6598, 6.5155, 6.5155),
    ("brick 102.5 + air 50 + brick 102.5", 6.5, 45, 10.7655, 6.7180, 5.9900, 13.1219),
    ("glass 4 + air 16 + glass 4", 2.437, 0, 0.1604, 0.1604, 22.2791, 22.2791),
    ("glass 4 + air 16 + glass 4", 2.437, 45, 0.7282, 0.3789, 9.0580, 11.8767),
    ("glass 4 + air 16 + glass 4", 5.5, 0, 9.2893, 9.2893, 0.6750, 0.6750),
    ("glass 4 + air 16 + glass 4", 5.5, 45, 12.7231, 3.5784, 0.3725, 2.9265),
    ("glass 4 + air 16 + glass 4", 6.5, 0, 9.1656, 9.1656, 0.6679, 0.6679),
    ("glass 4 + air 16 + glass 4", 6.5, 45, 14.8492, 5.1377, 0.2481, 1.8722),
    ("chipboard 22 + air 200 + plasterboard 12.5", 2.437, 0, 2.8209, 2.8209, 6.9740, 6.9740),
    ("chipboard 22 + air 200 + plasterboard 12.5", 2.437, 45, 5.1624, 1.7834, 3.9608, 13.1561),
    ("chipboard 22 + air 200 + plasterboard 12.5", 5.5, 0, 4.1812, 4.1812, 7.6132, 7.6132),
    ("chipboard 22 + air 200 + plasterboard 12.5", 5.5, 45, 4.5400, 2.8496, 19.7082, 30.3114),
    ("chipboard 22 + air 200 + plasterboard 12.5", 6.5, 0, 3.2621, 3.2621, 9.5662, 9.5662),
    ("chipboard 22 + air 200 + plasterboard 12.5", 6.5, 45, 5.3698, 3.2835, 6.7977, 16.0275),
    ("brick 102.5 + plasterboard 12.5", 2.437, 0, 3.5592, 3.5592, 7.4708, 7.4708),
    ("brick 102.5 + plasterboard 12.5", 2.437, 45, 4.6317, 3.0344, 5.5056, 13.0938),
    ("brick 102.5 + plasterboard 12.5", 5.5, 0, 4.0294, 4.0294, 8.8325, 8.8325),
    ("brick 102.5 + plasterboard 12.5", 5.5, 45, 5.1133, 3.6584, 5.8538, 13.5332),
    ("brick 102.5 + plasterboard 12.5", 6.5, 0, 4.3517, 4.3517, 8.2429, 8.2429),
    ("brick 102.5 + plasterboard 12.5", 6.5, 45, 4.6228, 3.7741, 10.1684, 17.0252),
    ("concrete 150 + air 30 + plasterboard 12.5", 2.437, 0, 13.8628, 13.8628, 6.9618, 6.9618),
    ("concrete 150 + air 30 + plasterboard 12.5", 2.437, 45, 15.7243, 11.6144, 5.8071, 11.6966),
    ("concrete 150 + air 30 + plasterboard 12.5", 5.5, 0, 21.1641, 21.1641, 7.9782, 7.9782),
    ("concrete 150 + air 30 + plasterboard 12.5", 5.5, 45, 23.0426, 20.7315, 5.8657, 11.6816),
    ("concrete 150 + air 30 + plasterboard 12.5", 6.5, 0, 24.1073, 24.1073, 8.1470, 8.1470),
    ("concrete 150 + air 30 + plasterboard 12.5", 6.5, 45, 24.7790, 23.5693, 5.8317, 11.6564),
)


def stack(text: str) -> Stack:
    layers = (layer.rsplit(" ", 1) for layer in text.split(" + "))
    return Stack(tuple(SlabLayer(name, float(mm) / 1000) for name, mm in layers))


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[0]} {case[1]} GHz {case[2]} deg")
def test_slab(case: tuple[str, float, float, float, float, float, float]) -> None:
    layers, ghz, angle_deg, *expected = case
    found = (
        transmission_loss_db(stack(layers), ghz * 1e9, angle_deg, "te"),
        transmission_loss_db(stack(layers), ghz * 1e9, angle_deg, "tm"),
        reflection_loss_db(stack(layers), ghz * 1e9, angle_deg, "te"),
        reflection_loss_db(stack(layers), ghz * 1e9, angle_deg, "tm"),
    )
    for name, value, actual in zip(("TE", "TM", "TE back", "TM back"), expected, found, strict=True):
        place = f"{layers} mm, {ghz} GHz, {angle_deg} deg, {name}"
        tolerance = 1e-3 if value < 15 else 5e-3
        Published(value, "dB", DOCUMENT, place, "computed", tolerance, WHY).check(float(actual))


FREE_SPACE = Published(
    40.05,
    "dB",
    "IEEE 802.11-14/0980 (TGax evaluation methodology)",
    "residential path loss: loss of the first metre at 2.4 GHz",
    "excerpt",
    0.01,
    "printed with two digits",
)


def test_free_space_at_one_metre() -> None:
    empty = Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), ())
    gain = field_at(empty, Transmitter((0, 0, 0)), [(1.0, 0, 0)], (2.4e9,)).gain_db
    FREE_SPACE.check(-float(gain[0, 0]))


WALLS_DIFFER = "walls of one name differ by thickness and moisture; sources differ by 4 dB on wood"
TR38901, COST231 = "3GPP TR 38.901, Table 7.4.3-1", "COST 231, wall losses"
MEASURED = (
    ("glass-single", 5.5, Published(3.1, "dB", TR38901, "glass 2 + 0.2 f", "excerpt", 1.5, WALLS_DIFFER)),
    ("glass-low-e", 5.5, Published(24.65, "dB", TR38901, "IRR glass", "excerpt", 5.0, WALLS_DIFFER)),
    ("door-wood", 5.5, Published(5.51, "dB", TR38901, "wood, 4.85 + 0.12 f", "excerpt", 4.5, WALLS_DIFFER)),
    ("stone", 2.4, Published(12.0, "dB", COST231, "stone", "excerpt", 4.0, WALLS_DIFFER)),
    ("concrete", 2.4, Published(15.0, "dB", COST231, "concrete, 10 to 20", "excerpt", 5.0, WALLS_DIFFER)),
)


@pytest.mark.parametrize(("name", "ghz", "published"), MEASURED, ids=[row[0] for row in MEASURED])
def test_constructions_lie_near_measured_ones(name: str, ghz: float, published: Published) -> None:
    loss_db = loss_table(kind(name).structure, FrequencyBand(ghz * 1e9, 0.2e9)).loss_db
    published.check(float(loss_db[-1]))
