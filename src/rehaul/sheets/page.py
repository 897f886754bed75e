"""The whole plan as one page for a browser: no script, nothing fetched, readable on a phone and on paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from importlib.resources import files

from rehaul.planning import Plan
from rehaul.sheets.blocks import (
    Beside,
    Block,
    Bullets,
    Drawing,
    Facts,
    Form,
    Prose,
    Rows,
    Section,
    TaskBlock,
    Warning,
    section_in_units,
)
from rehaul.sheets.sections import sections
from rehaul.sheets.svg import escape
from rehaul.sheets.table import Table, printed
from rehaul.sheets.typeset import task_meta
from rehaul.sheets.words import sentence, visit_words
from rehaul.takeoff.results import Task

PARTS = {
    "": "Summary",
    "drawings": "Plan sheets and maps",
    "cabling": "Cables",
    "network": "Network",
    "work": "Work and price",
    "record": "Record",
}
LOUD = {"NO", "NOBODY YET", "NOT ASKED"}
WIDE_MM = 200.0  # a drawing this wide takes the whole width of the page
POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
PageLink = tuple[str, str]  # file name beside the page, what it is


def page_html(plan: Plan, links: Sequence[PageLink] = (), every: Sequence[Section] | None = None) -> str:
    """One self-contained HTML page of the plan.

    `links` are files that lie beside it; `every` is the plan's sections, where they are already made.
    """
    made = sections(plan) if every is None else every
    every = [section_in_units(section, plan.job.units) for section in made]
    style = files("rehaul.sheets").joinpath("templates", "page.css").read_text(encoding="utf-8")
    title = escape(plan.job.title)
    made_up = (
        '<p class="stamp">Invented example: house, prices and readings are made up.</p>'
        if plan.job.invented
        else ""
    )
    body = "".join(_section(section) for section in _paired(every))
    return (
        "<!doctype html>\n"
        f'<html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        f"<style>{style}</style></head><body>"
        '<a class="skip" href="#summary">Skip to the summary</a>'
        f"<header><h1>{title}</h1>{_block_of_titles(plan)}{made_up}{_links(links)}</header>"
        f'<nav aria-label="Sheets">{_contents(every)}</nav><main>{body}</main>'
        "<footer><p>Predicted figures are estimates with their range. Local codes and licensed trades"
        " come before anything written here.</p></footer></body></html>\n"
    )


def _block_of_titles(plan: Plan) -> str:
    pairs = (
        ("House", plan.job.house.name),
        ("Drawn for", plan.job.contacts.household),
        ("By", plan.job.contacts.firm or plan.job.contacts.technician),
        ("Date", plan.job.date),
    )
    return _pairs([pair for pair in pairs if pair[1]], "titles")


def _links(links: Sequence[PageLink]) -> str:
    if not links:
        return ""
    items = "".join(f'<li><a href="{escape(name)}">{escape(words)}</a></li>' for name, words in links)
    return f'<ul class="files" aria-label="Files beside this page">{items}</ul>'


def _contents(every: Iterable[Section]) -> str:
    parts: dict[str, list[str]] = {}
    for section in every:
        link = f'<li><a href="#{escape(section.key)}">{escape(section.title)}</a></li>'
        parts.setdefault(section.part, []).append(link)
    return "".join(
        f"<details><summary>{PARTS[part]}</summary><ul>{''.join(items)}</ul></details>"
        for part, items in parts.items()
    )


def _paired(every: Sequence[Section]) -> list[Section]:
    """The same sections, a storey's map of today and after in one, so that they can be compared."""
    found: list[Section] = []
    for section in every:
        twin = found[-1] if found else None
        if (
            twin
            and section.key.endswith("-after")
            and twin.key == section.key.removesuffix("after") + "before"
        ):
            title = section.title.removesuffix(", after the work") + ", today and after the work"
            found[-1] = Section(twin.key, title, twin.blocks + section.blocks, section.part)
        else:
            found.append(section)
    return found


def _section(section: Section) -> str:
    blocks = "".join(_block(block, section) for block in section.blocks)
    anchor = section.key.replace("-before", "-after")
    extra = f'<a id="{escape(anchor)}"></a>' if anchor != section.key else ""
    return (
        f'<section id="{escape(section.key)}" aria-labelledby="h-{escape(section.key)}">{extra}'
        f'<h2 id="h-{escape(section.key)}">{escape(section.title)}</h2>{blocks}</section>'
    )


def _block(block: Block, section: Section) -> str:
    match block:
        case Prose(paragraphs, lead):
            name = ' class="lead"' if lead else ""
            return "".join(f"<p{name}>{escape(words)}</p>" for words in paragraphs)
        case Bullets(heading, items):
            return f"<h3>{escape(heading)}</h3>{_list(items)}"
        case Facts(pairs):
            return _pairs(pairs, "facts")
        case Rows(table):
            return _table(table, alone=table.title == section.title)
        case Drawing(svg, shows, width_mm, _, whole_sheet):
            name = "sheet" if whole_sheet else "figure wide" if width_mm > WIDE_MM else "figure"
            return (
                f'<figure class="{name}"><div class="scroll" tabindex="0" role="group"'
                f' aria-label="{escape(shows)}">{svg}</div><figcaption>{escape(shows)}</figcaption></figure>'
            )
        case TaskBlock(tasks):
            return _steps(tasks)
        case Warning(heading, sentences):
            return f'<div class="held" role="note"><h3>{escape(heading)}</h3>{_paragraphs(sentences)}</div>'
        case Form(captions):
            return _pairs([(caption, "") for caption in captions], "form")
        case Beside(left, right, _):
            inner = "".join(_block(one, section) for one in right)
            return f'<div class="beside">{_block(left, section)}<div>{inner}</div></div>'


def _paragraphs(sentences: Iterable[str]) -> str:
    return "".join(f"<p>{escape(words)}</p>" for words in sentences)


def _list(items: Iterable[str]) -> str:
    return f"<ul>{''.join(f'<li>{escape(item)}</li>' for item in items)}</ul>"


def _pairs(pairs: Iterable[tuple[str, str]], name: str) -> str:
    inner = "".join(f"<div><dt>{escape(term)}</dt><dd>{escape(value)}</dd></div>" for term, value in pairs)
    return f'<dl class="{name}">{inner}</dl>'


def _table(table: Table, *, alone: bool) -> str:
    columns, rows = printed(table)
    if not rows:
        return f"<h3>{escape(table.title)}</h3><p>None.</p>"
    kinds = ["number" if column.kind in {"number", "whole", "money"} else column.kind for column in columns]
    heads = "".join(
        f'<th scope="col" class="{kind}">{escape(column.head)}</th>'
        for column, kind in zip(columns, kinds, strict=True)
    )
    body = "".join(
        "<tr>"
        + "".join(f'<td class="{kind}">{_words(cell)}</td>' for cell, kind in zip(row, kinds, strict=True))
        + "</tr>"
        for row in rows
    )
    caption = f"<caption{' class=hidden' if alone else ''}>{escape(table.title)}</caption>"
    note = f'<p class="note">{escape(table.note)}</p>' if table.note and table.rows else ""
    return (
        f'<div class="scroll" tabindex="0" role="group" aria-label="{escape(table.title)}"><table>{caption}'
        f"<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table></div>{note}"
    )


def _words(cell: str) -> str:
    words = escape(cell)
    return f"<strong>{words}</strong>" if cell in LOUD else words


def _steps(tasks: Sequence[Task]) -> str:
    parts = []
    visit: int | None = None
    for task in tasks:
        if task.visit != visit:
            parts.append(
                f'{"</ol>" if visit is not None else ""}<h3>{visit_words(task.visit)}</h3><ol class="steps">'
            )
            visit = task.visit
        held = (
            f'<p class="hold"><strong>HELD, do not start.</strong> {escape(sentence(task.held))}</p>'
            if task.held
            else ""
        )
        photo = '<p class="photo">Photograph first</p>' if task.photo else ""
        cautions = "".join(f'<p class="caution">{escape(words)}</p>' for words in task.cautions)
        name = ' class="locked"' if task.held else ""
        parts.append(
            f'<li{name}><p><span class="id">{escape(task.id)}</span>'
            f" <strong>{escape(task.title)}</strong></p>"
            f'<p class="meta">{escape(task_meta(task))}</p>{held}{photo}{cautions}</li>'
        )
    return "".join(parts) + ("</ol>" if parts else "")
