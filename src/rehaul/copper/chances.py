"""The chance that each Ethernet holds on a run, over everything the survey left open."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from rehaul.copper.margins import margins_db
from rehaul.copper.run import RunFacts
from rehaul.facts.cables import CABLE_KINDS, CableKind, cables
from rehaul.facts.conductors import conductor, copper_property
from rehaul.facts.ethernet import ETHERNETS, ethernet_needs, ethernet_reach
from rehaul.facts.grades import chance

Reals = NDArray[np.float64]

# Three points stand for a low-middle-high estimate; weights of Pearson and Tukey (1965).
RANGE_WEIGHTS = np.array([0.185, 0.63, 0.185])


def kind_chances(run: RunFacts) -> dict[CableKind, float]:
    """What the cable may be, with the chance of each kind."""
    if run.category != "unknown":
        return {run.category: 1.0}
    possible = {kind: chance(f"unknown is {kind}") for kind in CABLE_KINDS}
    if run.pairs is not None and run.pairs != 2:
        possible["quad"] = 0.0
    total = sum(possible.values())
    return {kind: share / total for kind, share in possible.items() if share > 0}


def four_pair_chance(run: RunFacts, kind: CableKind) -> float:
    """Chance that the run has four usable pairs."""
    if run.pairs is not None:
        return 1.0 if run.pairs >= 4 else 0.0
    if kind == "quad":
        return 0.0
    return chance("four pairs in cat3" if kind == "cat3" else "four pairs in cat5")


def tap_scenarios(run: RunFacts) -> tuple[Reals, Reals]:
    """Lengths of what may hang on the run and their weights, [n] each."""
    if run.taps_m:
        # Several taps cost at most about as much as the worst of them plus the rest: take the worst.
        return np.array([max(run.taps_m)]), np.ones(1)
    if run.topology in ("daisy chain", "tap"):
        return CHAIN_TAPS_M, RANGE_WEIGHTS
    if run.topology == "unknown":
        chained = chance("unknown is chained")
        return np.append(CHAIN_TAPS_M, 0.0), np.append(RANGE_WEIGHTS * chained, 1.0 - chained)
    return np.zeros(1), np.ones(1)


CHAIN_TAPS_M = np.array([2.0, 8.0, 20.0])


def workmanship_chance(run: RunFacts) -> float:
    """Chance that joints and ends are sound, from splices, wire map and damage."""
    splices = run.splices if run.splices is not None else (2 if run.topology == "spliced" else 0)
    sound = chance("good splice") ** splices
    if run.wire_map_ok is None:
        sound *= chance("good termination")
    if run.state == "damaged" and not run.wire_map_ok:
        sound *= chance("damaged works")
    return 0.0 if run.wire_map_ok is False else sound


@cache
def chances(run: RunFacts) -> tuple[float, ...]:
    """Chance that each Ethernet of ETHERNETS holds on the run as it stands, before measurements."""
    taps_m, tap_weights = tap_scenarios(run)
    warmer_c = run.temperature_c - copper_property("reference temperature")
    hotter = 1.0 + copper_property("insertion loss per kelvin") * warmer_c
    total = np.zeros(len(ETHERNETS))
    for kind, share in kind_chances(run).items():
        thinner = 1.0
        if run.awg is not None:
            thinner = conductor(cables()[kind].awg).diameter_m / conductor(run.awg).diameter_m
        lengths_m = np.repeat(np.array(run.length_m), taps_m.size)
        weights = np.outer(RANGE_WEIGHTS, tap_weights).ravel()
        margin_db = margins_db(kind, lengths_m * hotter * thinner, np.tile(taps_m, 3))
        holds = ndtr(margin_db / _spread_db(kind)[:, None])
        # A four-pair link that fails will not hold at a faster symbol rate on the same pairs.
        holds[FOUR_PAIR] = np.minimum.accumulate(holds[FOUR_PAIR], axis=0)
        holds = np.where(_promised(kind, lengths_m), holds, np.minimum(holds, chance("beyond published")))
        total += share * (holds @ weights) * _enough_pairs(run, kind)
    return tuple(float(value) for value in total * workmanship_chance(run))


FOUR_PAIR = [index for index, e in enumerate(ETHERNETS) if ethernet_needs()[e].pairs == 4]


def _spread_db(kind: CableKind) -> Reals:
    """Standard deviation of a computed margin, wider by octaves beyond the published top, [ethernet]."""
    row = cables()[kind]
    nyquist_hz = np.array([ethernet_needs()[e].symbol_rate_hz / 2.0 for e in ETHERNETS])
    octaves = np.maximum(np.log2(nyquist_hz / row.top_hz), 0.0)
    return row.spread_db + chance("spread an octave beyond") * octaves


def _promised(kind: CableKind, lengths_m: Reals) -> NDArray[np.bool_]:
    """Whether a standard promises each Ethernet at each length, [ethernet, n]."""
    rows = ethernet_reach()
    reach_m = [rows[e, kind].reach_m if (e, kind) in rows else -1.0 for e in ETHERNETS]
    return lengths_m[None, :] <= np.array(reach_m)[:, None]


def _enough_pairs(run: RunFacts, kind: CableKind) -> Reals:
    """Chance of enough pairs for each Ethernet, [ethernet]."""
    two = 0.0 if run.pairs is not None and run.pairs < 2 else 1.0
    four = four_pair_chance(run, kind)
    return np.array([two if ethernet_needs()[e].pairs == 2 else four for e in ETHERNETS])
