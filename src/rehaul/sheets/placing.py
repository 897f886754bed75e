"""Where to write on a drawing: words keep clear of symbols, of each other and, where they can, of walls."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from rehaul.sheets import svg
from rehaul.sheets.svg import Mm

Frame = tuple[float, float, float, float]  # x0, y0, x1, y1 on paper

LINE_MM = 0.4  # half the width that a line takes up for words
COMPASS = ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (-1, -1), (1, 1), (-1, 1))


class Placer:
    """Remembers what is already drawn and finds the least bad place for the next words."""

    def __init__(self, frame: Frame, walls: BaseGeometry) -> None:
        self._frame = frame
        self._walls = walls
        self._taken: list[Frame] = []
        shapely.prepare(walls)

    def avoid(self, lines: Iterable[BaseGeometry]) -> None:
        """Count lying on these lines [mm on paper] as lying on walls: allowed, but disliked.

        **Source**: docs/papers.md, "How it is made": words keep clear.
        """
        self._walls = shapely.union_all([self._walls, *(line.buffer(LINE_MM) for line in lines)])
        shapely.prepare(self._walls)

    def take(self, box: Frame) -> None:
        """Mark a box [mm: left, top, right, bottom] as drawn on: no words are placed over it any more.

        `place` does so itself for what it places.
        """
        self._taken.append(box)

    def place(
        self, width: float, height: float, choices: Iterable[tuple[Mm, float]], *, most: float = math.inf
    ) -> Mm | None:
        """The centre of the best box among the choices (centre, dislike), or None where all are taken.

        Crossing something already drawn rules a choice out; lying on a wall counts by the area, and more
        than `most` rules a choice out too. **Source**: docs/papers.md, "How it is made": words keep clear.
        """
        best: tuple[float, Mm] | None = None
        for centre, dislike in choices:
            box = box_round(centre, width, height)
            if best is not None and dislike >= best[0]:
                continue
            if not _within(box, self._frame) or any(_cross(box, other) for other in self._taken):
                continue
            cost = dislike
            shape = shapely.box(*box)
            if self._walls.intersects(shape):
                cost += 0.6 * self._walls.intersection(shape).area
            if cost <= most and (best is None or cost < best[0]):
                best = (cost, centre)
        if best is None:
            return None
        self.take(box_round(best[1], width + 0.4, height + 0.3))
        return best[1]


def box_round(centre: Mm, width: float, height: float) -> Frame:
    """The box of that size about a middle: left, top, right, bottom [mm].

    >>> box_round((10.0, 5.0), 4.0, 2.0)
    (8.0, 4.0, 12.0, 6.0)
    """
    return (centre[0] - width / 2, centre[1] - height / 2, centre[0] + width / 2, centre[1] + height / 2)


def beside(at: Mm, radius: float, width: float, height: float) -> list[tuple[Mm, float]]:
    """Choices for a box around a symbol of that radius [mm], near ones first.

    Of each its middle and how much it is disliked. Eight directions in four rings, right and left before
    above and below. **Source**: docs/papers.md, "How it is made": words keep clear.
    """
    choices = []
    for ring, gap in enumerate((0.5, 1.8, 3.6, 6.0)):
        for rank, (right, down) in enumerate(COMPASS):
            x = at[0] + right * (radius + gap + width / 2)
            y = at[1] + down * (radius + gap + height / 2)
            choices.append(((x, y), 0.15 * rank + 2.0 * ring))
    return choices


def around(at: Mm, reach: float) -> list[tuple[Mm, float]]:
    """Choices on a grid around a middle [mm], the middle first: a middle and how much it is disliked.

    `reach`: how far the grid goes to either side; downwards a little less. **Source**: docs/papers.md, "How
    it is made": words keep clear.
    """
    steps: Sequence[int] = (0, -1, 1, -2, 2, -3, 3, -4, 4)
    found = [
        ((at[0] + i * reach / 4, at[1] + j * reach / 5), 0.5 * (abs(i) + abs(j)))
        for j in steps
        for i in steps
    ]
    return sorted(found, key=lambda choice: choice[1])


def _within(box: Frame, frame: Frame) -> bool:
    return frame[0] <= box[0] and frame[1] <= box[1] and box[2] <= frame[2] and box[3] <= frame[3]


def _cross(a: Frame, b: Frame) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def cut_to_width(words: str, size: float, width: float) -> str:
    """The words, cut short with an ellipsis where they are too long for that width [mm].

    `size`: letter height in mm as in `svg.text`. **Validity**: by `svg.text_width_mm`, which is near, not
    exact.

    >>> cut_to_width("Living room", 3.0, 100.0)
    'Living room'
    """
    if svg.text_width_mm(words, size) <= width:
        return words
    while words and svg.text_width_mm(words + "…", size) > width:
        words = words[:-1]
    return words.rstrip() + "…"


def wrapped(words: str, size: float, width: float, most: int) -> list[str]:
    """Words in at most `most` lines of that width [mm], the last one cut short where they are too many.

    A single word that is too long is cut short on its line.

    >>> wrapped("a b", 3.0, 100.0, 2)
    ['a b']
    """
    lines = [""]
    for word in words.split():
        longer = f"{lines[-1]} {word}".strip()
        if svg.text_width_mm(longer, size) <= width or not lines[-1]:
            lines[-1] = longer
        else:
            lines.append(word)
    shown = lines[:most]
    if len(lines) > most:
        shown[-1] += "…"
    return [cut_to_width(line, size, width) for line in shown]
