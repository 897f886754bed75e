"""The normal distribution and Student's against values that their authors and tables print."""

from __future__ import annotations

import math

import pytest

from published import Published
from rehaul.normal import below, ln_below, quantile, student_quantile

WICHURA = "M. J. Wichura, Algorithm AS 241, Applied Statistics 37 (1988)"
WHY = "sixteen digits are given; the last may be rounded either way"
QUANTILES = (
    (0.25, -0.6744897501960817),
    (0.001, -3.090232306167814),
    (1e-20, -9.262340089798408),
)
HANDBOOK = "NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2"
STUDENT = {
    (0.90, 1): 3.078, (0.95, 1): 6.314, (0.995, 1): 63.657, (0.95, 2): 2.920, (0.975, 3): 3.182,
    (0.95, 5): 2.015, (0.999, 5): 5.893, (0.95, 10): 1.812, (0.99, 24): 2.492, (0.95, 24): 1.711,
    (0.95, 30): 1.697, (0.975, 60): 2.000, (0.95, 100): 1.660,
}  # fmt: skip
TABLE = "M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, table 26.1"


@pytest.mark.parametrize(("chance", "value"), QUANTILES)
def test_the_authors_own_three(chance: float, value: float) -> None:
    where = f"test values, {chance}, as the tests of R quote them"
    Published(value, "1", WICHURA, where, "excerpt", 4e-15, WHY).check(float(quantile(chance)))
    Published(math.log(chance), "1", WICHURA, where, "excerpt", 4e-14, WHY).check(ln_below(value))


def test_the_coefficients_are_as_printed() -> None:
    """He prints a sum for each pair of rows, so that a slip in copying shows: of the mantissas, 0.1 to 10."""
    from rehaul.normal import each

    for over, under, total in (
        (each._MIDDLE_OVER, each._MIDDLE_UNDER, 55.8831928806149014439),
        (each._OUTER_OVER, each._OUTER_UNDER, 49.33206503301610289036),
        (each._FAR_OVER, each._FAR_UNDER, 47.52583317549289671629),
    ):
        mantissas = [number / 10 ** math.floor(math.log10(number)) for number in (*over, *under[:-1])]
        why = "doubles hold sixteen of the digits"
        Published(
            total,
            "1",
            WICHURA,
            "hash sums, as CPython's statistics.py quotes them",
            "excerpt",
            2e-14,
            why,
        ).check(sum(mantissas))


@pytest.mark.parametrize(("asked", "value"), STUDENT.items())
def test_students_table(asked: tuple[float, int], value: float) -> None:
    why = "three decimals are printed"
    where = f"{asked[0]} with {asked[1]} degrees of freedom"
    Published(value, "1", HANDBOOK, where, "excerpt", 5.1e-4, why).check(student_quantile(*asked))


@pytest.mark.parametrize(
    ("value", "chance"), [(0.0, 0.5), (1.0, 0.841344746), (2.0, 0.977249868), (3.0, 0.998650102)]
)
def test_the_normal_table(value: float, chance: float) -> None:
    Published(chance, "1", TABLE, f"P({value})", "memory", 5.1e-10, "nine decimals of its fifteen").check(
        float(below(value))
    )
