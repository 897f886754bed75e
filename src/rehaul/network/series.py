"""What old segments carry once they are put right and joined end to end.

A series is at most as good as its pieces: each piece's own evidence counts, every joint is a splice, and
the whole is longer than any of its parts. The chance of a rate is the product of the pieces' chances and of
one sound splice a joint, times what the physics says the added length costs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from rehaul.copper import RunFacts
from rehaul.facts.cables import cables
from rehaul.facts.grades import chance
from rehaul.facts.poe import poe_classes
from rehaul.house import UNKNOWN, Estimate, Run, RunState, Topology
from rehaul.network.cabling import ethernet_verdicts, facts_of
from rehaul.network.segments import Segment
from rehaul.power import poe

SURE, USUAL, PERHAPS = 0.95, 0.8, 0.05  # chances that bound a rate's range and its middle


@dataclass(frozen=True)
class Series:
    """What a row of segments carries as one link."""

    rates: tuple[tuple[float, float], ...]  # line rate [Mb/s] and its chance, slowest first
    poe_class: int  # the highest that arrives; 0 where none does
    length_m: float

    def rate_mbps(self, least_chance: float = USUAL) -> float:
        """The fastest line rate with at least this chance [Mb/s]; 0 where none has it.

        Of the line, not its payload: see `spread_mbps`. **Source**: docs/copper.md, "From margin to verdict".
        """
        return max((rate for rate, likely in self.rates if likely >= least_chance), default=0.0)

    def chance_of(self, rate_mbps: float) -> float:
        """Chance that the link carries a line rate of so many Mb/s, 0 to 1.

        A faster Ethernet that holds carries a slower rate too; above the fastest it is 0. **Source**:
        docs/copper.md, "From margin to verdict".
        """
        return max((likely for rate, likely in self.rates if rate >= rate_mbps), default=0.0)


def put_right(run: Run) -> Run:
    """The cable once it is freed, mended and taken out of its chain; the one given stays as it is.

    What was measured on a damaged one says nothing of the mended, and is left out.
    """
    freed = run.state in (RunState.DAMAGED, RunState.ALARM, RunState.LIVE_TELEPHONE)
    chained = run.topology is Topology.DAISY_CHAIN
    return run.model_copy(
        update={
            "state": RunState.DEAD if freed else run.state,
            "topology": Topology.HOME_RUN if chained else run.topology,
            "tests": () if run.state is RunState.DAMAGED else run.tests,
        }
    )


def series_of(pieces: Sequence[Segment]) -> Series:
    """The link that these segments make, put right and joined in this order.

    **Validity**: a series of more than one piece is judged, never measured; its chance leans on every joint.
    **Source**: "good splice" of the fact table `wiring_chances`; docs/copper.md, "From margin to verdict".
    """
    return _series_of(tuple(pieces))


@lru_cache(maxsize=4096)  # a choice of feeds asks of every row of pieces, edit after edit
def _series_of(pieces: tuple[Segment, ...]) -> Series:
    facts = [_facts(piece) for piece in pieces]
    joints = len(pieces) - 1
    alone = [{v.rate_mbps: v.probability for v in ethernet_verdicts(fact)} for fact in facts]
    whole = _joined(facts, joints)
    if joints == 0:
        chances = alone[0]
    else:
        physics = {v.rate_mbps: v.probability for v in ethernet_verdicts(_untested(whole))}
        parts = [{v.rate_mbps: v.probability for v in ethernet_verdicts(_untested(fact))} for fact in facts]
        chances = {}
        for rate in physics:
            together = chance("good splice") ** joints
            for piece in alone:
                together *= piece[rate]
            shortest = min(part[rate] for part in parts)
            chances[rate] = together * (min(1.0, physics[rate] / shortest) if shortest > 0 else 0.0)
        known = _known_whole(pieces, whole)
        chances = {rate: min(likely, known.get(rate, likely)) for rate, likely in chances.items()}
    feasible = [number for number in poe_classes() if poe(whole, number).band == "likely"]
    return Series(
        tuple(sorted((rate, round(likely, 3)) for rate, likely in chances.items())),
        max(feasible, default=0),
        whole.length_m[1],
    )


def _known_whole(pieces: Sequence[Segment], whole: RunFacts) -> dict[float, float]:
    """Chance of every rate by what is known of a whole chain, where these are all its pieces; else empty.

    A chain that ran with errors may have lacked what joining it through does not mend, and where nobody knows
    how a cable runs something may hang on it between its plates.
    """
    run = pieces[0].run
    told = run.tests or run.topology is Topology.UNKNOWN
    if not told or {piece.run.id for piece in pieces} != {run.id} or len(pieces) != len(run.ends) - 1:
        return {}
    low, middle, high = whole.length_m
    found = ethernet_verdicts(facts_of(run, Estimate(low=low, middle=middle, high=high)))
    return {v.rate_mbps: max(v.probability, v.lifted_probability) for v in found}


def _facts(piece: Segment) -> RunFacts:
    """One segment as physics takes it once both its ends are made anew.

    What was measured on a whole chain says nothing of its pieces. A link that came up slower than both
    ports could stays what it was: new ends may not be all that it lacks.
    """
    run = put_right(piece.run)
    if piece.is_piece:
        run = run.model_copy(update={"tests": (), "topology": Topology.HOME_RUN, "taps_m": ()})
    return replace(facts_of(run, piece.length), wire_map_ok=True)


def _rank(category: str) -> float:
    """Worst first; what nobody knows is taken for little better than the worst."""
    return 0.5 if category == UNKNOWN else list(cables()).index(category)


def _joined(facts: Sequence[RunFacts], joints: int) -> RunFacts:
    worst = min(facts, key=lambda fact: _rank(fact.category))
    pairs = [fact.pairs for fact in facts]
    splices = [fact.splices for fact in facts]
    thin = [fact.awg for fact in facts if fact.awg is not None]
    low, middle, high = (sum(fact.length_m[k] for fact in facts) for k in range(3))
    return replace(
        worst,
        pairs=None if None in pairs else min(pair for pair in pairs if pair is not None),
        length_m=(low, middle, high),
        splices=None if None in splices else sum(splice or 0 for splice in splices) + joints,
        taps_m=tuple(tap for fact in facts for tap in fact.taps_m),
        awg=max(thin) if len(thin) == len(facts) else None,
        loop_ohm=None if joints else worst.loop_ohm,
    )


def _untested(fact: RunFacts) -> RunFacts:
    return replace(fact, link_mbps=None, tried_mbps=None, errors=None, certified="")


def spread_mbps(series: Series, payload: float) -> tuple[float, float, float]:
    """Low, middle and high payload of a series: sure, usual, and what it may turn out to carry [Mb/s].

    `payload` is the share of a line rate that data get.
    """
    low, middle, high = (series.rate_mbps(least) for least in (SURE, USUAL, PERHAPS))
    return round(low * payload, 1), round(middle * payload, 1), round(max(high, middle) * payload, 1)
