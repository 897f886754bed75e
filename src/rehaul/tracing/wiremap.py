"""Wire map: from the pin-to-pin reading of a tester or meter to what is wrong and what to do."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from rehaul.errors import BadInput
from rehaul.tracing.endblame import EndEvidence, LikelyEnd, likely_end
from rehaul.tracing.meanwhile import MeanwhileLink, link_meanwhile
from rehaul.words import Saying, say

PAIRS = ((1, 2), (3, 6), (4, 5), (7, 8))  # pins of the four pairs, T568A and T568B alike
FarPins = Mapping[int, int | Iterable[int] | None]


class WireFaultKind(StrEnum):
    OPEN = "open"
    SHORT = "short"
    MIXED_ENDS = "T568A on one end, T568B on the other"
    ALL_CROSSED = "crossover of all four pairs"
    ROLLED = "all wires in reverse order"
    REVERSED = "reversed pair"
    PAIRS_EXCHANGED = "pairs exchanged"
    WIRES_CROSSED = "wires of different pairs exchanged"
    SPLIT = "split pair"


_SAID = {
    WireFaultKind.OPEN: "tracing.open",
    WireFaultKind.SHORT: "tracing.short",
    WireFaultKind.MIXED_ENDS: "tracing.mixed_ends",
    WireFaultKind.ALL_CROSSED: "tracing.all_crossed",
    WireFaultKind.ROLLED: "tracing.rolled",
    WireFaultKind.REVERSED: "tracing.reversed",
    WireFaultKind.PAIRS_EXCHANGED: "tracing.pairs_exchanged",
    WireFaultKind.WIRES_CROSSED: "tracing.wires_crossed",
    WireFaultKind.SPLIT: "tracing.split_pair",
}


@dataclass(frozen=True)
class WireFault:
    """One fault, by the pins at the near end (for shorts and opens also at the far end)."""

    kind: WireFaultKind
    near_pins: tuple[int, ...]
    far_pins: tuple[int, ...]

    @property
    def sentence(self) -> Saying:
        """`open 4 at the far end`"""
        kind = say(_SAID[self.kind])
        if self.near_pins:
            return say("tracing.fault", kind=kind, pins=self.near_pins)
        return say("tracing.fault_far_end", kind=kind, pins=self.far_pins)

    def __str__(self) -> str:
        return self.sentence


@dataclass(frozen=True)
class WireMapResult:
    """What the reading means."""

    faults: tuple[WireFault, ...]
    likely_end: LikelyEnd
    why_that_end: Saying
    swaps: tuple[tuple[int, int], ...]  # pins whose wires to exchange, in this order
    swaps_at: LikelyEnd  # the end at which: near or far
    link: MeanwhileLink
    sentence: Saying


def classify(
    far_pins: FarPins,
    *,
    split: Iterable[Sequence[int]] = (),
    pairs: Sequence[tuple[int, int]] = PAIRS,
    evidence: EndEvidence | None = None,
) -> WireMapResult:
    """What is wrong with a cable, from which far pins every near pin reaches.

    Parameters
    ----------
    far_pins : near pin -> the far pin, several far pins, or None; pins left out are open
    split : pairs (by near pins) that the tester reports as split, or whose colours show it
    pairs : pins of the pairs the cable has; two of them for a two-pair cable
    evidence : what is known of the two ends

    Returns
    -------
    faults, the end most likely at fault, the wires to exchange, the link to expect until then

    Raises: BadInput for a pin that the cable does not have.

    **Validity**: direct current sees no split pair; without `split` a clean result says nothing of it.
    **Source**: TIA-568 pin assignment [memory]; the rest is combinatorics.
    """
    pins = sorted(pin for pair in pairs for pin in pair)
    reached = _normal(far_pins, pins)
    split_pairs = tuple(sorted({(min(pair), max(pair)) for pair in split}))
    for pair in split_pairs:
        if pair not in pairs:
            raise BadInput(
                say("refused_tracing.no_pair", pair=pair),
                where="split",
                remedy=say("refused_tracing.name_pairs"),
            )
    wires, breaks = _wires(reached, pins)
    wrong = _misplaced(wires, pairs)
    faults = (
        *breaks,
        *wrong,
        *(WireFault(WireFaultKind.SPLIT, pair, pair) for pair in split_pairs),
    )
    link = link_meanwhile(_whole_pairs(wires, breaks, pairs), split_pairs)
    end, why = likely_end(faults_present=bool(faults), evidence=evidence)
    at = LikelyEnd.NEAR if end is LikelyEnd.NEAR else LikelyEnd.FAR
    swaps = _swaps(wires if at is LikelyEnd.FAR else {far: near for near, far in wires.items()})
    sentence = _sentence(faults, swaps, at, end, link)
    return WireMapResult(faults, end, why, swaps, at, link, sentence)


def _normal(far_pins: FarPins, pins: Sequence[int]) -> dict[int, frozenset[int]]:
    reached = {}
    for pin, far in far_pins.items():
        found = frozenset() if far is None else frozenset([far] if isinstance(far, int) else far)
        for number in (pin, *found):
            if number not in pins:
                raise BadInput(
                    say("refused_tracing.not_wired", number=number),
                    where=say("refused_tracing.where_wire_map"),
                    remedy=say("refused_tracing.use_pins", pins=pins),
                )
        reached[pin] = found
    return {pin: reached.get(pin, frozenset()) for pin in pins}


def _wires(
    reached: Mapping[int, frozenset[int]], pins: Sequence[int]
) -> tuple[dict[int, int], tuple[WireFault, ...]]:
    """One far pin for each near pin that has one, and the opens and shorts found on the way.

    In a group of shorted pins a wire is taken to go to its own number where that is in the group.
    """
    wires: dict[int, int] = {}
    opens: list[WireFault] = []
    shorts: list[WireFault] = []
    for near, far in _groups(reached, pins):
        if not near or not far:
            opens.append(WireFault(WireFaultKind.OPEN, near, far))
            if len(near) + len(far) > 1:
                shorts.append(WireFault(WireFaultKind.SHORT, near, far))
            continue
        if len(near) > 1 or len(far) > 1:
            shorts.append(WireFault(WireFaultKind.SHORT, near, far))
        straight = [pin for pin in near if pin in far]
        rest_near = [pin for pin in near if pin not in far]
        rest_far = [pin for pin in far if pin not in near]
        wires.update({pin: pin for pin in straight})
        wires.update(zip(rest_near, rest_far, strict=False))
        for pin in rest_near[len(rest_far) :]:
            opens.append(WireFault(WireFaultKind.OPEN, (pin,), ()))
        for pin in rest_far[len(rest_near) :]:
            opens.append(WireFault(WireFaultKind.OPEN, (), (pin,)))
    return wires, (*_merged_opens(opens), *shorts)


def _merged_opens(opens: Sequence[WireFault]) -> list[WireFault]:
    """A near pin and the far pin of the same number, both open, are one broken wire."""
    far = {fault.far_pins for fault in opens if not fault.near_pins}
    near = {fault.near_pins for fault in opens if not fault.far_pins}
    merged = [WireFault(WireFaultKind.OPEN, pins, pins) for pins in sorted(near & far)]
    merged += [WireFault(WireFaultKind.OPEN, pins, ()) for pins in sorted(near - far)]
    return merged + [WireFault(WireFaultKind.OPEN, (), pins) for pins in sorted(far - near)]


def _groups(
    reached: Mapping[int, frozenset[int]], pins: Sequence[int]
) -> list[tuple[tuple[int, ...], tuple[int, ...]]]:
    """Near and far pins that are one node, lowest near pin first; far pins nothing reaches come last."""
    groups: list[tuple[set[int], set[int]]] = []
    for pin in pins:
        near, far = {pin}, set(reached[pin])
        for group in [group for group in groups if group[1] & far]:
            groups.remove(group)
            near |= group[0]
            far |= group[1]
        groups.append((near, far))
    found = set().union(*(far for _, far in groups))
    groups += [(set(), {pin}) for pin in pins if pin not in found]
    ordered = [(tuple(sorted(near)), tuple(sorted(far))) for near, far in groups]
    return sorted(ordered, key=lambda group: (not group[0], group))


def _misplaced(wires: Mapping[int, int], pairs: Sequence[tuple[int, int]]) -> tuple[WireFault, ...]:
    moved = tuple(sorted(pin for pin, far in wires.items() if pin != far))
    if not moved:
        return ()
    for kind, images in _NAMED.items():
        if all(wires.get(pin, far) == far for pin, far in images.items()) and set(moved) == {
            pin for pin, far in images.items() if pin != far and pin in wires
        }:
            return (WireFault(kind, moved, tuple(wires[pin] for pin in moved)),)
    faults: list[WireFault] = []
    loose: list[int] = []
    exchanged: list[int] = []
    home = {frozenset(pair): pair for pair in pairs}
    for a, b in pairs:
        if a not in wires or b not in wires:
            loose += [pin for pin in (a, b) if pin in moved]
            continue
        x, y = wires[a], wires[b]
        target = home.get(frozenset((x, y)))
        if target is None:
            loose += [pin for pin in (a, b) if pin in moved]
            continue
        if target != (a, b):
            exchanged += [a, b]
        if (x, y) != target:
            faults.append(WireFault(WireFaultKind.REVERSED, (a, b), (x, y)))
    if exchanged:
        faults.append(
            WireFault(WireFaultKind.PAIRS_EXCHANGED, tuple(exchanged), tuple(wires[pin] for pin in exchanged))
        )
    if loose:
        faults.append(WireFault(WireFaultKind.WIRES_CROSSED, tuple(loose), tuple(wires[p] for p in loose)))
    return tuple(faults)


def _images(*swapped: tuple[int, int]) -> dict[int, int]:
    images = {pin: pin for pair in PAIRS for pin in pair}
    for a, b in swapped:
        images[a], images[b] = b, a
    return images


_NAMED: Mapping[WireFaultKind, Mapping[int, int]] = {
    WireFaultKind.MIXED_ENDS: _images((1, 3), (2, 6)),
    WireFaultKind.ALL_CROSSED: _images((1, 3), (2, 6), (4, 7), (5, 8)),
    WireFaultKind.ROLLED: _images((1, 8), (2, 7), (3, 6), (4, 5)),
}


def _swaps(wires: Mapping[int, int]) -> tuple[tuple[int, int], ...]:
    """The fewest exchanges of two wires at the far end that put every wire on its own number.

    Given the wires backwards (far pin -> near pin), the exchanges at the near end.
    """
    place = dict(wires)
    swaps = []
    for pin in sorted(place):
        while place[pin] != pin:
            here = place[pin]
            other = next((p for p, far in place.items() if far == pin), None)
            swaps.append((min(here, pin), max(here, pin)))
            place[pin] = pin
            if other is not None:
                place[other] = here
    return tuple(swaps)


def _whole_pairs(
    wires: Mapping[int, int], breaks: Sequence[WireFault], pairs: Sequence[tuple[int, int]]
) -> dict[tuple[int, int], tuple[int, int]]:
    """Pairs that arrive as a pair, free of opens and shorts: near pins -> far pins, polarity left aside."""
    hurt_near = {pin for fault in breaks for pin in fault.near_pins}
    hurt_far = {pin for fault in breaks for pin in fault.far_pins}
    home = {frozenset(pair): pair for pair in pairs}
    whole = {}
    for a, b in pairs:
        if a in wires and b in wires and not {a, b} & hurt_near and not {wires[a], wires[b]} & hurt_far:
            target = home.get(frozenset((wires[a], wires[b])))
            if target is not None:
                whole[a, b] = target
    return whole


def _sentence(
    faults: Sequence[WireFault],
    swaps: Sequence[tuple[int, int]],
    at: LikelyEnd,
    end: LikelyEnd,
    link: MeanwhileLink,
) -> Saying:
    if not faults:
        return say("tracing.map_good")
    said = [say("tracing.map_found", faults=[fault.sentence for fault in faults])]
    kinds = {fault.kind for fault in faults}
    if WireFaultKind.MIXED_ENDS in kinds:
        said.append(say("tracing.redo_to_one_standard"))
    elif swaps:
        both = [say("words.and", first=a, last=b) for a, b in swaps]
        near = at is LikelyEnd.NEAR
        said.append(say("tracing.exchange_near" if near else "tracing.exchange_far", swaps=both))
    if kinds & {WireFaultKind.OPEN, WireFaultKind.SHORT}:
        redo = {LikelyEnd.NEAR: "tracing.redo_near", LikelyEnd.FAR: "tracing.redo_far"}
        said.append(say(redo.get(end, "tracing.redo_one")))
    if WireFaultKind.SPLIT in kinds:
        said.append(say("tracing.redo_by_colour"))
    return say("words.sentences", parts=[*said, say("tracing.meanwhile", link=link.sentence)])
