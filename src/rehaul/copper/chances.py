"""The chance that each Ethernet holds on a run, over everything the survey left open."""

from __future__ import annotations

from functools import cache, lru_cache

import numpy as np

from rehaul.arrays import Reals
from rehaul.copper.margins import Cases, margins_db
from rehaul.copper.run import RunFacts
from rehaul.facts.cables import PairCableKind, cable, cables
from rehaul.facts.conductors import conductor, copper_property
from rehaul.facts.ethernet import ETHERNETS, ethernet_needs, ethernet_reach
from rehaul.facts.grades import chance
from rehaul.facts.grades import chances as judged_chances
from rehaul.normal import below

# Three points stand for a low-middle-high estimate; weights of Pearson and Tukey (1965).
RANGE_WEIGHTS = (0.185, 0.63, 0.185)


def kind_chances(run: RunFacts) -> dict[PairCableKind, float]:
    """What the cable of a run may be, with the chance of each kind with pairs; the chances add to 1.

    A kind that was read is certain. Of an unknown one a count of pairs weighs the kinds; those that cannot
    have so many are left out. **Source**: the fact tables `wiring_chances` and `cable_kinds`, trade
    judgement.

    >>> kind_chances(RunFacts("cat5e", 4, (10.0, 12.0, 15.0), "home run"))
    {'cat5e': 1.0}
    """
    if run.category != "unknown":
        return {run.category: 1.0}
    known = judged_chances()
    possible = {kind: known[name] for kind in cables() if (name := f"unknown is {kind}") in known}
    if run.pairs is not None:
        four = run.pairs >= 4
        for kind in possible:
            usual = four_pairs_usual(kind)
            possible[kind] *= usual if four else 1.0 - usual
    total = sum(possible.values())
    return {kind: share / total for kind, share in possible.items() if share > 0}


def four_pairs_usual(kind: PairCableKind) -> float:
    """Chance that a cable of a kind has four pairs when nobody has counted; 0 for kinds that never have.

    Raises BadInput for a kind without pairs. **Source**: the fact table `wiring_chances`, trade judgement.

    >>> four_pairs_usual("quad")
    0.0
    """
    named = cable(kind).four_pairs
    return chance(named) if named else 0.0


def four_pair_chance(run: RunFacts, kind: PairCableKind) -> float:
    """Chance that a run has four usable pairs: sure where they were counted, else what is usual of the kind.

    `kind` is what the cable is taken to be, whatever the run says. **Source**: as `four_pairs_usual`.
    """
    if run.pairs is not None:
        return 1.0 if run.pairs >= 4 else 0.0
    return four_pairs_usual(kind)


def tap_scenarios(run: RunFacts) -> tuple[tuple[tuple[float, ...], float], ...]:
    """What may hang on a run: lengths of taps [m], with the weight of each case; the weights add to 1.

    Known taps are one case, and a run straight through is the case of none. Where it is not known whether
    the run is in a chain, the case of none comes first. **Source**: chain taps of the fact table
    `copper_properties` and a chance of `wiring_chances`, trade judgement.

    >>> tap_scenarios(RunFacts("cat5e", 4, (10.0, 12.0, 15.0), "home run"))
    (((), 1.0),)
    """
    if run.taps_m:
        return ((run.taps_m, 1.0),)
    lengths_m = (copper_property(f"{size} chain tap") for size in ("short", "middle", "long"))
    chained = tuple(((tap_m,), weight) for tap_m, weight in zip(lengths_m, RANGE_WEIGHTS, strict=True))
    if run.topology in ("daisy chain", "tap"):
        return chained
    if run.topology == "unknown":
        share = chance("unknown is chained")
        return (((), 1.0 - share), *((taps_m, share * weight) for taps_m, weight in chained))
    return (((), 1.0),)


def workmanship_chance(run: RunFacts) -> float:
    """Chance that joints and ends of a run are sound, from splices, wire map and damage.

    0 where the wire map is wrong. A wire map that is right settles the ends and the damage, not the
    splices. **Source**: chances of the fact table `wiring_chances`, trade judgement.
    """
    splices: float = run.splices or 0
    if run.splices is None and run.topology == "spliced":
        splices = copper_property("unopened splices")
    sound = chance("good splice") ** splices
    if run.wire_map_ok is None:
        sound *= chance("good termination")
    if run.state == "damaged" and not run.wire_map_ok:
        sound *= chance("damaged works")
    return 0.0 if run.wire_map_ok is False else sound


@lru_cache(maxsize=4096)
def chances(run: RunFacts) -> tuple[float, ...]:
    """Chance that each Ethernet of ETHERNETS holds on the run as it stands, before measurements.

    Slowest first. The mean over what the cable may be, its length and what may hang on it, times that of
    sound workmanship. **Validity** and **Source**: as `copper.verdicts`, which lets measurements rule.
    """
    sound = workmanship_chance(run)
    return tuple(sound * holds for holds in _line_chances(_electrical(run)))


def _electrical(run: RunFacts) -> RunFacts:
    """The run with only what the line's physics depends on, so that like runs share one reckoning."""
    return RunFacts(
        category=run.category,
        pairs=run.pairs,
        length_m=run.length_m,
        topology="home run" if run.topology == "spliced" else run.topology,
        taps_m=run.taps_m,
        awg=run.awg,
        temperature_c=run.temperature_c,
    )


@lru_cache(maxsize=4096)
def _line_chances(run: RunFacts) -> tuple[float, ...]:
    """Chance that each Ethernet holds on the run if every joint and end is sound."""
    shares = kind_chances(run)
    scenarios = tap_scenarios(run)
    cases = tuple(taps_m for taps_m, _ in scenarios)
    holds = _holds(run, tuple(shares), cases)  # (kind, length, case, ethernet)
    weights = np.array([weight for _, weight in scenarios])
    by_kind = np.einsum("klce,l,c->ke", holds, np.array(RANGE_WEIGHTS), weights)
    enough = np.array([_enough_pairs(run, kind) for kind in shares])
    total = np.array(list(shares.values())) @ (by_kind * enough)
    return tuple(float(value) for value in total)


def _holds(run: RunFacts, kinds: tuple[PairCableKind, ...], cases: Cases) -> Reals:
    """Chance that the margin is above nought, [kind, length, case, ethernet]."""
    # Telephone cable is never likelier than Category 5e under the same faults, however unsure its row is.
    judged = kinds if BENCHMARK_KIND in kinds else (*kinds, BENCHMARK_KIND)
    length_m = np.array([run.length_m for _ in judged])
    alike_m = length_m * np.array([_alike(run, kind) for kind in judged])[:, None]
    spread_db = np.array([_spread_db(kind) for kind in judged])[:, None, None]
    holds = np.asarray(below(margins_db(judged, alike_m, cases) / spread_db))
    # What fails at a rate is not to be trusted with a faster one, whatever that one's receiver cancels.
    holds = np.minimum.accumulate(holds, axis=-1)
    reach_m = np.array([_reach_m(kind) for kind in judged])[:, None, None]
    promised = (length_m[:, :, None, None] <= reach_m) & np.array([not taps for taps in cases])[:, None]
    holds = np.where(promised, holds, np.minimum(holds, chance("beyond published")))
    benchmark = holds[judged.index(BENCHMARK_KIND)]
    poorer = np.array([cable(kind).telephone for kind in judged])[:, None, None, None]
    return np.asarray(np.where(poorer, np.minimum(holds, benchmark), holds)[: len(kinds)])


BENCHMARK_KIND: PairCableKind = "cat5e"


def _alike(run: RunFacts, kind: PairCableKind) -> float:
    """A hotter or thinner cable loses as much as one this many times as long."""
    warmer_c = run.temperature_c - copper_property("reference temperature")
    hotter = 1.0 + copper_property("insertion loss per kelvin") * warmer_c
    if run.awg is None:
        return hotter
    return hotter * conductor(cable(kind).awg).diameter_m / conductor(run.awg).diameter_m


@cache
def _spread_db(kind: PairCableKind) -> Reals:
    """Standard deviation of a computed margin, wider by octaves beyond the published top, [ethernet]."""
    row = cable(kind)
    nyquist_hz = np.array([ethernet_needs()[e].symbol_rate_hz / 2.0 for e in ETHERNETS])
    octaves = np.maximum(np.log2(nyquist_hz / row.top_hz), 0.0)
    return row.spread_db + copper_property("spread per octave beyond") * octaves


@cache
def _reach_m(kind: PairCableKind) -> Reals:
    """Published reach of each Ethernet on a kind, below nought where there is none, [ethernet]."""
    rows = ethernet_reach()
    return np.array([rows[e, kind].reach_m if (e, kind) in rows else -1.0 for e in ETHERNETS])


def _enough_pairs(run: RunFacts, kind: PairCableKind) -> Reals:
    """Chance of enough pairs for each Ethernet, [ethernet]."""
    two = 0.0 if run.pairs is not None and run.pairs < 2 else 1.0
    four = four_pair_chance(run, kind)
    return np.array([two if ethernet_needs()[e].pairs == 2 else four for e in ETHERNETS])
