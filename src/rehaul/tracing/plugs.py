"""A tracing plug: conductors strapped together, or resistors across pairs, and what a meter reads of it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from rehaul.errors import BadInput
from rehaul.facts.terminations import pinout
from rehaul.tracing.faults import Fault, FaultKind
from rehaul.tracing.partitions import Blocks, blocks_of, conductor_pairs, mask_of
from rehaul.words import Saying, say

PLUGS = (("telephone 6 pin", "tracing.plug_six"), ("T568B", "tracing.plug_eight"))
_TIE_OHM = 1e-3  # a strap, for the nodal equations only; what is read of it is the cable's own loop


@dataclass(frozen=True, order=True)
class Plug:
    """What one tracing plug connects; conductors numbered in colour order."""

    name: str
    ties: Blocks = ()
    resistors: tuple[tuple[int, int, float], ...] = ()  # conductor, conductor, ohm

    def mask(self, conductors: int) -> int:
        """The continuity pattern of the straps alone, as a mask; resistors do not beep.

        Raises BadInput where the plug ties a conductor that the cable does not have.
        """
        return mask_of(self.ties, conductors, where=say("refused_tracing.where_plug", name=self.name))


def strap_plug(mask: int, conductors: int) -> Plug:
    """A plug that ties this pattern, named by its groups; "bare" where nothing is tied.

    >>> from rehaul.tracing.partitions import mask_of
    >>> strap_plug(mask_of([(1, 2), (3, 4)], 4), 4)
    Plug(name='12+34', ties=((1, 2), (3, 4)), resistors=())
    """
    blocks = blocks_of(mask, conductors)
    return Plug("+".join("".join(map(str, block)) for block in blocks) or "bare", blocks)


def resistor_plug(ohm: float, pairs: int) -> Plug:
    """A plug with the same resistor across each of the first pairs: with two it survives the loss of one.

    Named by its value, as parts are. **Source**: docs/trace.md, "Resistors": the same value across two pairs
    survives the loss of either.

    >>> resistor_plug(12_000, 2)
    Plug(name='12k', ties=(), resistors=((1, 2, 12000), (3, 4, 12000)))
    """
    across = tuple((2 * p + 1, 2 * p + 2, ohm) for p in range(pairs))
    return Plug(_ohm_text(ohm), (), across)


def _ohm_text(ohm: float) -> str:
    if ohm >= 1e6:
        return f"{ohm / 1e6:g}M"
    return f"{ohm / 1e3:g}k" if ohm >= 1e3 else f"{ohm:g}R"


PlugEdges = tuple[tuple[int, int, float], ...]


def edges_of(plugs: Iterable[Plug], fault: Fault | None) -> PlugEdges:
    """Ties and resistors between conductors as they arrive at the far end, with plugs in parallel.

    Returns
    -------
    conductor, conductor, ohm; a strap counts as 1 milliohm, the cable itself as nothing

    **Source**: docs/trace.md, "Resistors".
    """
    edges: list[tuple[int, int, float]] = []
    for plug in plugs:
        for block in plug.ties:
            edges += [(a, b, _TIE_OHM) for a, b in pairwise(block)]
        edges += plug.resistors
    return through(tuple(edges), fault) if fault else tuple(edges)


def through(edges: PlugEdges, fault: Fault) -> PlugEdges:
    """The same network seen from beyond a fault.

    A broken conductor's node at the outlet still joins what hangs on it: it becomes a node of its own
    (0 or below) that no meter reaches. **Source**: docs/trace.md, "Resistors".
    """
    a, b = fault.conductors[0], fault.conductors[-1]
    if fault.kind is FaultKind.OPEN:
        lost = min((node for i, j, _ in edges for node in (i, j)), default=1)
        names = {a: min(lost, 1) - 1}
    elif fault.kind is FaultKind.SHORT:
        return (*edges, (a, b, _TIE_OHM))
    elif fault.kind is FaultKind.CROSSED:
        names = {a: b, b: a}
    else:
        return edges
    return tuple((names.get(i, i), names.get(j, j), ohm) for i, j, ohm in edges)


def renamed(plug: Plug, images: Sequence[int]) -> Plug:
    """The same plug where conductor i is called images[i - 1], its groups and resistors in order again.

    The name stays. `images` needs an entry for every conductor up to the highest that the plug uses.
    """
    ties = tuple(sorted(tuple(sorted(images[c - 1] for c in block)) for block in plug.ties))
    across = [(images[a - 1], images[b - 1], ohm) for a, b, ohm in plug.resistors]
    return Plug(plug.name, ties, tuple(sorted((min(a, b), max(a, b), ohm) for a, b, ohm in across)))


def plug_on_pins(plug: Plug, standard: str) -> Plug:
    """The same plug by the pins of a wiring standard, for making it: conductor 1 is the tip of pair 1.

    Raises BadInput where the standard has no pin for a conductor the plug uses. **Source**: pins of the fact
    table `terminations` (TIA-568 as quoted); docs/trace.md, "Sheets and labels".
    """
    pin_of = {(row.pair, row.side): pin for pin, row in pinout(standard).items()}

    def pin(conductor: int) -> int:
        place = ((conductor + 1) // 2, "tip" if conductor % 2 else "ring")
        if place not in pin_of:
            raise BadInput(
                say("refused_tracing.no_pin", standard=standard, pair=place[0]),
                where=say("refused_tracing.where_plug", name=plug.name),
                remedy=say("refused_tracing.fewer_conductors"),
            )
        return pin_of[place]

    used = {c for block in plug.ties for c in block} | {c for a, b, _ in plug.resistors for c in (a, b)}
    return renamed(plug, [pin(c) if c in used else 0 for c in range(1, max(used, default=0) + 1)])


def how_to_make(plug: Plug) -> Saying:
    """What joins what inside a plug, by the pins of the plugs that have them all: `T568B pins 4-5`.

    Raises BadInput for an unknown standard only; a plug without the pins is left out. **Source**: pins of the
    fact table `terminations` (TIA-568 as quoted); docs/trace.md, "Sheets and labels".
    """
    found = []
    for standard, name in PLUGS:
        try:
            pins = plug_on_pins(plug, standard)
        except BadInput:
            continue
        ties = ["-".join(map(str, block)) for block in pins.ties]
        across = [say("tracing.across", ohm=_ohm_text(ohm), pins=(a, b)) for a, b, ohm in pins.resistors]
        made = [*ties, *across]
        found.append(
            say("tracing.plug_pins", plug=say(name), pins=made)
            if made
            else say("tracing.plug_bare", plug=say(name))
        )
    return say("words.in_turn", parts=found)


def pair_resistances_ohm(networks: Sequence[PlugEdges], conductors: int) -> NDArray[np.float64]:
    """Resistance between every two conductors of each network, cable excluded.

    Parameters
    ----------
    networks : ties and resistors by conductor; nodes of 0 and below no meter reaches
    conductors : how many conductors the cable has

    Returns
    -------
    array (network, pair of conductors) [ohm]; infinite where nothing connects them

    Validity: straps count as 1 milliohm in the equations. Source: nodal analysis; effective resistance
    from the pseudo-inverse of the graph Laplacian. **Source**: docs/trace.md, "Resistors".
    """
    hidden = -min((node for edges in networks for i, j, _ in edges for node in (i, j, 0)), default=0)
    size = conductors + 1 + hidden  # nodes below 0 sit at the end: Python's own negative indices
    laplacian = np.zeros((len(networks), size, size))
    linked = np.tile(np.eye(size, dtype=bool), (len(networks), 1, 1))
    for n, edges in enumerate(networks):
        for i, j, ohm in edges:
            siemens = 1.0 / ohm
            laplacian[n, i, i] += siemens
            laplacian[n, j, j] += siemens
            laplacian[n, i, j] -= siemens
            laplacian[n, j, i] -= siemens
            linked[n, i, j] = linked[n, j, i] = True
    for _ in range(math.ceil(math.log2(size))):
        linked = linked @ linked
    inverse = np.linalg.pinv(laplacian, rcond=1e-12, hermitian=True)
    result = np.full((len(networks), len(conductor_pairs(conductors))), math.inf)
    for k, (a, b) in enumerate(conductor_pairs(conductors)):
        value = inverse[:, a, a] + inverse[:, b, b] - 2 * inverse[:, a, b]
        result[:, k] = np.where(linked[:, a, b], value, math.inf)
    return result
