"""Which end of a badly wired cable to open first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from rehaul.facts.colour_codes import colour_scheme
from rehaul.facts.terminations import pinout
from rehaul.facts.trace_numbers import trace_number
from rehaul.words import Saying, say


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


def likely_end(*, faults_present: bool, evidence: EndEvidence | None) -> tuple[LikelyEnd, Saying]:
    """The end to open first, and why.

    Colours seen on the pins decide first, then the measured distance to the fault, then that a plug
    crimped by hand fails more often than a jack. **Source**: docs/trace.md, "Wire map": colours, distance,
    then that a crimped plug fails more often.
    """
    if not faults_present:
        return LikelyEnd.NONE, say("tracing.nothing_wrong")
    known = evidence or EndEvidence()
    return (
        _by_colours(known)
        or _by_distance(known)
        or _by_connector(known)
        or (LikelyEnd.EITHER, say("tracing.ends_alike"))
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


def _by_colours(known: EndEvidence) -> tuple[LikelyEnd, Saying] | None:
    near = _standards_of(known.near_colours) if known.near_colours else None
    far = _standards_of(known.far_colours) if known.far_colours else None
    if near == () and far == ():
        return LikelyEnd.EITHER, say("tracing.colours_no_standard")
    if near == ():
        return LikelyEnd.NEAR, say("tracing.colours_neither")
    if far == ():
        return LikelyEnd.FAR, say("tracing.colours_neither")
    if near and far and not set(near) & set(far):
        return LikelyEnd.EITHER, say("tracing.colours_differ", near=near[0], far=far[0])
    if near and far:
        return LikelyEnd.BETWEEN, say("tracing.colours_right")
    if near:
        return LikelyEnd.FAR, say("tracing.near_by_colours", standards=near)
    if far:
        return LikelyEnd.NEAR, say("tracing.far_by_colours", standards=far)
    return None


def _by_distance(known: EndEvidence) -> tuple[LikelyEnd, Saying] | None:
    if known.fault_at_m is None:
        return None
    margin_m = trace_number("end margin")
    if known.fault_at_m <= margin_m:
        return LikelyEnd.NEAR, say("tracing.fault_near", fault_at_m=known.fault_at_m)
    if known.length_m is None:
        return None
    if known.fault_at_m >= known.length_m - margin_m:
        far = say("tracing.fault_far", fault_at_m=known.fault_at_m, length_m=known.length_m)
        return LikelyEnd.FAR, far
    return LikelyEnd.BETWEEN, say("tracing.fault_between", fault_at_m=known.fault_at_m)


def _by_connector(known: EndEvidence) -> tuple[LikelyEnd, Saying] | None:
    if known.near_is_plug and known.far_is_plug is False:
        return LikelyEnd.NEAR, say("tracing.plug_by_hand")
    if known.far_is_plug and known.near_is_plug is False:
        return LikelyEnd.FAR, say("tracing.plug_by_hand")
    return None
