"""A house as radio sees it: walls cut around their openings, slabs with their voids, and big bodies."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from rehaul.facts.radio_numbers import radio_numbers
from rehaul.house import Body, House, Opening, Storey, Wall
from rehaul.house.geometry import floor_parts, point_along, wall_length_m
from rehaul.predict.body_room import room_about
from rehaul.predict.kinds import body_kind, floor_kind, opening_kind, wall_kind
from rehaul.radio import Bulk, LayeredKind, Plate, Scene, plate

SLIVER_M = 0.02  # pieces of wall smaller than this are dropped

Panel = tuple[float, float, float, float, float, float]  # x0, y0, x1, y1, z0, z1


@dataclass(frozen=True, eq=False)
class HouseScene:
    """A scene, and which entity of the house each of its pieces came from."""

    scene: Scene
    panel_owner: tuple[str, ...]  # ids of walls and openings, one per panel
    plate_owner: tuple[str, ...]  # ids of storeys, one per plate; a floor in parts is several
    body_owner: tuple[str, ...] = ()  # ids of bodies, one per body


def scene_of(house: House, country: str | None = None) -> HouseScene:
    """Cut the house into panels and plates, with its bodies between them.

    Walls and floors that nobody named are as `country` builds them.

    A wall that reaches the ceiling is carried on to the middle of the slabs above and below, so that
    no ray slips between wall and slab. **Source**: docs/radio.md, "Scene".
    """
    kinds = _Kinds()
    storeys = {storey.id: storey for storey in house.storeys}
    openings: dict[str, list[Opening]] = {}
    for opening in house.openings:
        openings.setdefault(opening.wall, []).append(opening)
    panels: list[Panel] = []
    panel_kinds: list[int] = []
    owners: list[str] = []
    for wall in house.walls:
        span = wall_span_m(wall, storeys[wall.storey], house)
        made_of = wall_kind(wall, country, house.built_year)
        for panel, piece_of, owner in _wall_pieces(
            wall, storeys[wall.storey], openings.get(wall.id, []), span, made_of
        ):
            panels.append(panel)
            panel_kinds.append(kinds.index(piece_of))
            owners.append(owner)
    bodies = tuple(_body(body, storeys[body.storey], house, kinds) for body in house.bodies)
    plates, plate_owners = _plates(house, kinds, country)
    scene = Scene(
        np.array(panels, dtype=np.float64).reshape(-1, 6),
        np.array(panel_kinds, dtype=np.int32),
        plates,
        tuple(kinds.found),
        bodies,
    )
    return HouseScene(scene, tuple(owners), plate_owners, tuple(body.id for body in house.bodies))


class _Kinds:
    """Kinds in order of first use."""

    def __init__(self) -> None:
        self.found: list[LayeredKind] = []
        self._places: dict[LayeredKind, int] = {}

    def index(self, made_of: LayeredKind) -> int:
        if made_of not in self._places:
            self._places[made_of] = len(self.found)
            self.found.append(made_of)
        return self._places[made_of]


def slab_middle_m(storey: Storey) -> float:
    """z of the middle of a storey's floor slab [m]: half its thickness under the finished floor.

    Plates of a scene lie there. **Source**: docs/radio.md, "Scene": panels must meet plates.
    """
    return storey.elevation_m - storey.floor.thickness_m / 2


def wall_span_m(wall: Wall, storey: Storey, house: House) -> tuple[float, float]:
    """Lowest and highest z of a wall [m], carried on into the slabs where it meets them: no ray leaks.

    A wall that begins at the floor reaches down to the slab's middle, one that ends at the ceiling up to
    that of the next storey's slab; one that stops short stays as it is. **Source**: docs/radio.md, "Scene":
    panels must meet plates.
    """
    floor_m, ceiling_m = storey.elevation_m, storey.elevation_m + storey.height_m
    low_m = floor_m + wall.base_m
    high_m = ceiling_m if wall.height_m is None else low_m + wall.height_m
    if wall.base_m == 0:
        low_m = slab_middle_m(storey)
    if high_m >= ceiling_m - 0.01:
        above = [other for other in house.storeys if other.elevation_m > storey.elevation_m + 0.5]
        high_m = max(high_m, slab_middle_m(min(above, key=lambda s: s.elevation_m))) if above else high_m
    return low_m, high_m


def _wall_pieces(
    wall: Wall, storey: Storey, openings: list[Opening], span: tuple[float, float], made_of: LayeredKind
) -> Iterator[tuple[Panel, LayeredKind, str]]:
    """The wall's solid pieces, then what stands in its openings."""
    low_m, high_m = span
    reached_m = 0.0
    for opening in sorted(openings, key=lambda opening: opening.offset_m):
        start_m = max(opening.offset_m, reached_m)
        end_m = min(opening.offset_m + opening.width_m, wall_length_m(wall))
        if end_m - start_m < SLIVER_M:
            continue
        sill_m = min(max(storey.elevation_m + opening.sill_m, low_m), high_m)
        if opening.sill_m == 0:
            sill_m = storey.elevation_m if storey.elevation_m > low_m else low_m
        head_m = min(storey.elevation_m + opening.sill_m + opening.height_m, high_m)
        yield from _piece(wall, reached_m, start_m, low_m, high_m, made_of, wall.id)
        yield from _piece(wall, start_m, end_m, low_m, sill_m, made_of, wall.id)
        yield from _piece(wall, start_m, end_m, head_m, high_m, made_of, wall.id)
        filled = opening_kind(opening)
        if filled:
            yield from _piece(wall, start_m, end_m, sill_m, head_m, filled, opening.id)
        reached_m = end_m
    yield from _piece(wall, reached_m, wall_length_m(wall), low_m, high_m, made_of, wall.id)


def _piece(
    wall: Wall, start_m: float, end_m: float, low_m: float, high_m: float, made_of: LayeredKind, owner: str
) -> Iterator[tuple[Panel, LayeredKind, str]]:
    if end_m - start_m >= SLIVER_M and high_m - low_m >= SLIVER_M:
        yield (*point_along(wall, start_m), *point_along(wall, end_m), low_m, high_m), made_of, owner


def _body(body: Body, storey: Storey, house: House, kinds: _Kinds) -> Bulk:
    """A big thing where it stands, open over it and beneath it where there is space."""
    (x0, y0), base_m = body.corner, storey.elevation_m + body.base_m
    clear_m = radio_numbers()["body_clear_space"]
    return Bulk(
        (x0, y0, base_m),
        (x0 + body.width_m, y0 + body.depth_m, base_m + body.height_m),
        kinds.index(body_kind(body.construction)),
        over=body.base_m + body.height_m + clear_m <= storey.height_m,
        under=body.base_m >= clear_m,
        room=room_about(body, storey, house),
    )


def _plates(house: House, kinds: _Kinds, country: str | None) -> tuple[tuple[Plate, ...], tuple[str, ...]]:
    """Floors of all storeys but those that nothing lies under."""
    plates, owners = [], []
    for storey in house.storeys:
        made_of = floor_kind(storey.floor, storey.floor.thickness_m, country, house.built_year)
        for outline, voids in floor_parts(house, storey):
            plates.append(plate(slab_middle_m(storey), outline, kinds.index(made_of), voids))
            owners.append(storey.id)
    return tuple(plates), tuple(owners)
