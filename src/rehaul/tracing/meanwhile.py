"""Which Ethernet link comes up over a cable that is not yet right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

WirePair = tuple[int, int]
_FIRST = frozenset({(1, 2), (3, 6)})  # autonegotiation, 10BASE-T and 100BASE-TX live here
_SECOND = frozenset({(4, 5), (7, 8)})


@dataclass(frozen=True)
class MeanwhileLink:
    """What to expect of two Gigabit ports on this cable as it is."""

    mbps: int  # 0, 100 or 1000: what usually comes up
    by_standard_mbps: int  # what the standard alone promises
    sentence: str


def link_meanwhile(whole: Mapping[WirePair, WirePair], split: Sequence[WirePair] = ()) -> MeanwhileLink:
    """The link two Gigabit ports bring up, from the pairs that arrive whole.

    Parameters
    ----------
    whole : near pins -> far pins of every pair that arrives as a pair, reversed or not
    split : pairs that arrive but are split

    **Validity**: short cables of fair quality; ports with automatic crossover (1-2 with 3-6, 4-5 with 7-8)
    and polarity correction. Whether a port steps down to 100 when a pair is missing is up to its maker.
    **Source**: IEEE 802.3 clauses 14, 25, 28 and 40 [memory]; the step-down is common practice.
    """
    first = _arrives(whole, _FIRST)
    second = _arrives(whole, _SECOND)
    spoiled = {pair for pair in split if pair in whole}
    if not first:
        return MeanwhileLink(0, 0, "no link, because pins 1-2 and 3-6 do not both arrive as pairs")
    if spoiled & _FIRST:
        return MeanwhileLink(100, 0, "perhaps a link at 100 on a short cable, with errors; do not rely on it")
    if second and not spoiled:
        return MeanwhileLink(1000, 1000, "a link at 1000")
    reason = "a pair is split" if second else "pairs 4-5 and 7-8 do not both arrive"
    return MeanwhileLink(
        100,
        0,
        f"usually 100, because {reason}; by the standard none, as not every port steps down",
    )


def _arrives(whole: Mapping[WirePair, WirePair], both: frozenset[WirePair]) -> bool:
    return {whole.get(pair) for pair in both} == both
