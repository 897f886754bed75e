"""Storeys of a model: which of its levels are floors that people stand on, and at what height."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from ifcopenshell.util.element import get_aggregate, get_container
from ifcopenshell.util.placement import get_local_placement

from rehaul.house.readers.ifc.reading import Element, ModelReading, name_of
from rehaul.words import say

SAME_FLOOR_M = 0.4  # levels nearer than this are one floor: its structure and its finish
STEP_M = 0.3  # a wall may start this far under the finished floor of its storey


@dataclass(frozen=True)
class Level:
    """One storey of the house to be."""

    id: str
    name: str
    elevation_m: float


@dataclass(frozen=True)
class Levels:
    """All storeys, lowest first, and which of the model's levels each came from."""

    levels: tuple[Level, ...]
    by_element: dict[int, Level]

    def at(self, height_m: float) -> Level:
        """The storey on whose floor something at this height stands.

        `height_m` is z in the world [m]; it may lie up to 0.3 m under the finished floor. What is lower
        than all storeys belongs to the lowest. **Source**: docs/readers.md, "A building model (IFC)":
        storeys.
        """
        below = [level for level in self.levels if level.elevation_m <= height_m + STEP_M]
        return below[-1] if below else self.levels[0]

    def of(self, element: Element, low_m: float) -> Level:
        """The storey of an element whose lowest point is `low_m` [m].

        The one where the model puts it, unless its height says otherwise: then as `at`. **Source**:
        docs/readers.md, "A building model (IFC)": storeys.
        """
        container = storey_element(element)
        level = self.by_element.get(container.id()) if container else None
        if level is None:
            return self.at(low_m)
        here = self.levels.index(level)
        too_high = here + 1 < len(self.levels) and low_m >= self.levels[here + 1].elevation_m - STEP_M
        too_low = here > 0 and low_m < level.elevation_m - SAME_FLOOR_M
        return self.at(low_m) if too_high or too_low else level


def storey_element(element: Element) -> Element | None:
    """The level that the model puts an element on, through whatever it is part of; None where none is said.

    It climbs by containment first, by aggregation else.
    """
    holder: Element | None = element
    while holder is not None and not holder.is_a("IfcBuildingStorey"):
        holder = get_container(holder) or get_aggregate(holder)
    return holder


def read_levels(reading: ModelReading, standing: list[Element]) -> Levels:
    """The storeys of the house, lowest first; levels that nothing stands on are left out, and told.

    `standing` are the walls and rooms that say which levels are lived on. Where no level holds any, one
    storey is made for all.
    """
    storeys = reading.of("IfcBuildingStorey")
    reading.used |= {storey.id() for storey in storeys}
    lows: dict[int, list[float]] = defaultdict(list)
    for element in standing:
        holder = storey_element(element)
        shape = reading.shapes.get(element.id())
        if holder is not None and shape is not None:
            lows[holder.id()].append(shape.low_m)
    heights = _heights_m(reading, storeys, lows)
    kept = [storey for storey in storeys if storey.id() in lows]
    empty = [name_of(storey, "unnamed") for storey in storeys if storey.id() not in lows]
    if empty:
        reading.log.note(say("readers.empty_levels", levels=empty))
    if not kept:
        everything = [low for group in lows.values() for low in group]
        base = [shape.low_m for element in standing if (shape := reading.shapes.get(element.id()))]
        lowest = min(everything or base or [0.0])
        reading.log.note(say("readers.no_level_holds_anything"))
        return Levels((Level("1", "Storey 1", round(lowest, 3)),), {})
    return _numbered(reading, kept, heights)


def _heights_m(
    reading: ModelReading, storeys: list[Element], lows: dict[int, list[float]]
) -> dict[int, float]:
    placed = {storey.id(): _placed_m(reading, storey) for storey in storeys}
    if len(storeys) < 2 or len({round(height, 3) for height in placed.values()}) > 1:
        return placed
    derived = {number: _commonest(values) for number, values in lows.items()}
    reading.log.note(say("readers.levels_at_one_height", levels=len(storeys)))
    return placed | derived


def _placed_m(reading: ModelReading, storey: Element) -> float:
    if storey.ObjectPlacement:
        return float(get_local_placement(storey.ObjectPlacement)[2, 3]) * reading.unit_m
    return float(storey.Elevation or 0.0) * reading.unit_m


def _commonest(values: list[float]) -> float:
    rounded = sorted(round(value, 2) for value in values)
    return max(rounded, key=rounded.count)


def _numbered(reading: ModelReading, kept: list[Element], heights: dict[int, float]) -> Levels:
    """Storeys numbered from the one nearest to elevation 0: 1, 2, ... upwards and B1, B2, ... downwards."""
    kept = sorted(kept, key=lambda storey: (heights[storey.id()], storey.id()))
    groups: list[list[Element]] = []
    for storey in kept:
        if groups and heights[storey.id()] - heights[groups[-1][-1].id()] < SAME_FLOOR_M:
            groups[-1].append(storey)
        else:
            groups.append([storey])
    tops = [group[-1] for group in groups]
    ground = min(range(len(tops)), key=lambda i: (abs(heights[tops[i].id()]), i))
    levels: list[Level] = []
    by_element: dict[int, Level] = {}
    for index, group in enumerate(groups):
        top = tops[index]
        number = str(index - ground + 1) if index >= ground else f"B{ground - index}"
        level = Level(number, name_of(top, f"Storey {number}"), round(heights[top.id()], 4))
        levels.append(level)
        by_element |= {storey.id(): level for storey in group}
        if len(group) > 1:
            names = [name_of(storey, "unnamed") for storey in group]
            reading.log.note(say("readers.levels_are_one", levels=names, apart_m=SAME_FLOOR_M))
    return Levels(tuple(levels), by_element)
