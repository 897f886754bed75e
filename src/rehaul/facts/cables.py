"""Cable kinds found in house walls: all that is particular to one stands in its row."""

from __future__ import annotations

from enum import StrEnum
from functools import cache
from typing import ClassVar, Literal

from rehaul.errors import BadInput
from rehaul.facts.table import FactRow, load
from rehaul.words import say

ChannelClass = Literal["class C", "class D", "class E", "class EA"]
PairCableKind = str  # a kind that has a row in `cables`; `cable` refuses others


class CableKind(StrEnum):
    """What a cable in a wall may be. Those with pairs have a row in `cables`."""

    QUAD = "quad"  # untwisted four-conductor telephone cable
    CAT3 = "cat3"
    CAT5 = "cat5"
    CAT5E = "cat5e"
    CAT6 = "cat6"
    CAT6A = "cat6a"
    COAX = "coax"
    FIBRE = "fibre"
    BELL_WIRE = "bell wire"
    UNKNOWN = "unknown"

    @property
    def may_have_pairs(self) -> bool:
        """Whether Ethernet may run on it by itself; nobody knows of an unknown one."""
        return self in cables() or self is CableKind.UNKNOWN

    @property
    def is_telephone(self) -> bool:
        """Whether it was made for telephones."""
        return self in cables() and cables()[self].telephone


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
    certified_class: ChannelClass | None = None  # the channel class that a test to this category certifies
    connector_grade: Literal["3", "5e", "6"]  # of jacks, plugs and splices on it
    cord_kind: PairCableKind  # of the cords that go with it
    telephone: bool = False  # made for telephones: never likelier than Category 5e under the same faults
    four_pairs: str = ""  # name of the chance that it has four where nobody counted; empty: it has fewer
    colours: Literal["quad", "pairs"]  # how its conductors are coloured


@cache
def cables() -> dict[PairCableKind, CableRow]:
    """Cable kinds with pairs, worst first, by kind: `quad`, `cat3`, `cat5` and so on to `cat6a`.

    Coax, fibre, bell wire and an unknown cable have no row. Loss, NEXT and ELFEXT are those of 100 m (see
    `CableRow`). **Validity**: up to each row's `top_hz`; what is computed above is extrapolated.
    **Source**: the fact table `cable_kinds` (docs/copper.md says how the figures were come by).
    """
    return {row.kind: row for row in load(CableRow)}


def cable(kind: PairCableKind) -> CableRow:
    """The row of one cable kind. Raises BadInput, which lists the kinds there are, for one without pairs.

    **Source**: the fact table `cable_kinds`.

    >>> cable("cat5e").pairs
    4
    """
    try:
        return cables()[kind]
    except KeyError:
        raise BadInput(
            say("refused_facts.no_pair_kind", kind=kind),
            where="kind",
            remedy=say("refused_common.use_one_of", known=list(cables())),
        ) from None


def pairs_known(kind: str, counted: int | None) -> int | None:
    """Pairs of a cable that are known: as counted, else those of a kind that never has four.

    `kind` is any cable kind, with pairs or without; `counted` None where nobody counted. Returns None where
    nobody counted and the kind may have two pairs or four, or has no row. **Source**: the fact table
    `cable_kinds`, column `four_pairs`.

    >>> pairs_known("quad", None), pairs_known("cat3", None), pairs_known("cat3", 2)
    (2, None, 2)
    """
    if counted is not None or kind not in cables() or cable(kind).four_pairs:
        return counted
    return cable(kind).pairs


def usual_pairs(kind: str) -> int:
    """Pairs that a cable of a kind has as a rule; four where the kind has no row, as for an unknown one.

    For drawings and lists, where something must be shown: a verdict asks `pairs_known`, which does not
    guess. **Source**: the fact table `cable_kinds`.
    """
    return cables()[kind].pairs if kind in cables() else 4


def scheme_of(kind: str) -> str:
    """How the conductors of a kind are coloured, "quad" or "pairs"; "pairs" where the kind has no row.

    The answer is a scheme that `colour_codes.colour_scheme` takes. **Source**: the fact table
    `cable_kinds`.
    """
    return cables()[kind].colours if kind in cables() else "pairs"
