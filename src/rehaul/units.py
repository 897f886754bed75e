"""Metric and imperial, decibels, and numbers written for people.

Inside rehaul every length is in metres and every power in dBm or watts; feet and inches exist only
here and in the faces.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from rehaul.errors import BadInput
from rehaul.figures import METRES_PER_FOOT as METRES_PER_FOOT
from rehaul.figures import METRES_PER_INCH as METRES_PER_INCH
from rehaul.figures import UnitSystem as UnitSystem
from rehaul.figures import format_money as format_money
from rehaul.figures import format_rate as format_rate
from rehaul.words import say

SPEED_OF_LIGHT_M_PER_S = 299_792_458.0  # exact: SI definition of the metre

FloatOrArray = TypeVar("FloatOrArray", float, NDArray[np.floating])

_METRIC = re.compile(r"^\s*([+-]?)\s*(\d+(?:[.,]\d+)?|[.,]\d+)\s*(m|cm|mm)?\s*$", re.IGNORECASE)
_THOUSANDS_OR_NOT = re.compile(r"[1-9]\d{0,2},\d{3}")  # in metres it is clear: no house is a kilometre wide
_INCHES = r"\d+\s+\d+/[1-9]\d*|\d+/[1-9]\d*|\d+(?:\.\d+)?"
_FEET_INCHES = re.compile(
    r"^\s*(?P<sign>[+-]?)\s*(?:"
    r"(?P<feet>\d+(?:\.\d+)?)\s*(?:'|ft|feet|foot|′|’)\s*-?\s*"
    rf"(?:(?P<after>{_INCHES})\s*(?:\"|inches|inch|in|″|”)?)?"
    rf"|(?P<alone>{_INCHES})\s*(?:\"|inches|inch|in|″|”)"
    r")\s*$",
    re.IGNORECASE,
)
_METRIC_SCALE = {"m": 1.0, "cm": 0.01, "mm": 0.001}


def db_from_ratio(ratio: float) -> float:
    """Power ratio in dB; zero or less gives minus infinity.

    Of amplitudes the ratio is squared first. No number (NaN) gives minus infinity too. **Source**: decibel of
    a ratio of powers, IEC 60027-3 (from memory).

    >>> db_from_ratio(100.0), db_from_ratio(0.0)
    (20.0, -inf)
    """
    return 10.0 * math.log10(ratio) if ratio > 0 else -math.inf


def parse_length_m(text: str, *, default: UnitSystem = "metric", where: str = "length") -> float:
    """Metres from a length as people write it: `3.81`, `381 cm`, `12' 6"`, `12ft 6 1/2in`, `6"`.

    A bare number is metres, or feet where `default` is imperial. Raises BadInput. **Source**: international
    yard and pound agreement, 1959: a foot is 0.3048 m, an inch 0.0254 m; forms as
    in docs/readers.md, "A room list by tape or laser".
    """
    metric = _METRIC.match(text)
    if metric:
        sign, digits, unit = metric.groups()
        if unit and unit.lower() != "m" and _THOUSANDS_OR_NOT.fullmatch(digits):
            raise BadInput(
                say(
                    "refused_common.length_may_be_two",
                    text=text.strip(),
                    whole=digits.replace(",", ""),
                    decimal=digits.replace(",", "."),
                    unit=unit,
                ),
                where=where,
                remedy=say("refused_common.write_without_comma"),
            )
        value = float(digits.replace(",", "."))
        scale = _METRIC_SCALE[unit.lower()] if unit else (1.0 if default == "metric" else METRES_PER_FOOT)
        return (-1.0 if sign == "-" else 1.0) * value * scale
    imperial = _FEET_INCHES.match(text)
    if imperial:
        inches = sum(Fraction(part) for part in (imperial["after"] or imperial["alone"] or "0").split())
        length_m = float(imperial["feet"] or 0) * METRES_PER_FOOT + float(inches) * METRES_PER_INCH
        return -length_m if imperial["sign"] == "-" else length_m
    raise BadInput(
        say("refused_common.not_a_length", text=text),
        where=where,
        remedy=say("refused_common.write_length_like"),
    )


def format_length(length_m: float, system: UnitSystem = "metric", *, digits: int = 2) -> str:
    """A length for people: metres with `digits` places, or feet and inches to the nearest half inch.

    `length_m` in metres, whatever the system; below nought it keeps its sign. **Source**: international foot
    and inch, as `parse_length_m`.

    >>> print(format_length(3.81), format_length(3.81, "imperial"), sep=" = ")
    3.81 m = 12' 6"
    """
    if system == "metric":
        return f"{length_m:.{digits}f} m"
    half_inches = round(abs(length_m) / METRES_PER_INCH * 2)
    feet, rest = divmod(half_inches, 24)
    inches, half = divmod(rest, 2)
    sign = "-" if length_m < 0 and half_inches else ""
    return f"{sign}{feet}' {inches}{'½' if half else ''}\""
