"""Why a room is slow: causes with their probabilities, the evidence, and the one test that decides."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import median

import numpy as np

from rehaul.arrays import Reals
from rehaul.facts.causes import causes, diagnosis_number
from rehaul.house import Model
from rehaul.proof.causes import Case, States, Test, states_of
from rehaul.words import say, term
from rehaul.words.fields import Words

DRAWN = 100  # states and outcomes of each cause weighed for what a test would say
ROUGHLY = 25  # of them to see which tests may be worth most
WEIGHED_FULLY = 4  # tests
WEIGHED = 4  # likeliest causes that the next test is to tell apart
SHOWN = 2  # readings named as evidence
FLAT_RATE, FLAT_POWER, FLAT_BUSY, FLAT_LINK, FLAT_LOOK = 0.1, 1 / 80, 1 / 100, 0.25, 0.5  # of a slip
SOFT_MBPS, SOFT_MS = 0.5, 1.0  # keep a rate or a delay of nothing finite in logarithms; pings wander so
MOST_REPEATS = 2  # readings of one test that count in full
TINY = 1e-300

INSTRUCTIONS: dict[Test, str] = {  # codes of what is to be done
    "modem down": "proof_diagnosis.read_modem_down",
    "modem up": "proof_diagnosis.read_modem_up",
    "run link": "proof_diagnosis.read_run_link",
    "run down": "proof_diagnosis.read_run_down",
    "run up": "proof_diagnosis.read_run_up",
    "near power": "proof_diagnosis.read_near_power",
    "near down": "proof_diagnosis.read_near_down",
    "room power": "proof_diagnosis.read_room_power",
    "room down": "proof_diagnosis.read_room_down",
    "room up": "proof_diagnosis.read_room_up",
    "room link": "proof_diagnosis.read_room_link",
    "device near down": "proof_diagnosis.read_device_near_down",
    "other device down": "proof_diagnosis.read_other_device_down",
    "channel busy": "proof_diagnosis.read_channel_busy",
    "right radio": "proof_diagnosis.read_right_radio",
    "fed by cable": "proof_diagnosis.read_fed_by_cable",
    "run delay": "proof_diagnosis.read_run_delay",
    "device near link": "proof_diagnosis.read_device_near_link",
    "other device link": "proof_diagnosis.read_other_device_link",
}
UNITS: dict[Test, str] = {
    "run link": "Mb/s",
    "near power": "dBm",
    "room power": "dBm",
    "channel busy": "%",
    "right radio": "",
    "fed by cable": "",
    "run delay": "ms",
}
SOFT: dict[Test, float] = {test: SOFT_MBPS for test in INSTRUCTIONS if test not in UNITS} | {
    "run delay": SOFT_MS
}
LOOKS = {  # seen or not: the codes of the words for either
    "right radio": ("proof_diagnosis.wrong_radio", "proof_diagnosis.right_radio"),
    "fed by cable": ("proof_diagnosis.no_cable", "proof_diagnosis.by_cable"),
}
AIR_NARROWER = 0.9  # of the plan: where a sound house gives the room less, the plan is not the narrowest
AS_PREDICTED = "as predicted"  # no fault: the room is far


class CauseChance(Model):
    """One cause with its probability."""

    cause: str
    probability: float
    narrowest: Words
    says: Words
    remedy: Words


class NextTest(Model):
    """The test that tells the likeliest causes apart best."""

    test: str
    instruction: Words
    between: tuple[str, str]  # the two likeliest
    bits: float  # expected information about which of the likeliest it is


class Diagnosis(Model):
    """What holds a room back, as far as the readings say."""

    causes: tuple[CauseChance, ...]  # likeliest first
    sure: bool
    evidence: tuple[Words, ...]
    next_test: NextTest | None = None  # nothing where one cause is likely enough


@dataclass(frozen=True, eq=False)
class _Weighed:
    """One cause's states with what each reading says of them."""

    states: States
    far: bool  # nothing is at fault, and yet the air, not the plan, is the narrowest
    log_each: dict[Test, Reals]  # (state,)

    def log_total(self, without: Test | None = None) -> Reals:
        """Log-likelihood of each state (state,)."""
        parts = [each for test, each in self.log_each.items() if test != without]
        return np.sum(parts, axis=0) if parts else np.zeros(len(self.states))

    def log_evidence(self) -> float:
        """Of the cause before anything is read, and of the readings.

        How often a cause turns out to be the one counts houses in which it was felt; here it is as much
        likelier as it is felt more than in the usual house.
        """
        total = self.log_total()
        row = causes()[self.states.cause]
        prior = row.prior * self.states.share / row.felt
        return float(_ln_sum(total) - np.log(len(total)) + np.log(prior))

    def weights(self, without: Test | None = None) -> Reals:
        """Weight of each state after the readings (state,)."""
        total = self.log_total(without)
        return np.asarray(np.exp(total - _ln_sum(total)))


def diagnose(case: Case, reads: Mapping[Test, float | Sequence[float]], *, seed: int = 0) -> Diagnosis:
    """Probabilities of the causes, given a handful of readings.

    Parameters: `reads`, what each test read [Mb/s, dBm, %, ms; a look as 1 or 0], once or more.
    **Validity**: one cause at a time; what else a house may have is not among the causes.
    **Source**: Bayes' rule over drawn states (importance weighting), textbook.
    """
    taken = {test: _each(value) for test, value in reads.items()}
    weighed = [
        _Weighed(
            states,
            far,
            {test: log_repeats(test, values, states.reads[test]) for test, values in taken.items()},
        )
        for states, far in _hypotheses(case, seed)
    ]
    logs = np.array([one.log_evidence() for one in weighed])
    chances = np.exp(logs - _ln_sum(logs))
    order = np.argsort(-chances, kind="stable")
    likeliest = [weighed[i] for i in order[:WEIGHED]]
    shares = chances[order[:WEIGHED]] / chances[order[:WEIGHED]].sum()
    enough = bool(chances[order[0]] >= diagnosis_number("enough"))
    return Diagnosis(
        causes=tuple(_chance(weighed[i], float(chances[i])) for i in order),
        sure=bool(chances[order[0]] >= diagnosis_number("sure")),
        evidence=_evidence(likeliest[0], likeliest[1], taken),
        next_test=None if enough else _next_test(likeliest, shares, taken, seed),
    )


def _each(value: float | Sequence[float]) -> tuple[float, ...]:
    return tuple(value) if isinstance(value, Sequence) else (float(value),)


def _hypotheses(case: Case, seed: int) -> Iterator[tuple[States, bool]]:
    """States of every cause that could be felt; a sound house is either held by the plan or far."""
    for states in states_of(case, seed):
        parts = [(states, False)]
        if states.cause == "plan":
            far = states.reads["room down"] < AIR_NARROWER * states.reads["modem down"]
            parts = [(states.where(~far), False), (states.where(far), True)]
        yield from (part for part in parts if len(part[0]))


def density(test: Test, value: float | Reals, expected: Reals) -> Reals:
    """Likelihood of a reading where `expected` would be read but for noise; broadcasts.

    The spread of a reading is itself known only roughly, which makes its tails those of Student's t.
    A slip mostly reads low: a sleeping device, a hand over the antenna, a second download. **Source**:
    Student's t, five degrees of freedom, and slips; docs/proof.md, "Why a room is slow".
    """
    slip = diagnosis_number("slip")
    usual, slipped = _densities(test, value, expected)
    return np.asarray((1.0 - slip) * usual + slip * slipped)


def log_repeats(test: Test, values: Sequence[float | Reals], expected: Reals) -> Reals:
    """Log-likelihood of readings of one test, where `expected` would be read but for noise; broadcasts.

    Most slips are gone when it is read again, some stay: the wrong cable or the wrong device once more.
    Beyond `MOST_REPEATS` more readings say no more, since place and hour stay what they are. **Source**:
    docs/proof.md, "Why a room is slow": 30 % of slips stay, two readings count.
    """
    slip, stays = diagnosis_number("slip"), diagnosis_number("slip_stays")
    passing = slip * (1.0 - stays) / (1.0 - slip * stays)
    each = [_densities(test, value, expected) for value in values]
    often = min(1.0, MOST_REPEATS / len(values))
    logs = [np.log((1.0 - passing) * usual + passing * slipped) for usual, slipped in each]
    fresh = np.asarray(sum(logs) * often)
    again = [np.log(_densities(test, value, np.asarray(values[0]))[0] + TINY) for value in values[1:]]
    same = np.log(each[0][1]) + sum(again) * often
    return _log_sum(math.log(1.0 - slip * stays) + fresh, math.log(slip * stays) + same)


def _log_sum(one: Reals, other: Reals) -> Reals:
    """Logarithm of the sum of two numbers given by theirs, both finite; NumPy's own is ten times as slow."""
    return np.asarray(np.maximum(one, other) + np.log1p(np.exp(-np.abs(one - other))))


def _densities(test: Test, value: float | Reals, expected: Reals) -> tuple[Reals, Reals]:
    """Density of a reading that says something, and of one that says nothing."""
    if test == "run link" or test in LOOKS:
        usual = np.where(expected == value, 1.0, 0.0)
        return usual, np.full_like(usual, FLAT_LOOK if test in LOOKS else FLAT_LINK)
    sd, flat, drop = _spread(test)
    off = _compared(test, value) - _compared(test, expected)
    freedom = diagnosis_number("spread_freedom")
    scale = math.gamma((freedom + 1) / 2) / (math.gamma(freedom / 2) * math.sqrt(freedom * math.pi) * sd)
    # a power as such, or NumPy's own sum of logarithms below, takes several times as long
    usual = scale * np.exp(-(freedom + 1) / 2 * np.log1p((off / sd) ** 2 / freedom))
    if not drop:
        return usual, np.full_like(usual, flat)
    low = diagnosis_number("slip_low")
    slipped = np.minimum(off, 0.0)
    slipped /= drop
    slipped = np.exp(slipped)
    slipped *= low / drop
    slipped *= off < 0
    slipped += (1.0 - low) * flat
    return usual, slipped


def _compared(test: Test, value: float | Reals) -> Reals:
    """A reading on the scale on which its spread is the same everywhere."""
    return np.asarray(np.log(np.asarray(value) + SOFT[test]) if test in SOFT else value)


def _spread(test: Test) -> tuple[float, float, float]:
    """Spread of a reading, density of any slip, and how far a low one drops, as the reading is compared."""
    if test in ("near power", "room power"):
        return diagnosis_number("power_reading_sd"), FLAT_POWER, diagnosis_number("slip_power_drop")
    if test == "channel busy":
        return diagnosis_number("busy_reading_sd"), FLAT_BUSY, 0.0
    if test == "run delay":
        return diagnosis_number("delay_sd"), FLAT_RATE, 0.0
    if test.endswith("link"):
        return diagnosis_number("link_rate_sd"), FLAT_RATE, diagnosis_number("slip_link_drop")
    wired = test.startswith(("modem", "run"))
    sd = diagnosis_number("wired_rate_sd" if wired else "air_rate_sd")
    return sd, FLAT_RATE, diagnosis_number("slip_rate_drop")


def noisy(test: Test, expected: Reals, rng: np.random.Generator) -> Reals:
    """Readings drawn about what would be read but for noise; slips are left out.

    Parameters: `expected`, any shape, in the unit of the test [Mb/s, dBm, %, ms; a look as 1 or 0]; `rng`,
    which is drawn from. A link rate by cable and a look come back as they are.

    **Source**: spreads of the fact table of diagnosis numbers; tails of Student's t (docs/proof.md).
    """
    if test == "run link" or test in LOOKS:
        return expected
    freedom = diagnosis_number("spread_freedom")
    draw = _spread(test)[0] * rng.standard_t(freedom, size=expected.shape)
    if test not in SOFT:
        return expected + draw
    return np.asarray((expected + SOFT[test]) * np.exp(draw) - SOFT[test])


def _chance(one: _Weighed, probability: float) -> CauseChance:
    row = causes()[one.states.cause]
    return CauseChance(
        cause=_name(one),
        probability=round(probability, 4),
        narrowest=_narrowest(one),
        says=say("proof_diagnosis.far_says") if one.far else term(row.says),
        remedy=say("proof_diagnosis.far_remedy") if one.far else term(row.remedy),
    )


def _name(one: _Weighed) -> str:
    return AS_PREDICTED if one.far else one.states.cause


def _narrowest(one: _Weighed) -> str:
    if one.far:
        return say("proof_diagnosis.far_narrowest")
    return term(causes()[one.states.cause].narrowest)


def _evidence(first: _Weighed, second: _Weighed, reads: Mapping[Test, Sequence[float]]) -> tuple[str, ...]:
    """The readings that speak most for the first cause against the second."""
    found = []
    for test, values in reads.items():
        support, expected = [], []
        for one in (first, second):
            weights = one.weights(without=test)
            support.append(float(_ln_sum(one.log_each[test], weights)))
            expected.append(_middle(one.states.reads[test], weights))
        found.append((support[0] - support[1], _sentence(test, median(values), (first, second), expected)))
    found.sort(key=lambda item: -item[0])
    return tuple(sentence for gain, sentence in found[:SHOWN] if gain > 0)


def _sentence(test: Test, value: float, pair: Sequence[_Weighed], expected: Sequence[float]) -> str:
    first, second = (_narrowest(one) for one in pair)
    if test in LOOKS:
        look = say(LOOKS[test][value > 0])
        return say("proof_diagnosis.look_speaks", look=look, first=first, second=second)
    return say(
        "proof_diagnosis.test_speaks",
        test=test,
        value=value,
        unit=UNITS.get(test, "Mb/s"),
        first=first,
        first_value=expected[0],
        second=second,
        second_value=expected[1],
    )


def _middle(values: Reals, weights: Reals) -> float:
    order = np.argsort(values, kind="stable")
    return float(values[order][np.searchsorted(np.cumsum(weights[order]), 0.5)])


def _next_test(
    likeliest: Sequence[_Weighed], shares: Reals, reads: Mapping[Test, Sequence[float]], seed: int
) -> NextTest | None:
    """The test, new or once more, with most expected information about which of the likeliest it is."""
    drawn = []
    for number, one in enumerate(likeliest):
        rng = np.random.default_rng([seed, 99, number])
        drawn.append(rng.choice(len(one.states), DRAWN, p=one.weights()))
    left = [test for test in INSTRUCTIONS if len(reads.get(test, ())) < MOST_REPEATS]

    def bits(test: Test, draws: int) -> float:
        expected = [one.states.reads[test][d[:draws]] for one, d in zip(likeliest, drawn, strict=True)]
        return _bits(test, expected, shares, reads.get(test, ()))

    if len(left) > WEIGHED_FULLY:
        rough = {test: bits(test, ROUGHLY) for test in left}
        worth = sorted(left, key=rough.__getitem__, reverse=True)[:WEIGHED_FULLY]
        left = [test for test in left if test in worth]  # of equal ones the first is asked for
    best: tuple[float, Test] | None = None
    for test in left:
        found = bits(test, DRAWN)
        if best is None or found > best[0] + 1e-9:
            best = found, test
    if best is None:
        return None
    instruction = say(INSTRUCTIONS[best[1]])
    return NextTest(
        test=best[1],
        instruction=say("proof_diagnosis.once_more", instruction=instruction)
        if best[1] in reads
        else instruction,
        between=(_name(likeliest[0]), _name(likeliest[1])),
        bits=round(max(best[0], 0.0), 3),
    )


def _bits(test: Test, expected: Sequence[Reals], shares: Reals, before: Sequence[float]) -> float:
    """Expected information of a test, after what it read before, about which of the causes it is."""
    left = 0.0
    for number, (own, share) in enumerate(zip(expected, shares, strict=True)):
        outcomes = noisy(test, own, np.random.default_rng(number))
        likelihood = np.array(
            [
                _next_likelihood(test, outcomes[:, None], before, states).mean(axis=1) * other
                for states, other in zip(expected, shares, strict=True)
            ]
        )
        left += float(share) * float(np.mean(_surprise(likelihood / likelihood.sum(axis=0)).sum(axis=0)))
    return (float(_surprise(shares).sum()) - left) / math.log(2)


def _ln_sum(logs: Reals, weights: Reals | float = 1.0) -> float:
    """Logarithm of a weighted sum of numbers, given by their logarithms (n,); minus infinity where it is 0.

    The greatest is taken out first, so that nothing overflows.
    """
    most = float(np.max(logs))
    if not math.isfinite(most):
        return most
    total = float(np.sum(weights * np.exp(logs - most)))
    return most + math.log(total) if total > 0 else -math.inf


def _surprise(chance: Reals) -> Reals:
    """What each chance adds to the entropy, in nats; one of 0 nothing."""
    return np.asarray(-chance * np.log(np.where(chance > 0, chance, 1.0)))


def _next_likelihood(test: Test, outcomes: Reals, before: Sequence[float], expected: Reals) -> Reals:
    """Likelihood of one more reading after those before."""
    if not before:
        return density(test, outcomes, expected)
    both = log_repeats(test, (*before, outcomes), expected)
    return np.asarray(np.exp(both - log_repeats(test, before, expected)))
