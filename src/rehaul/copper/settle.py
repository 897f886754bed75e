"""Which reading would settle a verdict: each unknown of a run, its possible answers, and what they change."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from rehaul.copper.chances import chances, four_pair_chance, kind_chances
from rehaul.copper.run import RunFacts
from rehaul.facts.ethernet import ETHERNETS, Ethernet
from rehaul.facts.grades import chance
from rehaul.words import Saying, say


@dataclass(frozen=True)
class CableAnswer:
    """One possible answer to a reading."""

    answer: str
    chance: float  # of this answer
    probability: float  # that the Ethernet holds, once it is known


@dataclass(frozen=True)
class CableQuestion:
    """One thing that could be looked at or measured, and what it would tell."""

    reading: Saying
    answers: tuple[CableAnswer, ...]
    worth: float  # expected change of the probability, 0 to 1


def settling(run: RunFacts, ethernet: Ethernet) -> tuple[CableQuestion, ...]:
    """Readings that would narrow the verdict on a run, the most telling first.

    Parameters: run; ethernet. Returns one reading for each unknown of the run, perhaps none. The
    chances of the answers add to one and their probabilities average to today's.

    **Validity**: one reading at a time; answers as likely as trade judgement says.
    **Source**: total probability over the unknowns of `chances`.

    >>> [reading.reading for reading in settling(RunFacts(length_m=(5.0, 15.0, 30.0)), "1000BASE-T")][0]
    'count the pairs'
    """
    index = ETHERNETS.index(ethernet)
    now = chances(run)[index]
    readings = []
    for name, cases in _unknowns(run):
        answers = tuple(CableAnswer(answer, share, chances(known)[index]) for answer, share, known in cases)
        worth = sum(answer.chance * abs(answer.probability - now) for answer in answers)
        readings.append(CableQuestion(name, answers, worth))
    return tuple(sorted(readings, key=lambda reading: -reading.worth))


def _unknowns(run: RunFacts) -> Iterator[tuple[Saying, list[tuple[str, float, RunFacts]]]]:
    """Each unknown with its answers: what it would be, how likely, and the run once it is known."""
    kinds = kind_chances(run)
    if run.category == "unknown":
        yield (
            say("copper.read_sheath"),
            [(kind, share, replace(run, category=kind)) for kind, share in kinds.items()],
        )
    if run.pairs is None:
        four = sum(share * four_pair_chance(run, kind) for kind, share in kinds.items())
        if 0.0 < four < 1.0:
            yield (
                say("copper.count_pairs"),
                [
                    (say("copper.four"), four, replace(run, pairs=4)),
                    (say("copper.two"), 1.0 - four, replace(run, pairs=2)),
                ],
            )
    if run.topology == "unknown" and not run.taps_m:
        chained = chance("unknown is chained")
        yield (
            say("copper.tone_it"),
            [
                (say("copper.one_run"), 1.0 - chained, replace(run, topology="home run")),
                (say("copper.chained"), chained, replace(run, topology="daisy chain")),
            ],
        )
    if run.wire_map_ok is None and run.state != "damaged":
        good = chance("good termination")
        yield (
            say("copper.read_wire_map"),
            [
                (say("copper.straight"), good, replace(run, wire_map_ok=True)),
                (say("copper.wrong"), 1.0 - good, replace(run, wire_map_ok=False)),
            ],
        )
