"""The tracing question: which ends, which outlets, and which plug stood where in each round."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from rehaul.errors import BadInput
from rehaul.tracing.plugs import Plug
from rehaul.tracing.trust import Trust
from rehaul.words import say

Round = tuple[tuple[str, Plug], ...]


@dataclass(frozen=True)
class TracingQuestion:
    """Ends to be matched to outlets; hashable, so that what follows from it alone is computed once."""

    outlets: tuple[str, ...]
    ends: tuple[str, ...]
    conductors: int
    rounds: tuple[Round, ...] = ()
    trust: Trust = Trust.COLOURS
    chain_limit: int = 2  # most outlets on one cable that a pattern alone is explained by
    gauge_awg: int | None = None
    long_chains: tuple[tuple[str, ...], ...] = ()  # sets of more outlets that readings ask for

    def __post_init__(self) -> None:
        for name, ids in (("outlets", self.outlets), ("ends", self.ends)):
            if len(set(ids)) != len(ids):
                raise BadInput(
                    say("refused_tracing.id_twice"), where=name, remedy=say("refused_tracing.id_once")
                )
        for number, placed in enumerate(self.rounds, start=1):
            for outlet, _ in placed:
                if outlet not in self.outlets:
                    raise BadInput(
                        say("refused_tracing.not_listed", outlet=outlet),
                        where=say("refused_tracing.where_round", round=number),
                        remedy=say("refused_tracing.add_outlet"),
                    )

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash(
            (
                self.outlets,
                self.ends,
                self.conductors,
                self.rounds,
                self.trust,
                self.chain_limit,
                self.long_chains,
            )
        )

    def plug(self, outlet: str, round_number: int) -> Plug | None:
        """The plug in this outlet in this round (from 1); None where none stood there.

        IndexError for a round beyond those planned.
        """
        return dict(self.rounds[round_number - 1]).get(outlet)


def problem(
    outlets: Sequence[str],
    ends: Sequence[str],
    conductors: int,
    rounds: Sequence[Mapping[str, Plug]] = (),
    *,
    trust: Trust = Trust.COLOURS,
    chain_limit: int = 2,
    gauge_awg: int | None = None,
) -> TracingQuestion:
    """A `TracingQuestion` from plain lists; each round maps an outlet to the plug in it.

    Parameters
    ----------
    outlets, ends : ids, each once
    conductors : of the cables, 2 to 8
    rounds : in the order in which they were placed
    trust : how far the colours at both ends are believed
    chain_limit : most outlets on one cable that a pattern alone is explained by
    gauge_awg : conductor size, for lengths; None where it is not known

    Raises BadInput where an id stands twice or a plug in an outlet that is not on the list.

    >>> asked = problem(["O1", "O2"], ["C1", "C2"], 4, [{"O1": Plug("12", ((1, 2),))}])
    >>> asked.plug("O1", 1).name, asked.plug("O2", 1)
    ('12', None)
    """
    return TracingQuestion(
        tuple(outlets),
        tuple(ends),
        conductors,
        tuple(tuple(sorted(placed.items())) for placed in rounds),
        trust,
        chain_limit,
        gauge_awg,
    )
