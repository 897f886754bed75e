"""One try at a cable run: how long it takes, when to walk away, and what it costs. Arrays of no house.

A try ends after a time T, long-tailed (lognormal), and then has worked with a chance that does not
depend on T. Whoever walks away after a minutes has spent min(T, a) and has nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from statistics import NormalDist

from rehaul.errors import BadInput
from rehaul.words import say

_NORMAL = NormalDist()
Z_90 = _NORMAL.inv_cdf(0.9)
NEVER_MIN = 1e5  # minutes; nobody waits longer
SEEN_THROUGH = 0.99
LOG_STRENGTH = 10  # jobs that the table's values weigh against the firm's own


@dataclass(frozen=True)
class DropAttempt:
    """One way to bring a drop to life."""

    name: str
    chance: float  # that it works, if seen through
    minutes: float  # median of the try
    minutes_90: float  # not exceeded in nine tries of ten
    parts: float  # money spent by trying
    finish: float = 0.0  # money spent only after it worked: terminate, test
    needs_old: bool = False  # works on the old cable
    spends_old: bool = False  # the old cable is gone afterwards, whether it worked or not

    def __post_init__(self) -> None:
        if not 0.0 <= self.chance <= 1.0:
            raise BadInput(
                say("refused_design.chance", chance=self.chance),
                where=self.name,
                remedy=say("refused_design.give_chance"),
            )
        if not 0.0 < self.minutes < self.minutes_90:
            raise BadInput(
                say("refused_design.minutes", minutes=self.minutes, minutes_90=self.minutes_90),
                where=self.name,
                remedy=say("refused_design.give_minutes"),
            )

    @property
    def mu(self) -> float:
        """Mean of ln T."""
        return math.log(self.minutes)

    @property
    def sigma(self) -> float:
        """Standard deviation of ln T."""
        return (math.log(self.minutes_90) - self.mu) / Z_90


def chance_within(way: DropAttempt, minutes: float) -> float:
    """Chance that the try has ended, well or not, after these minutes.

    **Source**: lognormal times; docs/choosing.md, "Drops under uncertainty".

    >>> way = DropAttempt("fished", 0.7, 40.0, 120.0, 12.0)
    >>> round(chance_within(way, 120.0), 3)
    0.9
    """
    return _NORMAL.cdf((math.log(minutes) - way.mu) / way.sigma) if minutes > 0 else 0.0


def is_seen_through(way: DropAttempt, walk_min: float) -> bool:
    """True where walking away then cuts off less than one try in a hundred.

    Parameters: `walk_min` [min], as `walk_away_min` gives it. **Source**: docs/choosing.md, "Drops under
    uncertainty".
    """
    return chance_within(way, walk_min) > SEEN_THROUGH


def mean_minutes(way: DropAttempt, walk_min: float) -> float:
    """Expected minutes spent when walking away after `walk_min`.

    E[min(T, a)] = e^(mu + s^2/2) Phi((ln a - mu - s^2)/s) + a (1 - Phi((ln a - mu)/s)).

    **Source** the partial expectation of the lognormal distribution, any textbook [memory].

    >>> way = DropAttempt("fished", 0.7, 40.0, 120.0, 12.0)
    >>> round(mean_minutes(way, 60.0), 1)
    39.3
    """
    if walk_min <= 0:
        return 0.0
    z = (math.log(walk_min) - way.mu) / way.sigma
    partial = math.exp(way.mu + way.sigma**2 / 2) * _NORMAL.cdf(z - way.sigma)
    return partial + walk_min * (1.0 - _NORMAL.cdf(z))


def _ending_rate(mu: float, sigma: float, minutes: float) -> float:
    """Chance per minute that a try that still goes on ends now (hazard)."""
    z = (math.log(minutes) - mu) / sigma
    still = 1.0 - _NORMAL.cdf(z)
    return _NORMAL.pdf(z) / (minutes * sigma * still) if still > 1e-12 else z / (minutes * sigma)


def cost_of_try(way: DropAttempt, walk_min: float, else_cost: float, minute_price: float) -> float:
    """Expected cost of trying this way, walking away after `walk_min`, and then paying `else_cost`.

    Parameters: `walk_min` [min]; `else_cost`, money for what comes after a failure; `minute_price`, money
    for a minute.

    **Validity**: whether a try works does not hang on how long it takes. **Source**: docs/choosing.md, "drops
    under uncertainty".
    """
    works = way.chance * chance_within(way, walk_min)
    spent = way.parts + minute_price * mean_minutes(way, walk_min)
    return spent + works * way.finish + (1.0 - works) * else_cost


def walk_away_min(way: DropAttempt, else_cost: float, minute_price: float) -> float:
    """When to stop trying: as soon as one more minute costs more than it is likely to save.

    A minute costs its price and saves, with the chance that the try ends in it and has worked, what the
    next way would cost. The chance of ending rises, then falls for good, so the last crossing is the time;
    0 where the try is not worth beginning.

    Parameters
    ----------
    way : the try
    else_cost : money, expected cost of what comes after a failure
    minute_price : money for a minute of work

    **Source**: docs/choosing.md, "Drops under uncertainty".
    """
    saving = way.chance * (else_cost - way.finish)
    if saving <= 0 or minute_price <= 0:
        return 0.0 if saving <= 0 else NEVER_MIN
    needed = minute_price / saving
    mu, sigma = way.mu, way.sigma
    top = _busiest_min(mu, sigma)
    if _ending_rate(mu, sigma, top) <= needed:
        return 0.0
    low, high = top, NEVER_MIN
    if _ending_rate(mu, sigma, high) >= needed:
        return NEVER_MIN
    for _ in range(80):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if _ending_rate(mu, sigma, middle) > needed else (low, middle)
    stop = low
    worth = cost_of_try(way, stop, else_cost, minute_price) < else_cost
    return stop if worth else 0.0


@lru_cache(maxsize=4096)  # it is asked again for every chance that a way may be given
def _busiest_min(mu: float, sigma: float) -> float:
    """Where the chance of ending is highest, by golden section on ln t; it has one peak."""
    low, high = mu - 4 * sigma - sigma**2, mu + 4 * sigma
    share = (math.sqrt(5) - 1) / 2
    for _ in range(80):
        a, b = high - share * (high - low), low + share * (high - low)
        if _ending_rate(mu, sigma, math.exp(a)) < _ending_rate(mu, sigma, math.exp(b)):
            low = a
        else:
            high = b
    return math.exp((low + high) / 2)


def from_own_log(way: DropAttempt, minutes: Sequence[float], worked: Sequence[bool]) -> DropAttempt:
    """The way with the firm's own log in it: the table's values count as ten jobs, the log as what it holds.

    Parameters
    ----------
    minutes : of each logged try
    worked : whether each worked

    **Source**: conjugate normal with ten jobs of mean and of spread (Gelman et al., Bayesian Data Analysis,
    3.3, from memory); docs/choosing.md, "Drops under uncertainty".
    """
    if len(minutes) != len(worked) or any(m <= 0 for m in minutes):
        raise BadInput(
            say("refused_design.tries_differ"),
            where=way.name,
            remedy=say("refused_design.one_per_try"),
        )
    jobs = len(minutes)
    if jobs == 0:
        return way
    logs = [math.log(m) for m in minutes]
    weight = LOG_STRENGTH + jobs
    mu = (LOG_STRENGTH * way.mu + sum(logs)) / weight
    own = sum((value - mu) ** 2 for value in logs) + LOG_STRENGTH * (way.mu - mu) ** 2
    sigma = math.sqrt((LOG_STRENGTH * way.sigma**2 + own) / weight)
    chance = (LOG_STRENGTH * way.chance + sum(worked)) / weight
    return replace(way, chance=chance, minutes=math.exp(mu), minutes_90=math.exp(mu + Z_90 * sigma))
