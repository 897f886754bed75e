"""What was accepted: each run and room with its checks, what was signed, and before against after."""

from __future__ import annotations

from rehaul.house import Quantity
from rehaul.planning import Plan
from rehaul.proof import AcceptanceCheck, AcceptanceRow, RunDuty, acceptance_record, comparison
from rehaul.sheets.blocks import Block, Bullets, Drawing, Prose, Rows, Section
from rehaul.sheets.comparison import comparison_svg
from rehaul.sheets.svg import drawing_size
from rehaul.sheets.table import Column, Table, table

WORDS = {"pass": "pass", "fail": "FAIL", "not tested": "not tested"}


def run_duties(plan: Plan) -> tuple[RunDuty, ...]:
    """What each run on a port has to carry: its rate [Mb/s] and power class.

    Each run once, in the order of ports. Of two ports on one run the later counts. Ports without a run,
    such as those with a cord alone, have none.
    """
    found = {
        port.run: RunDuty(port.run, port.rate_mbps, port.poe_class) for port in plan.network.ports if port.run
    }
    return tuple(found.values())


def accepted_table(plan: Plan) -> Table:
    """One row for each check of each run and room, with the signature of the row it belongs to.

    A check that nobody did stands there as such; a signature never turns a failed one into a pass.
    """
    rows = [
        (row, check) for row in acceptance_record(plan.job, run_duties(plan)) for check in row.checks
    ]  # fmt: skip
    return table(
        "accepted",
        "Acceptance record",
        rows,
        (
            (Column("about", "Run or room", "id"), lambda r: r[0].name),
            (Column("check", "Check"), lambda r: r[1].name),
            (Column("wanted", "Wanted", share=1), lambda r: r[1].wanted),
            (Column("found", "Found", share=1), lambda r: r[1].found),
            (Column("result", "Result"), lambda r: WORDS[r[1].result]),
            (Column("signed", "Signed", share=1), _signed),
        ),
        note="A signature never turns a failed check into a pass.",
    )


def _signed(pair: tuple[AcceptanceRow, AcceptanceCheck]) -> str:
    row, _ = pair
    if row.sign_off is None:
        return ""
    words = f"{row.signed}, {row.sign_off.by}, {row.sign_off.date}"
    return words if row.stands else f"{words}: DOES NOT STAND"


def accepted_section(plan: Plan) -> Section:
    """The acceptance record, with its picture of before and after where readings of both are there.

    Rooms that were read only once are named, not drawn.
    """
    found = comparison(plan.job)
    blocks: list[Block] = [Rows(accepted_table(plan)), Prose((found.sentence,))]
    if any(pair.quantity is Quantity.DOWN_MBPS for pair in found.pairs):
        picture = comparison_svg(found.pairs)
        blocks.append(Drawing(picture, "Mb/s down, before and after, room by room", *drawing_size(picture)))
    lines = tuple(pair.sentence for pair in found.pairs) + found.unpaired
    if lines:
        blocks.append(Bullets("Room by room", lines))
    return Section("accepted", "What was accepted", tuple(blocks))
