"""A slab for several thicknesses at once is the slab for each by itself."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from rehaul.radio import SlabLayer as Layer
from rehaul.radio import Stack
from rehaul.radio.slab import slab_response

ANGLES_DEG = np.degrees(np.arccos(np.linspace(0.0, 1.0, 17)))[:, None, None]
FREQUENCIES_HZ = np.array([2.4e9, 5.5e9])[:, None]
STACKS = (
    Stack((Layer("brick", 0.1),)),
    Stack((Layer("plasterboard", 0.0125), Layer("air", 0.09), Layer("plasterboard", 0.0125))),
    Stack((Layer("concrete", 3.0), Layer("wood", 1e-4))),
)


@pytest.mark.parametrize("stack", STACKS)
@pytest.mark.parametrize("stretches", [(0.9, 0.95, 1.0, 1.05, 1.1), (0.8, 1.0, 1.3), (1.0, 1.2), (1.0,)])
def test_each_thickness_alone(stack: Stack, stretches: tuple[float, ...]) -> None:
    """In equal steps, in others, too few for steps, one."""
    together = slab_response(stack, FREQUENCIES_HZ, ANGLES_DEG, stretch=np.array(stretches))
    for at, stretch in enumerate(stretches):
        alone = slab_response(stack, FREQUENCIES_HZ, ANGLES_DEG, stretch=stretch)
        for many, one in zip(together, alone, strict=True):
            assert many.shape == (17, 2, len(stretches)) and one.shape == (17, 2, 1)
            assert np.abs(many[..., at] - one[..., 0]).max() < 1e-12


def test_what_nothing_comes_through_stays_a_number() -> None:
    """Kilometres of concrete: the way through is nought, what is thrown back as from a thick wall."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        thick, thicker = (
            slab_response(
                Stack((Layer("concrete", thickness_m),)),
                FREQUENCIES_HZ,
                ANGLES_DEG,
                stretch=np.linspace(0.5, 1.5, 5),
            )
            for thickness_m in (20.0, 5000.0)
        )
    assert np.abs(thicker.t_te).max() < 1e-30
    assert thicker.r_te == pytest.approx(thick.r_te, abs=1e-12)


def test_a_stack_of_nothing_lets_all_through() -> None:
    found = slab_response(Stack(()), FREQUENCIES_HZ, ANGLES_DEG[1:], stretch=np.array([0.9, 1.0, 1.1]))
    assert found.t_te == pytest.approx(np.ones((16, 2, 3))) and np.abs(found.r_tm).max() < 1e-12
