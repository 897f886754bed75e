"""The page on radio says the numbers the code and the fact tables hold."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.facts.radio_numbers import radio_numbers
from rehaul.radio.around import APART
from rehaul.radio.edges import _WORTH_DB
from rehaul.radio.faint import FAINT_DB, LEFT_OUT_DB
from rehaul.radio.losstable import COSINE_STEPS, THICKNESS_TOLERANCE

PAGE = (Path(__file__).parents[2] / "docs" / "radio.md").read_text(encoding="utf-8")
NUMBERS = radio_numbers()


@pytest.mark.parametrize(
    "words",
    [
        f"{COSINE_STEPS}\ncosines",
        f"±{THICKNESS_TOLERANCE:.0%}".replace("%", " %"),
        f"bound is {FAINT_DB:.0f} dB under",
        f"reach **{LEFT_OUT_DB:g} dB**",
        f"more than {_WORTH_DB:.0f} dB",
        f"is {NUMBERS['shadowing_near_sd']:g} dB to {NUMBERS['shadowing_near']:g} m from the box",
        f"and {NUMBERS['shadowing_far_sd']:g} dB from {NUMBERS['shadowing_far']:g} m on",
        f"ρ = {NUMBERS['crossing_correlation']}",
        f"nearer than {NUMBERS['nearest_distance']} m",
        f"{NUMBERS['body_clear_space']:g} m to the ceiling",
        f"at {NUMBERS['body_spread_frequency']:g} GHz",
        f"{APART:g}·√length",
        f"a = {NUMBERS['room_absorption']:g}",
    ],
)
def test_numbers_on_the_page(words: str) -> None:
    assert words in PAGE or words.replace("\n", " ") in PAGE


def test_every_level_is_on_the_page() -> None:
    for level in ("direct", "reflections", "full"):
        assert f"| {level} |" in PAGE
