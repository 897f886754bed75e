"""What every part of the reader works on: the model, its bodies, its length unit, and the log."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TypeAlias

import ifcopenshell

from rehaul.house.readers.ifc.shapes import Shape
from rehaul.house.readers.report import Log

Element: TypeAlias = ifcopenshell.entity_instance


@dataclass
class ModelReading:
    """One model while it is read."""

    model: ifcopenshell.file
    unit_m: float  # metres per unit of length of the model
    shapes: dict[int, Shape]  # by element number, world coordinates
    moved_m: tuple[float, float] = (0.0, 0.0)  # how far the house was moved on the sheet
    log: Log = field(default_factory=Log)
    used: set[int] = field(default_factory=set)  # elements that are in the house or already listed
    guesses: Counter[tuple[str, str]] = field(default_factory=Counter)  # (kind of name, construction)

    def of(self, *classes: str) -> list[Element]:
        """Elements of these classes and their subclasses, each once, in the order of their numbers.

        Classes of which the model holds none add nothing.
        """
        found: dict[int, Element] = {}
        for name in classes:
            found |= {element.id(): element for element in self.model.by_type(name)}
        return [found[number] for number in sorted(found)]

    def leave(self, element: Element, why: str) -> None:
        """List an element as not in the house, with the reason, and count it as dealt with.

        `why` is a half sentence for people, such as `it has no outline on the plan`.
        """
        self.used.add(element.id())
        self.log.leave(element.is_a(), why)


def name_of(element: Element, fallback: str = "") -> str:
    """The element's name, at most 80 letters; `fallback` where it has none but spaces.

    Eighty is what a name in a job may have.
    """
    return (element.Name or fallback).strip()[:80] or fallback
