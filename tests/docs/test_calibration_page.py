"""The pages on calibration and proof: the numbers they state are those of the tables."""

from __future__ import annotations

from pathlib import Path

from rehaul.cli.main import VERBS
from rehaul.facts.acceptance import acceptance_number
from rehaul.facts.calibration import calibration_number
from rehaul.facts.causes import causes, diagnosis_number
from rehaul.facts.radio_numbers import radio_numbers
from rehaul.predict.correction import SUSPECT_WEIGHT, tail
from rehaul.predict.residual import MOST_READINGS, parts
from rehaul.proof.causes import STATES

DOCS = Path(__file__).parents[2] / "docs"


def page(name: str) -> str:
    return " ".join((DOCS / name).read_text(encoding="utf-8").split())


def test_calibration_numbers() -> None:
    text = page("calibration.md")
    for said in (
        f"{radio_numbers()['spreading_sd']:g} dB per decade",
        f"device that reads | {calibration_number('device_offset_sd'):g} dB",
        f"radio that sends | {calibration_number('box_offset_sd'):g} dB",
        f"shadowing of {radio_numbers()['shadowing_near_sd']:g} dB near the box",
        *(f"{part.share * 100:.0f} %" for part in parts()),
        *(f"exp(−d/{part.reach_m:g} m)" for part in parts()),
        f"{tail(0):.2f} before any reading",
        f"`nothing` for −{-calibration_number('hearing_floor'):g} dBm",
        f"{calibration_number('bands_alike'):g} of it across two bands",
        f"below a weight of {SUSPECT_WEIGHT:g}",
        f"Beyond {MOST_READINGS} readings",
    ):
        assert said in text, said


def test_proof_numbers() -> None:
    text = page("proof.md")
    for said in (
        f"{STATES:,} drawn states",
        f"{diagnosis_number('slip') * 100:.0f} % of readings",
        f"more than {calibration_number('stop_chance') * 100:.0f} % chance",
        f"wrong with confidence (≥ {diagnosis_number('sure'):g})",
    ):
        assert said in text, said
    assert acceptance_number("soak_s") == 600 and "ten minutes of full load" in text
    assert len(causes()) == 9 and "Nine causes" in text
    assert all(f"rehaul {verb}" in text for verb in ("readings", "link", "compare"))
    assert {"readings", "link", "next", "why", "compare"} <= set(VERBS)
