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
from rehaul.sheets.table import Table, is_loud, printed
from rehaul.sheets.typeset import task_meta
from rehaul.sheets.words import sentence, visit_words
from rehaul.takeoff.results import Task
from rehaul.words import Saying, reader, say

PARTS = {
    "": "papers_page.summary",
    "drawings": "papers_page.drawings",
    "cabling": "papers_page.cabling",
    "network": "papers_page.network",
    "work": "papers_page.work",
    "record": "papers_page.record",
}
WIDE_MM = 200.0  # a drawing this wide takes the whole width of the page
POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
PageLink = tuple[str, str]  # file name beside the page, what it is


def page_html(plan: Plan, links: Sequence[PageLink] = (), every: Sequence[Section] | None = None) -> str:
    """One self-contained HTML page of the plan, for the present reader.

    `links` are files that lie beside it; `every` is the plan's sections, where they are already made.
    """
    made = sections(plan) if every is None else every
    every = [section_in_units(section, plan.job.units) for section in made]
    style = files("rehaul.sheets").joinpath("templates", "page.css").read_text(encoding="utf-8")
    title = escape(plan.job.title)
    made_up = f'<p class="stamp">{escape(say("papers_page.invented"))}</p>' if plan.job.invented else ""
    body = "".join(_section(section) for section in _paired(every))
    skip, sheets, foot = (
        escape(say(code)) for code in ("papers_page.skip", "papers_page.sheets", "papers_page.foot")
    )
    return (
        "<!doctype html>\n"
        f'<html lang="{reader().language}"><head><meta charset="utf-8"><title>{title}</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        f"<style>{style}</style></head><body>"
        f'<a class="skip" href="#summary">{skip}</a>'
        f"<header><h1>{title}</h1>{_block_of_titles(plan)}{made_up}{_links(links)}</header>"
        f'<nav aria-label="{sheets}">{_contents(every)}</nav><main>{body}</main>'
        f"<footer><p>{foot}</p></footer></body></html>\n"
    )


def _block_of_titles(plan: Plan) -> str:
    pairs = (
        (say("papers_page.house"), plan.job.house.name),
        (say("papers_page.drawn_for"), plan.job.contacts.household),
        (say("papers_page.by"), plan.job.contacts.firm or plan.job.contacts.technician),
        (say("papers_page.date"), plan.job.date),
    )
    return _pairs([pair for pair in pairs if pair[1]], "titles")


def _links(links: Sequence[PageLink]) -> str:
    if not links:
        return ""
    items = "".join(f'<li><a href="{escape(name)}">{escape(words)}</a></li>' for name, words in links)
    name = escape(say("papers_page.files"))
    return f'<ul class="files" aria-label="{name}">{items}</ul>'


def _contents(every: Iterable[Section]) -> str:
    parts: dict[str, list[str]] = {}
    for section in every:
        link = f'<li><a href="#{escape(section.key)}">{escape(section.title)}</a></li>'
        parts.setdefault(section.part, []).append(link)
    return "".join(
        f"<details><summary>{escape(say(PARTS[part]))}</summary><ul>{''.join(items)}</ul></details>"
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
            found[-1] = Section(twin.key, _both(section.title), twin.blocks + section.blocks, section.part)
        else:
            found.append(section)
    return found


def _both(title: str) -> str:
    """The title of a map after the work, said of the map of today too."""
    if not isinstance(title, Saying):
        return title
    return say(title.code, **{**title.values, "when": say("papers_page.today_and_after")})


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
        none = escape(say("papers_page.none"))
        return f"<h3>{escape(table.title)}</h3><p>{none}</p>"
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
    return f"<strong>{words}</strong>" if is_loud(cell) else words


def _steps(tasks: Sequence[Task]) -> str:
    do_not_start = escape(say("papers_page.held"))
    photograph = escape(say("papers_page.photograph_first"))
    parts = []
    visit: int | None = None
    for task in tasks:
        if task.visit != visit:
            parts.append(
                f"{'</ol>' if visit is not None else ''}<h3>{escape(visit_words(task.visit))}</h3>"
                '<ol class="steps">'
            )
            visit = task.visit
        held = photo = ""
        if task.held:
            held = f'<p class="hold"><strong>{do_not_start}</strong> {escape(sentence(task.held))}</p>'
        if task.photo:
            photo = f'<p class="photo">{photograph}</p>'
        cautions = "".join(f'<p class="caution">{escape(words)}</p>' for words in task.cautions)
        name = ' class="locked"' if task.held else ""
        parts.append(
            f'<li{name}><p><span class="id">{escape(task.id)}</span>'
            f" <strong>{escape(task.title)}</strong></p>"
            f'<p class="meta">{escape(task_meta(task))}</p>{held}{photo}{cautions}</li>'
        )
    return "".join(parts) + ("</ol>" if parts else "")
