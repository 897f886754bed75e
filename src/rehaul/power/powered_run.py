"""Power over Ethernet on one run: does the class arrive, at what voltage, with how much lost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from rehaul.errors import require_range
from rehaul.facts.cables import cable, cables, pairs_known
from rehaul.facts.conductors import copper_property
from rehaul.facts.grades import Evidence, Prospect
from rehaul.facts.poe import PoeRow, poe_class_row
from rehaul.power.load import LoadPower, deliver
from rehaul.power.resistance import conductor_ohm
from rehaul.words import Saying, say

AS_PRINTED = 1.002  # watts of a class are rounded: at its own ohms 45 W come out as 45.08, 4 as 4.006


class PoweredRun(Protocol):
    """What powering needs to know of a run; `rehaul.copper.RunFacts` has it."""

    @property
    def category(self) -> str: ...
    @property
    def pairs(self) -> int | None: ...
    @property
    def length_m(self) -> tuple[float, float, float]: ...
    @property
    def topology(self) -> str: ...
    @property
    def splices(self) -> int | None: ...
    @property
    def state(self) -> str: ...
    @property
    def awg(self) -> int | None: ...
    @property
    def loop_ohm(self) -> float | None: ...
    @property
    def temperature_c(self) -> float: ...
    @property
    def wire_map_ok(self) -> bool | None: ...


@dataclass(frozen=True)
class PoeResult:
    """One class on one run: middle estimate, its range over the survey's unknowns, and the verdict."""

    poe_class: int
    feasible: bool
    voltage_at_device_v: float  # 0 where the class is not feasible at the middle estimate
    voltage_range_v: tuple[float, float]
    current_a: float  # total, all pairs
    loss_w: float
    reason: Saying
    band: Prospect
    evidence: Evidence
    lift: str  # what to do first, empty where nothing stands in the way


def poe(
    run: PoweredRun, poe_class: int, pse_voltage_v: float | None = None, *, joined: bool = False
) -> PoeResult:
    """Whether a PoE class arrives over a run.

    Parameters: run; poe_class 1 to 8; pse_voltage_v at the source, the class's least where None;
    joined to reckon as if the run were joined straight through at every box.
    Returns the result with a band: likely where even the long, thin end of the ranges works.
    Raises BadInput for an unknown class, OutOfRange for a source voltage outside 44 to 57 V.

    **Validity**: solid copper, sound joints; a corroded joint heats and is not in it.
    **Source**: fact rows `poe_classes` (IEEE 802.3 clauses 33 and 145), `conductors`.

    >>> from rehaul.copper import RunFacts
    >>> poe(RunFacts("cat5e", 4, (55.0, 60.0, 65.0), "home run"), 4).reason
    'About 47 V reaches the device over about 60 m of 24 AWG.'
    """
    row = poe_class_row(poe_class)
    source_v = row.source_min_v if pse_voltage_v is None else pse_voltage_v
    require_range(source_v, 44.0, 57.0, name="pse_voltage_v", source="IEEE 802.3")
    evidence = _evidence(run)
    lift = ""
    bar = _bar(run, row, joined)
    if bar:
        return PoeResult(poe_class, False, 0.0, (0.0, 0.0), 0.0, 0.0, bar[0], "no", evidence, bar[1])
    best, middle, worst = (_attempt(row, source_v, ohm) for ohm in _pairset_range_ohm(run))
    span = (worst.voltage_v if worst else 0.0, best.voltage_v if best else 0.0)
    if middle is None:
        reason = say(
            "power.past_limits",
            poe_class=poe_class,
            wire=_wire(run),
            limit_a=row.pairset_a * row.pairsets,
            limit_w=row.source_w,
            counted_ohm=row.channel_ohm,
            ohm=_pairset_range_ohm(run)[1],
        )
        lift = say("power.lower_class")
        band: Prospect = "try it" if best else "no"
        return PoeResult(poe_class, False, 0.0, span, 0.0, 0.0, reason, band, evidence, lift)
    settled = run.pairs is not None and (joined or run.topology in ("home run", "spliced"))
    if worst and settled and run.state != "damaged":
        band = "likely"
    else:
        band, lift = "try it", say("power.count_and_measure")
    reason = say("power.reaches_device", voltage_v=middle.voltage_v, wire=_wire(run))
    return PoeResult(
        poe_class, True, middle.voltage_v, span, middle.current_a, middle.loss_w, reason, band, evidence, lift
    )


def pairset_ohm(length_m: float, awg: int, *, splices: int = 0, temperature_c: float = 20.0) -> float:
    """Loop resistance of one pairset, two conductors out and two back, in ohm.

    **Validity**: balanced conductors. **Source**: two parallel conductors each way, handbook.
    """
    joints = splices * copper_property("splice resistance")
    return conductor_ohm(length_m, awg, temperature_c) + joints


def _pairset_range_ohm(run: PoweredRun) -> tuple[float, float, float]:
    """Loop resistance of one pairset: short and thick, middle, long and thin."""
    if run.loop_ohm is not None:
        error = copper_property("meter error")
        return max(run.loop_ohm - error, 0.0) / 2.0, run.loop_ohm / 2.0, (run.loop_ohm + error) / 2.0
    awg, thin = _gauge(run)
    low_m, middle_m, high_m = run.length_m
    lengths = ((low_m, awg), (middle_m, awg), (high_m, thin))
    low, middle, high = (
        pairset_ohm(length_m, gauge, splices=run.splices or 0, temperature_c=run.temperature_c)
        for length_m, gauge in lengths
    )
    return low, middle, high


def _attempt(row: PoeRow, source_v: float, pairset: float) -> LoadPower | None:
    """What a class delivers over one pairset resistance; None where it breaks a limit."""
    got = deliver(source_v, pairset / row.pairsets, row.device_w)
    if got is None or got.current_a > row.pairset_a * row.pairsets:
        return None
    if got.current_a * source_v > row.source_w * AS_PRINTED or got.voltage_v < row.device_min_v:
        return None
    return got


def _wire(run: PoweredRun) -> Saying:
    if run.loop_ohm is not None:
        return say("power.wire_measured", loop_ohm=run.loop_ohm)
    return say("power.wire_length", length_m=run.length_m[1], awg=_gauge(run)[0])


def _bar(run: PoweredRun, row: PoeRow, joined: bool) -> tuple[Saying, Saying] | None:
    """What rules powering out before any arithmetic, and what to do; None where nothing does."""
    pairs = pairs_known(run.category, run.pairs)
    if run.state in ("live telephone", "alarm"):
        return say("power.in_use", state=run.state), say("power.sign_off_first")
    if pairs is not None and pairs < 2 * row.pairsets:
        asked = {"poe_class": row.poe_class, "needed": 2 * row.pairsets, "pairs": pairs}
        if pairs >= 2:
            return say("power.pairs_class_4", **asked), say("power.ask_class_4")
        return say("power.pairs_too_few", **asked), say("power.pull_new")
    if run.wire_map_ok is False:
        return say("power.map_wrong"), say("power.map_again")
    if run.topology in ("daisy chain", "tap") and not joined:
        return say("power.others_on_it"), say("power.join_then_test")
    return None


def _gauge(run: PoweredRun) -> tuple[int, int]:
    """Gauge to reckon with, and the thinnest it may be."""
    if run.awg is not None:
        return run.awg, run.awg
    if run.category in cables():
        return cable(run.category).awg, cable(run.category).awg
    return int(copper_property("usual gauge")), int(copper_property("thinnest gauge"))


def _evidence(run: PoweredRun) -> Evidence:
    if run.loop_ohm is not None:
        return "measured"
    known = run.category != "unknown" and run.pairs is not None and run.topology != "unknown"
    return "inferred" if known else "unknown"
