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
    reason: str
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
    bar, lift = _bar(run, row, joined)
    if bar:
        return PoeResult(poe_class, False, 0.0, (0.0, 0.0), 0.0, 0.0, bar, "no", evidence, lift)
    best, middle, worst = (_attempt(row, source_v, ohm) for ohm in _pairset_range_ohm(run))
    span = (worst.voltage_v if worst else 0.0, best.voltage_v if best else 0.0)
    if middle is None:
        limits = f"{row.pairset_a * row.pairsets:g} A or {row.source_w:g} W at the source"
        counted = f"it counts on {row.channel_ohm:g} ohm in a pairset, and this one has about"
        ohm = _pairset_range_ohm(run)[1]
        reason = f"Class {poe_class} over {_wire(run)} would go past {limits}: {counted} {ohm:.0f}."
        lift = "Ask for a lower class, or pull thicker copper"
        band: Prospect = "try it" if best else "no"
        return PoeResult(poe_class, False, 0.0, span, 0.0, 0.0, reason, band, evidence, lift)
    settled = run.pairs is not None and (joined or run.topology in ("home run", "spliced"))
    if worst and settled and run.state != "damaged":
        band, lift = "likely", ""
    else:
        band, lift = "try it", "Count the pairs, and measure the loop resistance with a meter"
    reason = f"About {middle.voltage_v:.0f} V reaches the device over {_wire(run)}."
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
    if got.current_a * source_v > row.source_w or got.voltage_v < row.device_min_v:
        return None
    return got


def _wire(run: PoweredRun) -> str:
    if run.loop_ohm is not None:
        return f"a loop measured at {run.loop_ohm:.0f} ohm"
    return f"about {run.length_m[1]:.0f} m of {_gauge(run)[0]} AWG"


def _bar(run: PoweredRun, row: PoeRow, joined: bool) -> tuple[str, str]:
    """What rules powering out before any arithmetic, and what to do; empty where nothing does."""
    pairs = pairs_known(run.category, run.pairs)
    if run.state in ("live telephone", "alarm"):
        reason = f"The run is in use ({run.state}): never feed power into it."
        return reason, "Have whoever depends on it sign it off, then test again"
    if pairs is not None and pairs < 2 * row.pairsets:
        most = "class 4 is the most on two pairs" if pairs >= 2 else "powering takes two pairs"
        reason = f"Class {row.poe_class} needs {2 * row.pairsets} pairs and this run has {pairs}: {most}."
        return reason, "Ask for class 4 or less" if pairs >= 2 else "Pull a new cable"
    if run.wire_map_ok is False:
        reason = "The wire map is wrong: power could meet the wrong conductors."
        return reason, "Re-terminate both ends and read the wire map again"
    if run.topology in ("daisy chain", "tap") and not joined:
        reason = "Other outlets hang on the run and must not see power."
        return reason, "Join the run straight through at each box, then test again"
    return "", ""


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
