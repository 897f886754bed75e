"""What a paper is made of, before anybody decides how it looks: the PDF and the page read the same blocks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from rehaul.sheets.table import Table, in_units
from rehaul.takeoff.results import Task
from rehaul.units import UnitSystem


@dataclass(frozen=True)
class Prose:
    """Paragraphs in plain words; `lead` ones are set larger."""

    paragraphs: tuple[str, ...]
    lead: bool = False


@dataclass(frozen=True)
class Bullets:
    """A short list under a small heading."""

    heading: str
    items: tuple[str, ...]


@dataclass(frozen=True)
class Facts:
    """Labelled values: `Draws: 67 W`."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Rows:
    """A table."""

    table: Table


@dataclass(frozen=True)
class Drawing:
    """A vector drawing with what it shows in one sentence."""

    svg: str
    shows: str
    width_mm: float
    height_mm: float
    whole_sheet: bool = False  # drawn to scale: never shrunk, alone on its sheet


@dataclass(frozen=True)
class TaskBlock:
    """Tasks in order, each with its cautions; a held one is locked."""

    tasks: tuple[Task, ...]


@dataclass(frozen=True)
class Warning:
    """Something that stops a hand: a heavy frame, a heading, sentences."""

    heading: str
    sentences: tuple[str, ...]


@dataclass(frozen=True)
class Form:
    """Lines to fill in by hand, each with its caption."""

    captions: tuple[str, ...]


Plain = Prose | Bullets | Facts | Rows | Drawing | TaskBlock | Warning | Form


@dataclass(frozen=True)
class Beside:
    """A drawing with what belongs to it at its right hand; `share` is how much of its size it is drawn at."""

    left: Drawing
    right: tuple[Plain, ...]
    share: float = 1.0


Block = Plain | Beside


@dataclass(frozen=True)
class Section:
    """One or more sheets under one name."""

    key: str  # for links: "plan-G"
    title: str
    blocks: tuple[Block, ...]
    part: Literal["", "drawings", "cabling", "network", "work", "record"] = ""


def section_in_units(section: Section, system: UnitSystem) -> Section:
    """The section with the lengths of its tables as the household reads them.

    Drawings and words stay as they are. The same section for "metric".
    """
    return replace(section, blocks=tuple(_block_in_units(block, system) for block in section.blocks))


def _block_in_units(block: Block, system: UnitSystem) -> Block:
    return Rows(in_units(block.table, system)) if isinstance(block, Rows) else block
