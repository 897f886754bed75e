"""The knife edge against the recommendation's values and the Fresnel integrals it approximates."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import fresnel

from published import Published
from rehaul.radio.diffraction import knife_edge_db

DOCUMENT = "ITU-R P.526, single knife edge"
WHY = "the formula is printed with two digits of 6.9"
VALUES = (
    (0.0, Published(6.03, "dB", DOCUMENT, "J(0) from the printed formula", "computed", 0.01, WHY)),
    (1.0, Published(13.93, "dB", DOCUMENT, "J(1) from the printed formula", "computed", 0.01, WHY)),
    (2.4, Published(20.54, "dB", DOCUMENT, "J(2.4), 12.953 + 20 log10(2.4) of TN 101", "computed", 0.2, WHY)),
)


@pytest.mark.parametrize(("nu", "published"), VALUES)
def test_printed(nu: float, published: Published) -> None:
    published.check(float(knife_edge_db(nu)))


@pytest.mark.parametrize("nu", np.linspace(-0.7, 10, 30))
def test_fresnel_integrals(nu: float) -> None:
    sine, cosine = fresnel(nu)
    exact = -20 * np.log10(np.hypot(0.5 - cosine, 0.5 - sine) / np.sqrt(2))
    where = f"exact integrals at nu = {nu:.2f}"
    why = "the recommendation calls its formula approximate; it is within 0.4 dB from -0.7 up"
    Published(exact, "dB", DOCUMENT, where, "computed", 0.4, why).check(float(knife_edge_db(nu)))
