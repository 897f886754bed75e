"""Cable kinds found in house walls: loss, impedance, crosstalk and delay coefficients per kind."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal, get_args

from rehaul.facts.table import FactRow, load

PairCableKind = Literal["quad", "cat3", "cat5", "cat5e", "cat6", "cat6a"]
CABLE_KINDS: tuple[PairCableKind, ...] = get_args(PairCableKind)


class CableRow(FactRow):
    """One cable kind. Loss is il_sqrt·√f + il_linear·f + il_inv_sqrt/√f in dB per 100 m, f in MHz."""

    table: ClassVar[str] = "cable_kinds"
    decides: ClassVar[str] = "how much an old cable loses and leaks, and so which rate it is likely to bear"
    kind: PairCableKind
    name: str
    pairs: int
    awg: int
    il_sqrt_db: float
    il_linear_db: float
    il_inv_sqrt_db: float
    impedance_ohm: float
    delay_s: float  # per 100 m at infinite frequency
    next_db: float  # pair to pair at 100 MHz, falls 15 dB a decade
    elfext_db: float  # pair to pair, 100 m at 100 MHz, falls 20 dB a decade
    alien_next_db: float  # from a bundle of the same cables, at 100 MHz, falls 15 dB a decade
    return_loss_db: float  # at 20 MHz, falls 10 dB a decade above
    top_hz: float  # the coefficients are specified up to here; beyond is extrapolation
    spread_db: float  # standard deviation of a link margin computed within top_hz


@cache
def cables() -> dict[PairCableKind, CableRow]:
    """Cable kinds by name."""
    return {row.kind: row for row in load(CableRow)}
