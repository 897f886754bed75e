"""Choose: access point sites, switch, names and addresses, what to do with every wanted drop."""

from rehaul.design.coverage import Choice, Problem, Requirement
from rehaul.design.general import solve_general
from rehaul.design.placement import FrontPoint, front, solve

__all__ = ["Choice", "FrontPoint", "Problem", "Requirement", "front", "solve", "solve_general"]
