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

PROOF = "prove it with a wire map, a link and a ten-minute full-load error count"


@dataclass(frozen=True)
class Verdict:
    """Whether one Ethernet holds on one run, in a band and never in tenths of a decibel."""

    ethernet: Ethernet
    rate_mbps: float
    band: Prospect
    probability: float
    reason: str
    evidence: Evidence
    lift: str  # what would lift it, or how to prove it
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

    What was measured (a certificate, a link that came up, its errors) rules over what is computed. Raises
    ValueError for a name that is not in ETHERNETS. **Validity** and **Source**: as `verdicts`.

    >>> verdict(RunFacts("quad", 2, (8.0, 10.0, 12.0), "home run"), "1000BASE-T").reason
    '1000BASE-T needs 4 pairs and this run has 2.'
    """
    index = ETHERNETS.index(ethernet)
    measured = _measured(run, ethernet)
    if measured:
        probability, reason, evidence = measured
    else:
        probability, reason, evidence = chances(run)[index], _reason(run, ethernet), _evidence(run)
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


def _measured(run: RunFacts, ethernet: Ethernet) -> tuple[float, str, Evidence] | None:
    """What a certificate or a link that came up says about one Ethernet, if anything."""
    needs = ethernet_needs()[ethernet]
    if run.certified and _certifies(run.certified, needs.certified_by):
        return chance("certified holds"), f"The channel passed a {run.certified} test.", "certified"
    if run.link_mbps is None or (run.tried_mbps is not None and needs.rate_mbps > run.tried_mbps):
        return None
    came_up = f"A {run.link_mbps:g} Mb/s link came up"
    if needs.rate_mbps > run.link_mbps:
        return chance("no up to") / 2, f"{came_up}, and nothing faster.", "measured"
    if needs.rate_mbps < run.link_mbps:
        return (
            chance("link holds" if run.errors else "soak holds"),
            f"{came_up}, and this needs less.",
            "measured",
        )
    if run.errors is None:
        return chance("link holds"), f"{came_up}; its errors were not counted.", "measured"
    if run.errors == 0:
        return chance("soak holds"), f"{came_up} and ran its soak without an error.", "measured"
    return chance("no up to") / 2, f"{came_up} but showed {run.errors} errors under load.", "measured"


def _certifies(certificate: ChannelClass, least: ChannelClass) -> bool:
    return CHANNEL_CLASSES.index(certificate) >= CHANNEL_CLASSES.index(least)


def _evidence(run: RunFacts) -> Evidence:
    known = run.category != "unknown" and run.pairs is not None and run.topology != "unknown"
    return "inferred" if known else "unknown"


_COUNTS = ("none", "one", "two", "three")


def _reason(run: RunFacts, ethernet: Ethernet) -> str:
    """The first thing that decides, in one sentence."""
    needs = ethernet_needs()[ethernet]
    if run.pairs is not None and run.pairs < needs.pairs:
        return f"{ethernet} needs {needs.pairs} pairs and this run has {run.pairs}."
    pairs = pairs_known(run.category, run.pairs)
    if pairs is not None and pairs < needs.pairs:
        return f"{ethernet} needs {needs.pairs} pairs and {run.category} has {_COUNTS[pairs]}."
    if run.wire_map_ok is False:
        return "The wire map is wrong, so no link can be trusted."
    if run.state == "damaged":
        return "The run is noted as damaged."
    if run.taps_m and max(run.taps_m) > 0:
        return f"{max(run.taps_m):g} m of cable hangs on the line and throws echoes into it."
    if run.topology in ("daisy chain", "tap"):
        return "Other outlets hang on the line and throw echoes into it."
    if run.category == "unknown":
        return "The cable kind is not known, so this is a chance over what it may be."
    name = cable(run.category).name
    row = ethernet_reach().get((ethernet, run.category))
    if row is None:
        return f"No standard promises {ethernet} on {name}: the estimate is beyond its published data."
    if run.length_m[1] > row.reach_m:
        return f"About {run.length_m[1]:.0f} m is beyond the {row.reach_m:g} m promised on {name}."
    if run.topology == "unknown":
        return "It is not known whether anything else hangs on the line."
    if run.splices or run.topology == "spliced":
        return f"{name} within its reach; old splices are a risk until opened."
    return f"{name} of about {run.length_m[1]:.0f} m is within the {row.reach_m:g} m promised."


def _lift(run: RunFacts, ethernet: Ethernet, band: Prospect) -> tuple[str, RunFacts]:
    """What to do next, and the run once it is done."""
    needs = ethernet_needs()[ethernet]
    pairs = pairs_known(run.category, run.pairs)
    if pairs is not None and pairs < needs.pairs:
        return "Pull a four-pair cable, or use another medium", run
    tried = run.tried_mbps is None or needs.rate_mbps <= run.tried_mbps
    came_up_slower = run.link_mbps is not None and run.link_mbps < needs.rate_mbps and tried
    steps, mended = _mending(run, came_up_slower)
    if not steps and band == "no":
        return "Pull a new cable, or use another medium", run
    text = ", ".join([*steps, PROOF])
    return text[0].upper() + text[1:], mended


@lru_cache(maxsize=4096)
def _mending(run: RunFacts, came_up_slower: bool) -> tuple[tuple[str, ...], RunFacts]:
    """Steps that could lift a rate on a run, in working order, and the run after them."""
    steps = []
    mended = replace(run, wire_map_ok=True, link_mbps=None, tried_mbps=None, errors=None)
    if run.state in ("live telephone", "alarm"):
        steps.append("have whoever depends on the line sign it off")
    if run.state == "damaged":
        steps.append("find and mend the damage")
        mended = replace(mended, state="dead")
    if run.wire_map_ok is False or run.errors:
        steps.append("re-terminate both ends")
    elif came_up_slower:
        steps.append("look for a missing or split pair")
    if run.taps_m or run.topology in ("daisy chain", "tap"):
        steps.append("join the run straight through at each box so that nothing hangs on it")
        mended = replace(mended, taps_m=(), topology="home run")
    if run.splices or run.topology == "spliced":
        steps.append("open and remake the splices")
        mended = replace(
            mended, splices=0, topology="home run" if run.topology == "spliced" else mended.topology
        )
    if run.category == "unknown":
        steps.append("read the sheath print")
    if run.pairs is None:
        steps.append("count the pairs")
    if run.topology == "unknown":
        steps.append("tone it to see whether it is one run")
    return tuple(steps), mended
