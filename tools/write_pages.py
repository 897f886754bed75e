"""Write facts.md, commands.md and auditor.md in docs/ from the code, after a change of what they tell."""

from __future__ import annotations

import importlib
import pkgutil
from collections import Counter
from collections.abc import Mapping
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


FACTS = """# Fact tables

Every number from outside is a row of a table in `src/rehaul/facts/tables/`, with document,
edition, place and how it was read. A row without them does not load. What a table decides stands
in its class, and the number of rows from memory can only fall (`tests/unit/facts/test_provenance.py`).
Written by `tools/write_pages.py`.
"""


def facts_text() -> str:
    """How the rows were read, what rests on memory, and one line a table."""
    tables = {kind: load(kind) for kind in fact_classes()}
    return "\n".join([FACTS, *_totals(tables), *_from_memory(tables), *_tables(tables)]) + "\n"


Tables = Mapping[type[FactRow], tuple[FactRow, ...]]


def _totals(tables: Tables) -> list[str]:
    totals = Counter(row.source.how for rows in tables.values() for row in rows)
    whole = sum(totals.values())
    lines = [
        f"{len(tables)} tables, {whole} rows.",
        "",
        "| how | what it says | rows | of 100 |",
        "|---|---|---|---|",
    ]
    for how, count in totals.most_common():
        lines.append(f"| {how.value} | {how.means} | {count} | {100 * count / whole:.0f} |")
    return [*lines, ""]


def _from_memory(tables: Tables) -> list[str]:
    """The decisions that have rows from memory, those that rest on the most of it first."""
    shares = []
    partly = Counter(
        kind.table for kind, rows in tables.items() for row in rows if row.source.partly_remembered
    )
    for kind, rows in tables.items():
        remembered = [row for row in rows if row.source.how is How.MEMORY]
        if remembered:
            shares.append((len(remembered) / len(rows), kind, rows, remembered))
    lines = [
        "## What rests on memory",
        "",
        *MEMORY,
        "| decides | table | rows from memory | which |",
        "|---|---|---|---|",
    ]
    for _, kind, rows, remembered in sorted(shares, key=lambda entry: (-entry[0], entry[1].table)):
        which = ", ".join(dict.fromkeys(_name(row) for row in remembered))
        count = "all" if len(remembered) == len(rows) else f"{len(remembered)} of {len(rows)}"
        lines.append(f"| {kind.decides} | `{kind.table}` | {count} | {which} |")
    where = ", ".join(f"`{table}` {count}" for table, count in sorted(partly.items()))
    return [
        *lines,
        "",
        f"In {partly.total()} rows more a part is from memory, and the row says which: {where}.",
        "",
    ]


MEMORY = (
    "Nobody could read the document of these rows, so what they decide is as good as a memory. The rest of",
    "each table was read, computed or is practice. Of the common practice there is no document at all: it is",
    "told apart in the list of tables below.",
    "",
)


def _name(row: FactRow) -> str:
    """What a row is about: its first words, up to its first number."""
    words = []
    for name in type(row).model_fields:
        value = getattr(row, name)
        if name == "source":
            continue
        if not isinstance(value, str) or len(words) == 2:
            break
        words.append(value)
    return " ".join(words)


def _tables(tables: Tables) -> list[str]:
    lines = ["## Tables", ""]
    lines += ["| table | decides | a row is | rows | how read | documents |", "|---|---|---|---|---|---|"]
    for kind, rows in tables.items():
        how = Counter(row.source.how.value for row in rows)
        documents = sorted({row.source.document for row in rows})
        shown = "; ".join(documents[:4]) + (f"; and {len(documents) - 4} more" if len(documents) > 4 else "")
        words = (kind.__doc__ or "").strip().splitlines()[0].rstrip(".")
        counts = ", ".join(f"{name} {count}" for name, count in sorted(how.items()))
        cells = (f"`{kind.table}`", kind.decides, words, f"{len(rows)}", counts, shown.replace("|", "/"))
        lines.append(f"| {' | '.join(cells)} |")
    return lines


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
