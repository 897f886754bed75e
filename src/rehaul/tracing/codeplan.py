"""Which plug goes in which outlet: the code plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import product

from rehaul.errors import BadInput
from rehaul.tracing.asked import TracingQuestion, problem
from rehaul.tracing.codebook import Guarantee, correcting_codes, detecting_codes
from rehaul.tracing.plugs import Plug, resistor_plug, strap_plug
from rehaul.tracing.resistors import chain_safe_values, separable_values
from rehaul.tracing.trust import Trust
from rehaul.words import Saying, say


class Method(StrEnum):
    STRAPS = "straps"
    RESISTORS = "resistors"
    TONER = "toner"


@dataclass(frozen=True)
class Bag:
    """What is in the bag: empty plugs to strap, resistors (ohm -> how many), a meter, a toner."""

    plugs: int = 0
    resistors: tuple[tuple[float, int], ...] = ()
    meter: bool = True
    toner: bool = False


@dataclass(frozen=True)
class CodePlan:
    """The plug of every outlet, by round, and what one fault can do to the answer."""

    method: Method
    guarantee: Guarantee
    chains_seen: bool  # two outlets on one cable show as such, not as a third outlet
    problem: TracingQuestion = field(repr=False)
    sentence: str = ""

    @property
    def rounds(self) -> tuple[tuple[tuple[str, Plug], ...], ...]:
        """For each round, outlet and plug."""
        return self.problem.rounds

    @property
    def plugs(self) -> tuple[Plug, ...]:
        """Every plug that is needed, each once, in the order of the walk."""
        return tuple(dict.fromkeys(plug for placed in self.rounds for _, plug in placed))


@dataclass(frozen=True)
class _Offer:
    method: Method
    guarantee: Guarantee
    chains_seen: bool
    words: tuple[tuple[Plug, ...], ...]  # what an outlet gets, round by round

    def rounds_for(self, outlets: int) -> int:
        """How many rounds this many outlets take."""
        return -(-outlets // len(self.words)) * len(self.words[0])


def plan_codes(
    outlets: Sequence[str],
    ends: Sequence[str],
    bag: Bag,
    conductors: int,
    colours_trusted: bool | Trust = True,
    *,
    gauge_awg: int | None = None,
) -> CodePlan:
    """The plug to put in each outlet, so that one fault never gives a wrong answer.

    Parameters
    ----------
    outlets, ends : ids
    bag : what there is to work with
    conductors : of the cables, 2 to 8
    colours_trusted : True, False, or how far (`Trust`)
    gauge_awg : conductor size, for lengths; unknown if left out

    Returns
    -------
    the plan with the fewest rounds, then the strongest guarantee, then resistors before straps (two faults
    at once mislead straps more often)

    Raises: BadInput where the bag holds nothing to trace with.

    **Validity**: one open, short or cross, or several outlets on one cable; see `docs/trace.md` for two.
    """
    trust = colours_trusted if isinstance(colours_trusted, Trust) else _trust(colours_trusted)
    count = max(len(outlets), 1)
    offers = [offer for offer in _offers(bag, conductors, trust, count) if offer.words]
    if not offers:
        if not bag.toner:
            raise BadInput(
                say("refused_tracing.empty_bag"),
                where="bag",
                remedy=say("refused_tracing.bring_plugs"),
            )
        return CodePlan(
            Method.TONER,
            Guarantee.NONE,
            True,
            problem(outlets, ends, conductors, (), trust=trust, gauge_awg=gauge_awg),
            say("tracing.toner_on_one"),
        )
    order = list(Guarantee)
    best = min(
        offers,
        key=lambda offer: (
            offer.rounds_for(count),
            order.index(offer.guarantee),
            not offer.chains_seen,
            offer.method is not Method.RESISTORS,
        ),
    )
    step = len(best.words)
    batches = [outlets[k : k + step] for k in range(0, len(outlets), step)]
    rounds = [
        {outlet: word[number] for outlet, word in zip(batch, best.words, strict=False)}
        for batch in batches
        for number in range(len(best.words[0]))
    ]
    return CodePlan(
        best.method,
        best.guarantee,
        best.chains_seen,
        problem(outlets, ends, conductors, rounds, trust=trust, gauge_awg=gauge_awg),
        _sentence(best, len(rounds)),
    )


def _trust(trusted: bool) -> Trust:
    return Trust.COLOURS if trusted else Trust.TWIST


def _offers(bag: Bag, conductors: int, trust: Trust, count: int) -> list[_Offer]:
    if not bag.meter or bag.plugs < 1:
        return []
    most = min(bag.plugs, count)
    pairs = conductors // 2
    offers: list[_Offer] = []
    for rounds, (guarantee, codes) in product(
        (1, 2), ((Guarantee.CORRECTS, correcting_codes), (Guarantee.DETECTS, detecting_codes))
    ):
        words = tuple(
            tuple(strap_plug(mask, conductors) for mask in word)
            for word in codes(conductors, trust, rounds)[:most]
        )
        offers.append(_Offer(Method.STRAPS, guarantee, True, words))
    if pairs and (trust is not Trust.NONE or conductors == 2):
        # Where pairs may have changed names, only the same resistor on all of them looks the same.
        each = min(pairs, 2) if trust in (Trust.COLOURS, Trust.PAIR_COLOURS) else pairs
        held = sorted(ohm for ohm, number in bag.resistors if number >= each)
        survives = Guarantee.CORRECTS if each >= 2 else Guarantee.DETECTS
        for chains, values in ((True, chain_safe_values(held)), (False, separable_values(held))):
            words = tuple((resistor_plug(ohm, each),) for ohm in values[:most])
            offers.append(_Offer(Method.RESISTORS, survives, chains, words))
    return offers


def _sentence(offer: _Offer, rounds: int) -> Saying:
    times = say("tracing.one_round") if rounds == 1 else say("tracing.rounds", n=rounds)
    code = "tracing.codes" if offer.chains_seen else "tracing.codes_chains"
    return say(code, method=offer.method.value, rounds=times, guarantee=offer.guarantee.value)
