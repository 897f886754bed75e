"""Which Ethernet link comes up over a cable that is not yet right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rehaul.words import Saying, say

WirePair = tuple[int, int]
_FIRST = frozenset({(1, 2), (3, 6)})  # autonegotiation, 10BASE-T and 100BASE-TX live here
_SECOND = frozenset({(4, 5), (7, 8)})


@dataclass(frozen=True)
class MeanwhileLink:
    """What to expect of two Gigabit ports on this cable as it is."""

    mbps: int  # 0, 100 or 1000: what usually comes up
    by_standard_mbps: int  # what the standard alone promises
    sentence: Saying


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
        return MeanwhileLink(0, 0, say("tracing.link_none"))
    if spoiled & _FIRST:
        return MeanwhileLink(100, 0, say("tracing.link_perhaps"))
    if second and not spoiled:
        return MeanwhileLink(1000, 1000, say("tracing.link_full"))
    return MeanwhileLink(100, 0, say("tracing.link_split" if second else "tracing.link_two_pairs"))


def _arrives(whole: Mapping[WirePair, WirePair], both: frozenset[WirePair]) -> bool:
    return {whole.get(pair) for pair in both} == both
