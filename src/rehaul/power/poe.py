"""Power over Ethernet on one run: does the class arrive, at what voltage, with how much lost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from rehaul.errors import require_range
from rehaul.facts.cables import cables
from rehaul.facts.conductors import copper_property
from rehaul.facts.grades import Band, Evidence
from rehaul.facts.poe import PoeRow, poe_class_row, poe_classes
from rehaul.power.load import Delivered, deliver
from rehaul.power.resistance import conductor_ohm

THINNEST_GUESS_AWG, USUAL_AWG = 26, 24


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
    band: Band
    evidence: Evidence


def poe(run: PoweredRun, poe_class: int, pse_voltage_v: float | None = None) -> PoeResult:
    """Whether a PoE class arrives over a run.

    Parameters: run; poe_class 1 to 8; pse_voltage_v at the source, the class's least where None.
    Returns the result with a band: likely where even the long, thin end of the ranges works.
    Raises BadInput for an unknown class, OutOfRange for a source voltage outside 44 to 57 V.

    **Validity**: solid copper, sound joints; a corroded joint heats and is not in it.
    **Source**: fact rows `poe_classes` (IEEE 802.3 clauses 33 and 145), `conductors`.
    """
    row = poe_class_row(poe_class)
    source_v = row.source_min_v if pse_voltage_v is None else pse_voltage_v
    require_range(source_v, 44.0, 57.0, name="pse_voltage_v", source="IEEE 802.3")
    evidence = _evidence(run)
    bar = _bar(run, row)
    if bar:
        return PoeResult(poe_class, False, 0.0, (0.0, 0.0), 0.0, 0.0, bar, "no", evidence)
    low_m, middle_m, high_m = run.length_m
    awg, thin = _gauge(run)
    middle = _attempt(run, row, source_v, middle_m, awg)
    best = _attempt(run, row, source_v, low_m, awg)
    worst = _attempt(run, row, source_v, high_m, thin)
    if middle is None:
        band: Band = "try it" if best else "no"
        limit = f"{row.pairset_a * row.pairsets:g} A and {row.source_w:g} W at the source"
        reason = f"About {middle_m:.0f} m of {awg} AWG would take class {poe_class} past {limit}."
        return PoeResult(
            poe_class, False, 0.0, (0.0, best.voltage_v if best else 0.0), 0, 0, reason, band, evidence
        )
    joints_known = run.pairs is not None and run.topology in ("home run", "spliced")
    band = "likely" if worst and joints_known and run.state != "damaged" else "try it"
    span = (worst.voltage_v if worst else 0.0, best.voltage_v if best else middle.voltage_v)
    reason = f"About {middle.voltage_v:.0f} V reaches the device over {middle_m:.0f} m of {awg} AWG."
    return PoeResult(
        poe_class, True, middle.voltage_v, span, middle.current_a, middle.loss_w, reason, band, evidence
    )


def poe_class_of_run(run: PoweredRun, pse_voltage_v: float | None = None) -> int:
    """Highest class that is likely to arrive over a run; 0 where none is.

    **Validity** and **Source**: as `poe`.
    """
    likely = [number for number in poe_classes() if poe(run, number, pse_voltage_v).band == "likely"]
    return max(likely, default=0)


def pairset_ohm(length_m: float, awg: int, *, splices: int = 0, temperature_c: float = 20.0) -> float:
    """Loop resistance of one pairset, two conductors out and two back, in ohm.

    **Validity**: balanced conductors. **Source**: two parallel conductors each way, handbook.
    """
    joints = splices * copper_property("splice resistance")
    return conductor_ohm(length_m, awg, temperature_c) + joints


def _attempt(run: PoweredRun, row: PoeRow, source_v: float, length_m: float, awg: int) -> Delivered | None:
    """What a class delivers over one length and gauge; None where it breaks a limit."""
    splices = run.splices or 0
    line_ohm = pairset_ohm(length_m, awg, splices=splices, temperature_c=run.temperature_c) / row.pairsets
    got = deliver(source_v, line_ohm, row.device_w)
    if got is None or got.current_a > row.pairset_a * row.pairsets:
        return None
    if got.current_a * source_v > row.source_w or got.voltage_v < row.device_min_v:
        return None
    return got


def _bar(run: PoweredRun, row: PoeRow) -> str:
    """What rules powering out before any arithmetic; empty where nothing does."""
    pairs = 2 if run.pairs is None and run.category == "quad" else run.pairs
    if run.state in ("live telephone", "alarm"):
        return f"The run is in use ({run.state}): never feed power into it."
    if pairs is not None and pairs < 2 * row.pairsets:
        most = "class 4 is the most on two pairs" if pairs >= 2 else "powering takes two pairs"
        return f"Class {row.poe_class} needs {2 * row.pairsets} pairs and this run has {pairs}: {most}."
    if run.wire_map_ok is False:
        return "The wire map is wrong: power could meet the wrong conductors."
    if run.topology in ("daisy chain", "tap"):
        return "Other outlets hang on the run: join it straight through before it is powered."
    return ""


def _gauge(run: PoweredRun) -> tuple[int, int]:
    """Gauge to reckon with, and the thinnest it may be."""
    if run.awg is not None:
        return run.awg, run.awg
    for kind, row in cables().items():
        if kind == run.category:
            return row.awg, row.awg
    return USUAL_AWG, THINNEST_GUESS_AWG


def _evidence(run: PoweredRun) -> Evidence:
    known = run.category != "unknown" and run.pairs is not None and run.topology != "unknown"
    return "inferred" if known else "unknown"
