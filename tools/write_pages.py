"""Write facts.md, commands.md and auditor.md in docs/ from the code, after a change of what they tell."""

from __future__ import annotations

import importlib
import pkgutil
from collections import Counter
from pathlib import Path

import click

import rehaul.facts
from rehaul.auditor import LACKS, RULES
from rehaul.cli.main import VERBS
from rehaul.cli.main import rehaul as cli
from rehaul.facts.table import FactRow, How, load

WIDE = 78  # columns, whatever the terminal says
DOCS = Path(__file__).parents[1] / "docs"


def fact_classes() -> list[type[FactRow]]:
    """Every class of fact row, by the name of its table."""
    for module in pkgutil.iter_modules(rehaul.facts.__path__):
        importlib.import_module(f"rehaul.facts.{module.name}")
    found = [row for row in FactRow.__subclasses__() if row.__module__.startswith("rehaul.facts")]
    return sorted(found, key=lambda row: row.table)


def facts_text() -> str:
    """One line a table: what it holds, how many rows, how they were read, and from where."""
    classes = fact_classes()
    totals = Counter(row.source.how for kind in classes for row in load(kind))
    lines = [
        "# Fact tables",
        "",
        "Every number from outside is a row of a table in `src/rehaul/facts/tables/`, with document,",
        "edition, place and how it was read. A row without them does not load.",
        "Written by `tools/write_pages.py`.",
        "",
        f"{len(classes)} tables, {sum(totals.values())} rows: "
        + ", ".join(f"{totals[how]} {how.value}" for how in How if totals[how])
        + ".",
        "",
        "| table | what a row is | rows | how read | documents |",
        "|---|---|---|---|---|",
    ]
    for kind in classes:
        rows = load(kind)
        how = Counter(row.source.how.value for row in rows)
        documents = sorted({row.source.document for row in rows})
        shown = "; ".join(documents[:4]) + (f"; and {len(documents) - 4} more" if len(documents) > 4 else "")
        words = (kind.__doc__ or "").strip().splitlines()[0].rstrip(".")
        counts = ", ".join(f"{name} {count}" for name, count in sorted(how.items()))
        lines.append(f"| `{kind.table}` | {words} | {len(rows)} | {counts} | {shown.replace('|', '/')} |")
    return "\n".join(lines) + "\n"


def commands_text() -> str:
    """The help of every verb, as it prints."""
    parts = ["# Commands", "", "What `--help` prints. Written by `tools/write_pages.py`.", ""]
    names = ["-h", "--help"]  # as the command line has them
    with click.Context(cli, info_name="rehaul", terminal_width=WIDE, help_option_names=names) as top:
        parts += ["```", cli.get_help(top), "```", ""]
        for verb in VERBS:
            command = cli.get_command(top, verb)
            assert command is not None
            with click.Context(command, info_name=verb, parent=top, terminal_width=WIDE) as inner:
                parts += [f"## {verb}", "", "```", command.get_help(inner), "```", ""]
    return "\n".join(line.rstrip() for line in "\n".join(parts).splitlines()) + "\n"


AUDITOR = f"""# The auditor

A plan is called proven only when something that had no part in making it has found nothing wrong with it.
`rehaul.auditor` reads the job and the finished plan as plain data (what `rehaul plan --json` prints) and
judges one by the other. It imports the models of the job and the fact tables, and nothing of what chose,
drew, priced or ordered the work; what holds a cable it works out again. It changes nothing and it
computes no field: a wrong prediction that agrees with itself passes.

`audit_plan(job, data)` gives findings: the rule, the ids it is about, and one sentence. Where a plan does
not say what a rule has to know, that is a finding too (`{LACKS}`), once for each missing key. On small
houses every choice of the plan's own problem is tried, without a solver: none may meet more, and none as
much for less. On large ones every choice that differs in one place is.

For every rule there is at least one plan broken on purpose in `tests/plan_breakages/` that it must
catch, and one sound plan that it must let pass. `tools/audit_houses.py` draws houses, plans them and
counts findings.

Written by `tools/write_pages.py` from the table of rules.
"""


def auditor_text() -> str:
    """Every rule of the auditor by subject, with what it checks."""
    lines = [AUDITOR]
    for subject in dict.fromkeys(rule.subject for rule in RULES):
        lines += [f"## {subject[0].upper()}{subject[1:]}", "", "| rule | what it checks |", "|---|---|"]
        lines += [f"| `{rule.name}` | {rule.checks} |" for rule in RULES if rule.subject == subject]
        lines.append("")
    return "\n".join(lines).rstrip("\n") + "\n"


PAGES = {"facts.md": facts_text, "commands.md": commands_text, "auditor.md": auditor_text}

if __name__ == "__main__":
    for name, text in PAGES.items():
        (DOCS / name).write_text(text(), encoding="utf-8")
