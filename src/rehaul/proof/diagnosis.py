"""Why a room is slow: causes with their probabilities, the evidence, and the one test that decides."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import entr, logsumexp

from rehaul.facts.causes import causes, diagnosis_number
from rehaul.house import Model
from rehaul.proof.causes import Array, Case, States, Test, states_of

DRAWN = 160  # states and outcomes weighed for what a test would say
SHOWN = 2  # readings named as evidence
FLAT_RATE, FLAT_POWER, FLAT_BUSY, FLAT_LINK = 0.1, 1 / 80, 1 / 100, 0.25  # density of a slip
SOFT_MBPS = 0.5  # keeps a rate of nothing finite in logarithms

INSTRUCTIONS: dict[Test, str] = {
    "modem down": "Put a laptop on the modem by cable with nothing else plugged in, and read the speed down.",
    "modem up": "Put a laptop on the modem by cable with nothing else plugged in, and read the speed up.",
    "run link": "Read the link rate at both ends of the cable to the access point.",
    "run down": "Put a laptop on the access point's cable in its place, and read the speed down.",
    "run up": "Put a laptop on the access point's cable in its place, and read the speed up.",
    "near power": "Read the power two metres from the access point.",
    "near down": "Read the speed down two metres from the access point with a good device.",
    "room power": "Read the power in the room, doors as usual.",
    "room down": "Read the speed down in the room with the device that is slow.",
    "room up": "Read the speed up in the room with the device that is slow.",
    "other device down": "Read the speed down in the same place with a newer device.",
    "channel busy": "Scan the channel and read how much of the time others use it.",
    "right radio": "See which access point and band the device is on, and which is strongest there.",
}
UNITS: dict[Test, str] = {
    "run link": "Mb/s",
    "near power": "dBm",
    "room power": "dBm",
    "channel busy": "%",
    "right radio": "",
}
AIR_NARROWER = 0.9  # of the plan: where a sound house gives the room less, the plan is not the narrowest
AS_PREDICTED = {
    "cause": "as predicted",
    "narrowest": "the distance, as predicted",
    "says": "Nothing is at fault: the room is as far from the access point as the prediction says",
    "remedy": "An access point nearer",
}


class CauseChance(Model):
    """One cause with its probability."""

    cause: str
    probability: float
    narrowest: str
    says: str
    remedy: str


class NextTest(Model):
    """The test that tells the two likeliest causes apart best."""

    test: str
    instruction: str
    between: tuple[str, str]
    bits: float  # expected information about which of the two it is


class Diagnosis(Model):
    """What holds a room back, as far as the readings say."""

    causes: tuple[CauseChance, ...]  # likeliest first
    sure: bool
    evidence: tuple[str, ...]
    next_test: NextTest | None = None


@dataclass(frozen=True, eq=False)
class _Weighed:
    """One cause's states with what each reading says of them."""

    states: States
    log_each: dict[Test, Array]  # (state,)

    def log_total(self, without: Test | None = None) -> Array:
        """Log-likelihood of each state (state,)."""
        parts = [each for test, each in self.log_each.items() if test != without]
        return np.sum(parts, axis=0) if parts else np.zeros(len(self.states.reads["modem down"]))

    def log_evidence(self) -> float:
        total = self.log_total()
        return float(logsumexp(total) - np.log(len(total)))

    def weights(self, without: Test | None = None) -> Array:
        """Weight of each state after the readings (state,)."""
        total = self.log_total(without)
        return np.asarray(np.exp(total - logsumexp(total)))


def diagnose(case: Case, reads: Mapping[Test, float], *, seed: int = 0) -> Diagnosis:
    """Probabilities of the causes, given a handful of readings.

    Parameters: `reads`, what each test read [Mb/s, dBm, %; the right radio as 1 or 0].
    **Validity**: one cause at a time; what else a house may have is not among the causes.
    **Source**: Bayes' rule over drawn states (importance weighting), textbook.
    """
    weighed = [
        _Weighed(
            states, {test: log_density(test, value, states.reads[test]) for test, value in reads.items()}
        )
        for states in states_of(case, seed)
    ]
    logs = np.array([one.log_evidence() for one in weighed])
    logs += np.log([row.prior for row in causes().values()])
    chances = np.exp(logs - logsumexp(logs))
    order = np.argsort(-chances, kind="stable")
    first, second = weighed[order[0]], weighed[order[1]]
    share = float(chances[order[0]] / (chances[order[0]] + chances[order[1]]))
    return Diagnosis(
        causes=tuple(_chance(weighed[i], float(chances[i])) for i in order),
        sure=bool(chances[order[0]] >= diagnosis_number("sure")),
        evidence=_evidence(first, second, reads),
        next_test=_next_test(first, second, share, reads, seed),
    )


def log_density(test: Test, value: float | Array, expected: Array) -> Array:
    """Log-likelihood of a reading where `expected` would be read but for noise; broadcasts."""
    slip = diagnosis_number("slip")
    if test in ("run link", "right radio"):
        return np.asarray(np.log(np.where(expected == value, 1.0 - slip, slip * FLAT_LINK)))
    sd, flat = _spread(test)
    if test in UNITS:
        off = (value - expected) / sd
    else:
        off = (np.log(value + SOFT_MBPS) - np.log(expected + SOFT_MBPS)) / sd
    normal = np.exp(-(off**2) / 2) / (sd * np.sqrt(2 * np.pi))
    return np.asarray(np.log((1.0 - slip) * normal + slip * flat))


def _spread(test: Test) -> tuple[float, float]:
    """Standard deviation of a reading and the density of a slip, in the unit in which it is compared."""
    if test in ("near power", "room power"):
        return diagnosis_number("power_reading_sd"), FLAT_POWER
    if test == "channel busy":
        return diagnosis_number("busy_reading_sd"), FLAT_BUSY
    wired = test.startswith(("modem", "run"))
    return diagnosis_number("wired_rate_sd" if wired else "air_rate_sd"), FLAT_RATE


def noisy(test: Test, expected: Array, rng: np.random.Generator) -> Array:
    """Readings drawn about what would be read but for noise; slips are left out."""
    if test in ("run link", "right radio"):
        return expected
    draw = _spread(test)[0] * rng.normal(size=expected.shape)
    if test in UNITS:
        return expected + draw
    return np.asarray((expected + SOFT_MBPS) * np.exp(draw) - SOFT_MBPS)


def _chance(one: _Weighed, probability: float) -> CauseChance:
    row = causes()[one.states.cause]
    found = CauseChance(
        cause=row.cause,
        probability=round(probability, 4),
        narrowest=row.narrowest,
        says=row.says,
        remedy=row.remedy,
    )
    return found.model_copy(update=AS_PREDICTED) if _far_away(one.states) else found


def _far_away(states: States) -> bool:
    """Whether nothing is at fault and yet the air, not the plan, is the narrowest: the room is far."""
    room, plan = (float(np.median(states.reads[test])) for test in ("room down", "modem down"))
    return states.cause == "plan" and room < AIR_NARROWER * plan


def _narrowest(states: States) -> str:
    return AS_PREDICTED["narrowest"] if _far_away(states) else causes()[states.cause].narrowest


def _evidence(first: _Weighed, second: _Weighed, reads: Mapping[Test, float]) -> tuple[str, ...]:
    """The readings that speak most for the first cause against the second."""
    found = []
    for test, value in reads.items():
        support, expected = [], []
        for one in (first, second):
            weights = one.weights(without=test)
            support.append(float(logsumexp(one.log_each[test], b=weights)))
            expected.append(_middle(one.states.reads[test], weights))
        found.append((support[0] - support[1], _sentence(test, value, (first, second), expected)))
    found.sort(key=lambda item: -item[0])
    return tuple(sentence for gain, sentence in found[:SHOWN] if gain > 0)


def _sentence(test: Test, value: float, pair: Sequence[_Weighed], expected: Sequence[float]) -> str:
    names = [_narrowest(one.states) for one in pair]
    if test == "right radio":
        seen = "is on the right radio" if value else "is not on the right radio"
        return f"The device {seen}, which speaks for {names[0]} against {names[1]}."
    unit = UNITS.get(test, "Mb/s")
    return (
        f"{test.capitalize()} read {value:.0f} {unit}; with {names[0]} it would be about {expected[0]:.0f}, "
        f"with {names[1]} about {expected[1]:.0f}."
    )


def _middle(values: Array, weights: Array) -> float:
    order = np.argsort(values, kind="stable")
    return float(values[order][np.searchsorted(np.cumsum(weights[order]), 0.5)])


def _next_test(
    first: _Weighed, second: _Weighed, share: float, reads: Mapping[Test, float], seed: int
) -> NextTest | None:
    """The unread test with most expected information about which of two causes it is."""
    pair, shares = (first, second), (share, 1.0 - share)
    drawn = []
    for number, one in enumerate(pair):
        rng = np.random.default_rng([seed, 99, number])
        drawn.append(rng.choice(len(one.weights()), DRAWN, p=one.weights()))
    best: tuple[float, Test] | None = None
    for test in INSTRUCTIONS:
        if test not in reads:
            bits = _bits(
                test, [one.states.reads[test][d] for one, d in zip(pair, drawn, strict=True)], shares
            )
            if best is None or bits > best[0] + 1e-9:
                best = bits, test
    if best is None:
        return None
    return NextTest(
        test=best[1],
        instruction=INSTRUCTIONS[best[1]],
        between=(first.states.cause, second.states.cause),
        bits=round(max(best[0], 0.0), 3),
    )


def _bits(test: Test, expected: Sequence[Array], shares: Sequence[float]) -> float:
    """Expected information of a test about which of two causes it is."""
    left = 0.0
    for number, (own, share) in enumerate(zip(expected, shares, strict=True)):
        outcomes = noisy(test, own, np.random.default_rng(number))
        likelihood = [
            np.exp(log_density(test, outcomes[:, None], states)).mean(axis=1) * other
            for states, other in zip(expected, shares, strict=True)
        ]
        sure = likelihood[0] / (likelihood[0] + likelihood[1])
        left += share * float(np.mean(entr(sure) + entr(1.0 - sure)))
    return float((entr(shares[0]) + entr(shares[1]) - left) / np.log(2))
