"""The verdict on a run for each Ethernet: a band, the reason, its evidence, and what would lift it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from rehaul.copper.chances import chances
from rehaul.copper.run import RunFacts
from rehaul.facts.cables import ChannelClass, cable, pairs_known
from rehaul.facts.ethernet import (
    CHANNEL_CLASSES,
    ETHERNETS,
    Ethernet,
    ethernet_needs,
    ethernet_reach,
)
from rehaul.facts.grades import Evidence, Prospect, band_of, chance
from rehaul.words import Saying, say, term


@dataclass(frozen=True)
class Verdict:
    """Whether one Ethernet holds on one run, in a band and never in tenths of a decibel."""

    ethernet: Ethernet
    rate_mbps: float
    band: Prospect
    probability: float
    reason: Saying
    evidence: Evidence
    lift: Saying  # what would lift it, or how to prove it
    lifted_band: Prospect  # the band once that is done
    lifted_probability: float


def verdicts(run: RunFacts) -> tuple[Verdict, ...]:
    """Verdicts on a run for every Ethernet, slowest first.

    **Validity**: bands only; every verdict ends in a link-and-error test on site.
    **Source**: `margin_db` over the run's ranges, published reaches, trade judgement for workmanship.

    >>> run = RunFacts("cat5e", 4, (12.0, 15.0, 18.0), "home run")
    >>> [found.band for found in verdicts(run)]
    ['likely', 'likely', 'likely', 'likely', 'try it', 'try it']
    """
    return tuple(verdict(run, ethernet) for ethernet in ETHERNETS)


@lru_cache(maxsize=8192)
def verdict(run: RunFacts, ethernet: Ethernet) -> Verdict:
    """Verdict on a run for one Ethernet, such as "1000BASE-T".

    What was measured (a certificate, a link that came up, its errors) rules over what is computed, and no
    rate is surer than a slower one over the same cable. Raises ValueError for a name that is not in
    ETHERNETS. **Validity** and **Source**: as `verdicts`.

    >>> verdict(RunFacts("quad", 2, (8.0, 10.0, 12.0), "home run"), "1000BASE-T").reason
    '1000BASE-T needs 4 pairs and this run has 2.'
    """
    index = ETHERNETS.index(ethernet)
    measured = _measured(run, ethernet)
    computed = chances(run)[index], _reason(run, ethernet), _evidence(run)
    probability, reason, evidence = measured or computed
    slower = verdict(run, ETHERNETS[index - 1]) if index else None
    if slower and slower.probability < probability:  # by what was measured at the slower rate
        if not measured and band_of(slower.probability) != band_of(probability):
            reason, evidence = slower.reason, slower.evidence
        probability = slower.probability
    lift, mended = _lift(run, ethernet, band_of(probability))
    lifted = max(probability, chances(mended)[index])
    return Verdict(
        ethernet=ethernet,
        rate_mbps=ethernet_needs()[ethernet].rate_mbps,
        band=band_of(probability),
        probability=probability,
        reason=reason,
        evidence=evidence,
        lift=lift,
        lifted_band=band_of(lifted),
        lifted_probability=lifted,
    )


def _measured(run: RunFacts, ethernet: Ethernet) -> tuple[float, Saying, Evidence] | None:
    """What a certificate or a link that came up says about one Ethernet, if anything."""
    needs = ethernet_needs()[ethernet]
    if run.certified and _certifies(run.certified, needs.certified_by):
        return chance("certified holds"), say("copper.certified", certificate=run.certified), "certified"
    if run.link_mbps is None or (run.tried_mbps is not None and needs.rate_mbps > run.tried_mbps):
        return None
    came_up = run.link_mbps
    if needs.rate_mbps > run.link_mbps:
        return chance("no up to") / 2, say("copper.link_no_faster", link_mbps=came_up), "measured"
    if needs.rate_mbps < run.link_mbps:
        return (
            chance("link holds" if run.errors else "soak holds"),
            say("copper.link_needs_less", link_mbps=came_up),
            "measured",
        )
    if run.errors is None:
        return chance("link holds"), say("copper.link_not_counted", link_mbps=came_up), "measured"
    if run.errors == 0:
        return chance("soak holds"), say("copper.link_clean", link_mbps=came_up), "measured"
    said = say("copper.link_errors", link_mbps=came_up, errors=run.errors)
    return chance("no up to") / 2, said, "measured"


def _certifies(certificate: ChannelClass, least: ChannelClass) -> bool:
    return CHANNEL_CLASSES.index(certificate) >= CHANNEL_CLASSES.index(least)


def _evidence(run: RunFacts) -> Evidence:
    known = run.category != "unknown" and run.pairs is not None and run.topology != "unknown"
    return "inferred" if known else "unknown"


def _reason(run: RunFacts, ethernet: Ethernet) -> Saying:
    """The first thing that decides, in one sentence."""
    needs = ethernet_needs()[ethernet]
    if run.pairs is not None and run.pairs < needs.pairs:
        return say("copper.run_lacks_pairs", ethernet=ethernet, needed=needs.pairs, pairs=run.pairs)
    pairs = pairs_known(run.category, run.pairs)
    if pairs is not None and pairs < needs.pairs:
        few = "copper.kind_lacks_pairs"
        return say(few, ethernet=ethernet, needed=needs.pairs, kind=run.category, pairs=pairs)
    if run.wire_map_ok is False:
        return say("copper.wire_map_wrong")
    if run.state == "damaged":
        return say("copper.damaged")
    if run.taps_m and max(run.taps_m) > 0:
        return say("copper.tap_of_length", tap_m=max(run.taps_m))
    if run.topology in ("daisy chain", "tap"):
        return say("copper.others_hang_on_it")
    if run.category == "unknown":
        return say("copper.kind_not_known")
    name = term(cable(run.category).name)
    row = ethernet_reach().get((ethernet, run.category))
    if row is None:
        return say("copper.no_standard", ethernet=ethernet, name=name)
    if run.length_m[1] > row.reach_m:
        return say("copper.beyond_reach", length_m=run.length_m[1], reach_m=row.reach_m, name=name)
    if run.topology == "unknown":
        return say("copper.topology_not_known")
    if run.splices or run.topology == "spliced":
        return say("copper.old_splices", name=name)
    return say("copper.within_reach", name=name, length_m=run.length_m[1], reach_m=row.reach_m)


def _lift(run: RunFacts, ethernet: Ethernet, band: Prospect) -> tuple[Saying, RunFacts]:
    """What to do next, and the run once it is done."""
    needs = ethernet_needs()[ethernet]
    pairs = pairs_known(run.category, run.pairs)
    if pairs is not None and pairs < needs.pairs:
        return say("copper.pull_four_pairs"), run
    tried = run.tried_mbps is None or needs.rate_mbps <= run.tried_mbps
    came_up_slower = run.link_mbps is not None and run.link_mbps < needs.rate_mbps and tried
    steps, mended = _mending(run, came_up_slower)
    if not steps and band == "no":
        return say("copper.pull_another"), run
    return say("copper.steps", steps=(*steps, say("copper.prove_it"))), mended


@lru_cache(maxsize=4096)
def _mending(run: RunFacts, came_up_slower: bool) -> tuple[tuple[Saying, ...], RunFacts]:
    """Steps that could lift a rate on a run, in working order, and the run after them."""
    steps = []
    mended = replace(run, wire_map_ok=True, link_mbps=None, tried_mbps=None, errors=None)
    if run.state in ("live telephone", "alarm"):
        steps.append(say("copper.sign_it_off"))
    if run.state == "damaged":
        steps.append(say("copper.mend_damage"))
        mended = replace(mended, state="dead")
    if run.wire_map_ok is False or run.errors:
        steps.append(say("copper.terminate_again"))
    elif came_up_slower:
        steps.append(say("copper.look_for_pair"))
    if run.taps_m or run.topology in ("daisy chain", "tap"):
        steps.append(say("copper.join_through"))
        mended = replace(mended, taps_m=(), topology="home run")
    if run.splices or run.topology == "spliced":
        steps.append(say("copper.remake_splices"))
        mended = replace(
            mended, splices=0, topology="home run" if run.topology == "spliced" else mended.topology
        )
    if run.category == "unknown":
        steps.append(say("copper.read_sheath"))
    if run.pairs is None:
        steps.append(say("copper.count_pairs"))
    if run.topology == "unknown":
        steps.append(say("copper.tone_it"))
    return tuple(steps), mended
