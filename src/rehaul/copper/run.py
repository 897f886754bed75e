"""What is known of one cable run in the wall, unknowns and ranges included."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rehaul.errors import BadInput, require_range
from rehaul.facts.cables import ChannelClass, PairCableKind, cables
from rehaul.words import say

RunCategory = PairCableKind  # or "unknown"
CopperTopology = Literal["home run", "daisy chain", "spliced", "tap", "unknown"]
CopperState = Literal["dead", "live telephone", "alarm", "damaged", "unknown"]
CertifiedClass = Literal[""] | ChannelClass

LONGEST_M = 1000.0


@dataclass(frozen=True)
class RunFacts:
    """One run as surveyed. `None` and `unknown` are answers; a length is (low, middle, high)."""

    category: RunCategory = "unknown"
    pairs: int | None = None
    length_m: tuple[float, float, float] = (5.0, 20.0, 50.0)
    topology: CopperTopology = "unknown"
    taps_m: tuple[float, ...] = ()
    splices: int | None = None
    state: CopperState = "unknown"
    awg: int | None = None
    temperature_c: float = 20.0
    loop_ohm: float | None = None  # one pair shorted at the far end, as measured
    wire_map_ok: bool | None = None  # straight through on all its pairs, split pairs looked for
    link_mbps: float | None = None  # the fastest link that came up
    tried_mbps: float | None = None  # the fastest both ports offered; unknown counts as any rate
    errors: int | None = None  # errors counted over a full-load soak at that link
    certified: CertifiedClass = ""

    def __post_init__(self) -> None:
        if self.category not in (*cables(), "unknown"):
            raise BadInput(
                say("refused_copper.no_category", category=self.category),
                where="category",
                remedy=say("refused_copper.use_category", known=list(cables())),
            )
        low, middle, high = self.length_m
        if not 0 <= low <= middle <= high <= LONGEST_M:
            raise BadInput(
                say("refused_copper.length_not_rising", length_m=str(self.length_m)),
                where="length_m",
                remedy=say("refused_copper.give_three_metres", longest_m=LONGEST_M),
            )
        if self.pairs is not None and not 0 <= self.pairs <= 100:
            raise BadInput(
                say("refused_copper.wrong_pairs", pairs=self.pairs),
                where="pairs",
                remedy=say("refused_copper.give_pairs_or_unknown"),
            )
        for tap_m in self.taps_m:
            require_range(tap_m, 0.0, LONGEST_M, name="taps_m")
        if self.loop_ohm is not None:
            require_range(self.loop_ohm, 0.0, 1e4, name="loop_ohm")
        require_range(self.temperature_c, -40.0, 90.0, name="temperature_c")
