"""A scheduling model written down in the solver's own published format, and solved.

OR-tools' front in Python brings a data-frame library along, a quarter of a second and 60 MB for a timetable
of thirty rows; its compiled part reads the same models as text (`cp_model.proto`), and needs nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

NO_LIMIT = 2**63 - 1
FOUND, PROVEN = ("FEASIBLE", "OPTIMAL"), "OPTIMAL"  # words of `CpSolverStatus`


@dataclass(frozen=True)
class Solved:
    """What the solver found."""

    values: tuple[int, ...]  # of every variable; empty where nothing was found
    proven: bool
    bound: float  # nothing costs less


class ScheduleModel:
    """Whole variables and yes or no, by their numbers; a literal is a number, `~number` its opposite."""

    def __init__(self) -> None:
        self._domains: list[tuple[int, int]] = []
        self._rules: list[str] = []
        self._more: list[str] = []

    def whole(self, least: int, most: int) -> int:
        """A new variable between two whole numbers, which count."""
        self._domains.append((least, most))
        return len(self._domains) - 1

    def yes_no(self) -> int:
        """A new variable that is 0 or 1."""
        return self.whole(0, 1)

    def at_least(self, terms: Sequence[tuple[int, int]], least: int, when: int | None = None) -> None:
        """The sum of factor times variable is no less; with `when`, only where that literal holds."""
        self._linear(terms, least, NO_LIMIT, when)

    def is_yes(self, literal: int) -> None:
        """A variable that is 1."""
        self._linear([(1, literal)], 1, 1, None)

    def _linear(self, terms: Sequence[tuple[int, int]], least: int, most: int, when: int | None) -> None:
        ordered = sorted(terms, key=lambda term: term[1])
        at = _list("vars", (variable for _, variable in ordered))
        factors = _list("coeffs", (factor for factor, _ in ordered))
        self._rule(f"linear {{ {at} {factors} domain: {least} domain: {most} }}", when)

    def interval(self, start: int, length: int) -> int:
        """Work of a fixed length that begins at a variable; its number is one of the rules'."""
        begins = f"vars: {start} coeffs: 1"
        self._rule(
            f"interval {{ start {{ {begins} }} end {{ {begins} offset: {length} }}"
            f" size {{ offset: {length} }} }}"
        )
        return len(self._rules) - 1

    def apart(self, intervals: Iterable[int]) -> None:
        """No two of these at one time."""
        self._rule(f"no_overlap {{ {_list('intervals', intervals)} }}")

    def exactly_one(self, literals: Iterable[int]) -> None:
        """One of these holds, and no other."""
        self._rule(f"exactly_one {{ {_list('literals', literals)} }}")

    def implies(self, one: int, other: int) -> None:
        """Where one literal holds, so does the other."""
        self._rule(f"bool_and {{ literals: {other} }}", one)

    def circuit(self, arcs: Sequence[tuple[int, int, int]]) -> None:
        """The arcs (from, to, literal) whose literals hold make one round through all nodes.

        A node that an arc leads from to itself is passed by where that arc holds.
        """
        tails, heads, literals = zip(*arcs, strict=True)
        parts = _list("tails", tails), _list("heads", heads), _list("literals", literals)
        self._rule(f"circuit {{ {' '.join(parts)} }}")

    def minimise(self, terms: Sequence[tuple[int, int]]) -> None:
        """What is to be small: the sum of factor times variable."""
        factors, at = zip(*sorted(terms, key=lambda term: term[1]), strict=True)
        self._more.append(f"objective {{ {_list('vars', at)} scaling_factor: 1 {_list('coeffs', factors)} }}")

    def hint(self, values: Sequence[tuple[int, int]]) -> None:
        """Where to begin: (variable, value)."""
        at, value = zip(*values, strict=True)
        self._more.append(f"solution_hint {{ {_list('vars', at)} {_list('values', value)} }}")

    def _rule(self, text: str, when: int | None = None) -> None:
        only = "" if when is None else f"enforcement_literal: {when} "
        self._rules.append(f"constraints {{ {only}{text} }}")

    def text(self) -> str:
        """The whole model, as `cp_model.proto` has it."""
        domains = (f"variables {{ domain: {low} domain: {high} }}" for low, high in self._domains)
        return "\n".join((*domains, *self._rules, *self._more))

    def solved(self, effort: float, seed: int) -> Solved:
        """The best that one thread finds within the solver's deterministic time; the same everywhere.

        **Source**: OR-tools CP-SAT.
        """
        from ortools.sat.python import cp_model_helper as solver

        model, parameters = solver.CpModelProto(), solver.SatParameters()
        model.parse_text_format(self.text())
        parameters.parse_text_format(f"num_workers: 1 random_seed: {seed} max_deterministic_time: {effort!r}")
        wrapper = solver.SolveWrapper()
        wrapper.set_parameters(parameters)
        found = wrapper.solve(model)  # type: ignore[no-untyped-call]
        status = str(found.status).rpartition(".")[2]
        values = tuple(int(value) for value in found.solution) if status in FOUND else ()
        return Solved(values, status == PROVEN, float(found.best_objective_bound))


def load_solver() -> None:
    """Import the solver ahead of its use: time that may pass beside other work."""
    from ortools.sat.python import cp_model_helper  # noqa: F401


def _list(name: str, values: Iterable[int]) -> str:
    return " ".join(f"{name}: {value}" for value in values)
