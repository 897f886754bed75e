"""What a reader hands back: the house, what the model itself counts, and what was not understood."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from rehaul.house.base import Model
from rehaul.house.model import House
from rehaul.words import Saying
from rehaul.words.fields import Words


class ElementCounts(Model):
    """The model's own elements, however they are cut up inside the house."""

    storeys: int
    walls: int
    doors: int
    windows: int
    rooms: int


class NotUnderstood(Model):
    """Elements that are not in the house as read, grouped by their kind and the reason."""

    kind: str
    count: int
    why: Words


@dataclass(frozen=True)
class ReadReport:
    """A house as read from a file, with everything a person should know about the reading."""

    house: House
    counts: ElementCounts
    not_understood: tuple[NotUnderstood, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass
class Log:
    """Collects what a reader wants to tell, while it reads."""

    left: Counter[tuple[str, str]] = field(default_factory=Counter)
    notes: list[str] = field(default_factory=list)

    def leave(self, kind: str, why: str) -> None:
        """Count one element that is not in the house, with the reason.

        `kind` is what the file calls it; equal kinds with equal reasons are counted together.
        """
        self.left[_whole(kind), _whole(why)] += 1

    def note(self, sentence: str) -> None:
        """Tell something about the reading; a sentence that was told already is not told again.

        Notes keep their order.
        """
        if _whole(sentence) not in self.notes:
            self.notes.append(_whole(sentence))

    def not_understood(self) -> tuple[NotUnderstood, ...]:
        """What was left out, by kind and reason, each with its count; sorted by both.

        Empty where everything is in the house.
        """
        return tuple(
            NotUnderstood(kind=kind, count=count, why=why) for (kind, why), count in sorted(self.left.items())
        )


def _whole(text: str) -> str:
    """The text, with a question mark for each half of a letter that a damaged file leaves."""
    plain = text.encode("utf-8", "replace").decode()
    if isinstance(text, Saying):
        values = {name: _mended(value) for name, value in text.values.items()}
        return Saying(plain, text.code, values, text.whom)
    return plain


def _mended(value: Any) -> Any:
    """What a sentence names, with no half of a letter in it."""
    if isinstance(value, list | tuple):
        return tuple(_mended(one) for one in value)
    return _whole(value) if isinstance(value, str) else value
