"""What was accepted: each run and room with its checks, what was signed, and before against after."""

from __future__ import annotations

from rehaul.house import Quantity
from rehaul.planning import Plan
from rehaul.proof import AcceptanceCheck, AcceptanceRow, RunDuty, acceptance_record, comparison
from rehaul.sheets.blocks import Block, Bullets, Drawing, Prose, Rows, Section
from rehaul.sheets.comparison import comparison_svg
from rehaul.sheets.svg import drawing_size
from rehaul.sheets.table import Column, Table, table
from rehaul.words import again, say, term

WORDS = {"pass": "record.passed", "fail": "record.failed", "not tested": "record.not_tested"}


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
    **Source**: docs/proof.md, "Acceptance".
    """
    rows = [
        (row, check) for row in again(acceptance_record(plan.job, run_duties(plan))) for check in row.checks
    ]  # fmt: skip
    return table(
        "accepted",
        say("record.acceptance"),
        rows,
        (
            (Column("about", say("heads_work.run_or_room"), "id"), lambda r: r[0].name),
            (Column("check", say("heads_work.check")), lambda r: term(r[1].name)),
            (Column("wanted", say("heads_work.wanted"), share=1), lambda r: r[1].wanted),
            (Column("found", say("heads_work.found"), share=1), lambda r: r[1].found),
            (Column("result", say("heads_work.result")), lambda r: say(WORDS[r[1].result])),
            (Column("signed", say("heads_work.signed"), share=1), _signed),
        ),
        note=say("record.signature_note"),
    )


def _signed(pair: tuple[AcceptanceRow, AcceptanceCheck]) -> str:
    row, _ = pair
    if row.sign_off is None:
        return ""
    code = "record.signed_by" if row.stands else "record.does_not_stand"
    return say(code, words=row.signed, by=row.sign_off.by, date=row.sign_off.date)


def accepted_section(plan: Plan) -> Section:
    """The acceptance record, with its picture of before and after where readings of both are there.

    Rooms that were read only once are named, not drawn. **Source**: docs/proof.md, "Before and after".
    """
    found = again(comparison(plan.job))
    blocks: list[Block] = [Rows(accepted_table(plan)), Prose((found.sentence,))]
    if any(pair.quantity is Quantity.DOWN_MBPS for pair in found.pairs):
        picture = comparison_svg(found.pairs)
        blocks.append(Drawing(picture, say("record.comparison"), *drawing_size(picture)))
    lines = tuple(pair.sentence for pair in found.pairs) + found.unpaired
    if lines:
        blocks.append(Bullets(say("record.room_by_room"), lines))
    return Section("accepted", say("record.accepted"), tuple(blocks))
