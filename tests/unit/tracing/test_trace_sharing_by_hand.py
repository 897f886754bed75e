"""How the outlets are shared out between the ends, set by set; and which pairs of a wire map arrive whole."""

from __future__ import annotations

import numpy as np

from rehaul.tracing import PAIRS, Bridge, ReadingLog, Tone, ToneHeard, WireFaultKind, classify, problem
from rehaul.tracing.belief import _clusters, _narrowed, believe
from rehaul.tracing.hypotheses import table
from rehaul.tracing.wiremap import WireFault, _whole_pairs

ASKED = problem(["a", "b", "c"], ["1", "2", "3"], 4)


def shared(**sets: str) -> tuple[tuple[str, ...], dict[str, str]]:
    """Ends that clash, and what is left to each; sets as `b ac -`, a dash for no outlet at all."""
    groups = ["".join(group) or "-" for group in table(ASKED).groups]
    given = {(end[1:],): np.isin(groups, words.split()) for end, words in sets.items()}
    clash, left = _narrowed(ASKED, given)
    return (
        tuple(cluster[0] for cluster in clash),
        {
            cluster[0]: " ".join(group for group, there in zip(groups, domain.tolist(), strict=True) if there)
            for cluster, domain in left.items()
        },
    )


def test_what_one_end_gives_up_settles_the_next_and_that_one_the_last() -> None:
    """1 has a, so 2 is not a chain of a and c and has b; only then is 3 left with c."""
    assert shared(_1="a", _2="b ac", _3="b c") == ((), {"1": "a", "2": "b", "3": "c"})
    assert shared(_3="b c", _2="b ac", _1="a") == ((), {"1": "a", "2": "b", "3": "c"})


def test_two_ends_that_need_two_outlets_leave_none_of_them_to_a_third() -> None:
    """Which of both has which stays open; the third may end nowhere, or at what is left."""
    assert shared(_1="a b", _2="a b", _3="- a b") == ((), {"1": "a b", "2": "a b", "3": "-"})
    assert shared(_1="a b", _2="a b", _3="a b c") == ((), {"1": "a b", "2": "a b", "3": "c"})
    assert shared(_1="- a b", _2="- a b", _3="a b") == ((), {"1": "- a b", "2": "- a b", "3": "a b"}), (
        "who may end nowhere takes nothing from others"
    )


def test_ends_without_outlets_enough_are_named_and_no_other() -> None:
    assert shared(_1="a", _2="a", _3="b c")[0] == ("1", "2")
    assert shared(_1="a b", _2="a b", _3="a b")[0] == ("1", "2", "3")
    assert shared(_1="ab", _2="a c", _3="b")[0] == ("1", "3"), "a chain that holds another's outlet"
    clash, left = shared(_1="a", _2="b", _3="ac bc")
    assert clash == ("3", "1", "2") and left == {}, "a chain with one of two outlets that are both gone"
    assert shared() == ((), {})


def test_joined_ends_count_as_one_through_others() -> None:
    ends = ["1", "2", "3", "4"]
    apart = (("1",), ("2",), ("3",), ("4",))
    assert _clusters(ends, []) == _clusters(ends, [Bridge("B", "1", "2", False)]) == apart
    chain = [Bridge("B1", "4", "2", True), Bridge("B2", "2", "1", True), Bridge("B3", "1", "3", False)]
    assert _clusters(ends, chain) == (("1", "2", "4"), ("3",))


def straight(**changed: int) -> dict[int, int]:
    return {pin: pin for pair in PAIRS for pin in pair} | {int(k[1:]): v for k, v in changed.items()}


def test_a_pair_arrives_whole_as_some_pair_and_free_of_breaks() -> None:
    every = {pair: pair for pair in PAIRS}
    assert _whole_pairs(straight(), (), PAIRS) == every
    assert _whole_pairs(straight(p1=2, p2=1), (), PAIRS) == every, "which way round makes no difference"
    crossed = _whole_pairs(straight(p2=3, p3=2), (), PAIRS)
    assert crossed == {(4, 5): (4, 5), (7, 8): (7, 8)}, "1 and 3 are no pair, nor 2 and 6"
    moved = _whole_pairs(straight(p4=7, p5=8, p7=4, p8=5), (), PAIRS)
    assert moved == {**every, (4, 5): (7, 8), (7, 8): (4, 5)}
    near = (WireFault(WireFaultKind.OPEN, (4,), ()),)
    far = (WireFault(WireFaultKind.OPEN, (), (8,)),)
    assert set(_whole_pairs(straight(), near, PAIRS)) == {(1, 2), (3, 6), (7, 8)}
    assert set(_whole_pairs(straight(), far, PAIRS)) == {(1, 2), (3, 6), (4, 5)}
    missing = {pin: far for pin, far in straight().items() if pin != 5}
    assert set(_whole_pairs(missing, (), PAIRS)) == {(1, 2), (3, 6), (7, 8)}


def test_what_is_to_be_done_about_a_wire_map() -> None:
    def said(wires: dict[int, int], *split: tuple[int, int]) -> list[str]:
        """What is said between the faults and the link meanwhile."""
        return classify(wires, split=split).sentence.split(". ")[1:-1]

    assert said(straight(p1=2, p2=1)) == ["Exchange the wires on pins 1 and 2 at the far end"]
    assert said(straight(p1=3, p3=1, p2=6, p6=2)) == ["Redo one end so that both follow the same standard"]
    broken = {pin: pin for pin in straight() if pin != 4}
    assert said(broken) == ["Redo one end first, then measure again"]
    (again, by_colour) = said(broken, (7, 8))
    assert again.startswith("Redo one end first") and by_colour.startswith("Redo both ends by colour")
    assert said(straight()) == [], "nothing is to be done"


def test_of_joined_ends_that_clash_the_joint_is_blamed_only_between_two() -> None:
    """A sound at one and none at the other: both readings or the joint. Both at one end: not the joint."""
    asked = problem(["a", "b"], ["1", "2"], 4)
    joint = Bridge("J", "1", "2", True)
    loud, silent = Tone("L", "1", "a", ToneHeard.LOUD), Tone("S", "2", "a", ToneHeard.NONE)
    own = Tone("S", "1", "a", ToneHeard.NONE)
    for entries, ends, named in (
        ((joint, loud, silent), ("1", "2"), ("L", "S", "J")),
        ((joint, loud, own), ("1",), ("L", "S")),
    ):
        log = ReadingLog()
        for entry in entries:
            log = log.added(entry)
        assert believe(log, asked).conflicts == ((ends, named),)
