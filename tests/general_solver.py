"""The placement problem given to a general mixed-integer solver (HiGHS): an answer found in another way.

Equal rows are merged and the coverage variables are continuous: once the options are whole, a covered
row may be taken at its full value, so nothing is lost.
"""

from __future__ import annotations

import highspy
import numpy as np

from rehaul.exact.coverage import COST_STEP, CoverProblem, Selection, choice_of


def solve_general(
    problem: CoverProblem, time_limit_s: float = 60.0, *, enough: int | None = None
) -> Selection:
    """Least cost that meets all requirements, or `enough` of them, by HiGHS.

    Parameters
    ----------
    problem : sites, kinds, costs, what they serve and what is asked
    time_limit_s : the solver stops here with what it has
    enough : number of requirements to meet; all where None

    Returns
    -------
    The choice; `proven` where HiGHS closed the gap, or proved that there is no choice: then `feasible` is
    false and no option is chosen.

    **Validity** HiGHS accepts a row within 1e-6 of its need; the choice is checked again in whole numbers.
    """
    merged = problem.merged
    options, rows = len(problem.site), len(merged.rows)
    groups = len(merged.needs)
    wanted = groups if enough is None else enough
    solver = highspy.Highs()
    solver.silent()
    for name, setting in (
        ("time_limit", time_limit_s),
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", 0.4),  # hundredths: two different costs differ by one
        ("threads", 1),
        ("random_seed", 0),
    ):
        solver.setOptionValue(name, setting)
    infinity = solver.getInfinity()
    upper = problem.allowed.astype(np.float64)
    columns = options + rows + groups
    lower_bounds = np.zeros(columns)
    upper_bounds = np.concatenate([upper, np.ones(rows + groups)])
    if enough is None:
        lower_bounds[options + rows :] = 1.0
    costs = np.concatenate([problem.cost_steps.astype(np.float64), np.zeros(rows + groups)])
    solver.addVars(columns, lower_bounds, upper_bounds)
    solver.changeColsCost(columns, np.arange(columns, dtype=np.int32), costs)
    whole = np.concatenate([np.arange(options), np.arange(options + rows, columns)]).astype(np.int32)
    solver.changeColsIntegrality(len(whole), whole, np.array([highspy.HighsVarType.kInteger] * len(whole)))
    for row in range(rows):  # y_row <= sum of the options that serve it
        served_by = np.flatnonzero(merged.rows[row])
        index = np.concatenate([served_by, [options + row]]).astype(np.int32)
        value = np.append(np.ones(len(served_by)), -1.0)
        solver.addRow(0.0, infinity, len(index), index, value)
    for group in range(groups):  # weight served - need * met >= 0, scaled to places of mean weight
        used = np.flatnonzero(merged.weights[group])
        scale = max(float(merged.weights[group].max(initial=1)), 1.0)
        index = np.concatenate([options + used, [options + rows + group]]).astype(np.int32)
        value = np.append(merged.weights[group, used] / scale, -merged.needs[group] / scale)
        solver.addRow(0.0, infinity, len(index), index, value)
    for site in np.unique(problem.site):
        at_site = np.flatnonzero(problem.site == site).astype(np.int32)
        least = 1.0 if int(site) in problem.must_hold else 0.0
        solver.addRow(least, 1.0, len(at_site), at_site, np.ones(len(at_site)))
    met = np.arange(options + rows, columns, dtype=np.int32)
    solver.addRow(float(wanted), infinity, groups, met, np.ones(groups))
    solver.run()
    info = solver.getInfo()
    status = solver.getModelStatus()
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        impossible = status == highspy.HighsModelStatus.kInfeasible
        nodes = max(int(info.mip_node_count), 0)
        return choice_of(
            problem, (), bound=0.0, proven=impossible, nodes=nodes, enough=enough, possible=False
        )
    values = np.asarray(solver.getSolution().col_value)[:options]
    return choice_of(
        problem,
        np.flatnonzero(values > 0.5).tolist(),
        bound=float(info.mip_dual_bound) * COST_STEP,
        proven=status == highspy.HighsModelStatus.kOptimal,
        nodes=int(info.mip_node_count),
        enough=enough,
    )
