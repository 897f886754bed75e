"""Which end of a badly wired cable to open first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from rehaul.facts.colour_codes import colour_scheme
from rehaul.facts.terminations import pinout
from rehaul.facts.trace_numbers import trace_number


class LikelyEnd(StrEnum):
    NONE = "none"
    NEAR = "near"
    FAR = "far"
    BETWEEN = "between the ends"
    EITHER = "either"


@dataclass(frozen=True)
class EndEvidence:
    """What is known of the two ends; leave out what is not."""

    near_colours: Mapping[int, str] | None = None  # pin -> colour of the wire on it
    far_colours: Mapping[int, str] | None = None
    near_is_plug: bool | None = None
    far_is_plug: bool | None = None
    fault_at_m: float | None = None  # distance of an open or short from the near end
    length_m: float | None = None


def likely_end(*, faults_present: bool, evidence: EndEvidence | None) -> tuple[LikelyEnd, str]:
    """The end to open first, and why.

    Colours seen on the pins decide first, then the measured distance to the fault, then that a plug
    crimped by hand fails more often than a jack.
    """
    if not faults_present:
        return LikelyEnd.NONE, "nothing is wrong"
    known = evidence or EndEvidence()
    return (
        _by_colours(known)
        or _by_distance(known)
        or _by_connector(known)
        or (LikelyEnd.EITHER, "nothing tells the ends apart: open the one that is easier to reach")
    )


def _standards_of(colours: Mapping[int, str]) -> tuple[str, ...]:
    """Those of T568A and T568B that the colours follow: both where pins 4, 5, 7, 8 alone were seen.

    Parameters
    ----------
    colours : name of the conductor's colour by pin (1 to 8), as many as were seen

    **Source**: fact tables `colour_codes` and `terminations`.
    """
    pairs = colour_scheme("pairs")
    found = []
    for standard in ("T568A", "T568B"):
        expected = {pin: pairs[place.pair, place.side].name for pin, place in pinout(standard).items()}
        if all(expected.get(pin) == colour for pin, colour in colours.items()):
            found.append(standard)
    return tuple(found)


def _by_colours(known: EndEvidence) -> tuple[LikelyEnd, str] | None:
    near = _standards_of(known.near_colours) if known.near_colours else None
    far = _standards_of(known.far_colours) if known.far_colours else None
    if near == () and far == ():
        return LikelyEnd.EITHER, "the colours follow no standard at either end: redo both"
    if near == ():
        return LikelyEnd.NEAR, "its colours follow neither T568A nor T568B"
    if far == ():
        return LikelyEnd.FAR, "its colours follow neither T568A nor T568B"
    if near and far and not set(near) & set(far):
        return (
            LikelyEnd.EITHER,
            f"the near end is {near[0]} and the far end {far[0]}: redo the one the house does not use",
        )
    if near and far:
        return (
            LikelyEnd.BETWEEN,
            "the colours are right at both ends: look at contacts, or for a joint between",
        )
    if near:
        return LikelyEnd.FAR, f"the near end is {near} by its colours"
    if far:
        return LikelyEnd.NEAR, f"the far end is {far} by its colours"
    return None


def _by_distance(known: EndEvidence) -> tuple[LikelyEnd, str] | None:
    if known.fault_at_m is None:
        return None
    margin_m = trace_number("end margin")
    if known.fault_at_m <= margin_m:
        return LikelyEnd.NEAR, f"the fault is {known.fault_at_m:.1f} m away"
    if known.length_m is None:
        return None
    if known.fault_at_m >= known.length_m - margin_m:
        return LikelyEnd.FAR, f"the fault is {known.fault_at_m:.1f} m away on {known.length_m:.1f} m of cable"
    return LikelyEnd.BETWEEN, f"the fault is {known.fault_at_m:.1f} m away, short of the far end"


def _by_connector(known: EndEvidence) -> tuple[LikelyEnd, str] | None:
    if known.near_is_plug and known.far_is_plug is False:
        return LikelyEnd.NEAR, "a plug crimped by hand fails more often than a jack"
    if known.far_is_plug and known.near_is_plug is False:
        return LikelyEnd.FAR, "a plug crimped by hand fails more often than a jack"
    return None
