"""Pins drawn: conductors in their order, readable without colour."""

from __future__ import annotations

import re

import pytest

from rehaul.house import CableKind
from rehaul.sheets import pins_svg
from rehaul.tracing import termination

ORDERS = {  # memory: TIA-568, pins 1 to 8
    "T568A": ["W/G", "G", "W/O", "BL", "W/BL", "O", "W/BR", "BR"],
    "T568B": ["W/O", "O", "W/G", "BL", "W/BL", "G", "W/BR", "BR"],
}


def codes(drawn: str) -> list[str]:
    """Letter codes from left to right."""
    found = re.findall(r'<text x="([\d.]+)"[^>]*>([A-Z]{1,2}(?:/[A-Z]{1,2})?)</text>', drawn)
    return [code for _, code in sorted(found, key=lambda pair: float(pair[0]))]


@pytest.mark.parametrize("standard", ORDERS)
def test_conductors_stand_in_order_with_their_letters(standard: str) -> None:
    assert codes(pins_svg(termination(standard, CableKind.CAT5E, 4))) == ORDERS[standard]


def test_two_pairs_leave_four_contacts_open() -> None:
    drawn = pins_svg(termination("T568B", CableKind.CAT3, 2))
    assert len(codes(drawn)) == 4
    assert drawn.count('height="9" fill="none"') == 2  # six contacts shown, two without a conductor


def test_a_quad_is_drawn_in_its_own_colours() -> None:
    drawn = pins_svg(termination("telephone 6 pin", CableKind.QUAD, 2))
    assert set(codes(drawn)) == {"R", "G", "Y", "BK"}
