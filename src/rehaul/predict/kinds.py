"""What each wall, opening, slab and body of a house is made of, as radio sees it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import product
from typing import Protocol

from rehaul.facts.composites import composites, is_layer
from rehaul.facts.constructions import constructions
from rehaul.facts.guesses import wall_guess
from rehaul.house import UNKNOWN, Layer, Opening, OpeningKind, Wall
from rehaul.radio import Kind, Mixture, Stack, Structure, kind
from rehaul.radio import Layer as RadioLayer

OPENING_GUESSES = {OpeningKind.DOOR: "door-hollow", OpeningKind.WINDOW: "glass-double"}
FLOOR_GUESS = "timber-floor"
THICK_FLOOR_GUESS = "concrete-slab"
THICKEST_JOIST_FLOOR_M = 0.24  # a thinner unnamed floor counts as concrete, a thicker one as joists
GUESS_SD_DB = 3.0  # added to the spread of an opening or floor that nobody named
LAYERED_SD_DB = 2.0  # spread of a construction given by its layers, at least
MOST_COMPOSITES = 5  # composite layers in one wall or floor


class _Built(Protocol):
    @property
    def construction(self) -> str: ...
    @property
    def layers(self) -> tuple[Layer, ...]: ...


def wall_kind(wall: Wall) -> Kind:
    """A wall's kind: its layers, else its construction, else the likeliest one for its thickness."""
    known = _known(wall)
    if known:
        return known
    guess = wall_guess(wall.thickness_m)
    return _guessed(guess.wall, guess.extra_sd_db)


def opening_kind(opening: Opening) -> Kind | None:
    """An opening's kind; None where nothing stands in it: a gap, or a door that is usually open."""
    if opening.kind is OpeningKind.GAP or (opening.kind is OpeningKind.DOOR and opening.open):
        return None
    if opening.construction in constructions():
        return kind(opening.construction)
    return _guessed(OPENING_GUESSES[opening.kind], GUESS_SD_DB)


def floor_kind(slab: _Built, thickness_m: float) -> Kind:
    """The kind of a storey's floor."""
    known = _known(slab)
    if known:
        return known
    thin = thickness_m < THICKEST_JOIST_FLOOR_M
    return _guessed(THICK_FLOOR_GUESS if thin else FLOOR_GUESS, GUESS_SD_DB)


def body_kind(construction: str) -> Kind:
    """The kind of a big thing; metal where nobody named it."""
    return kind(construction if construction in constructions() else "metal-body")


def _known(built: _Built) -> Kind | None:
    layers = built.layers
    if layers and all(is_layer(layer.material, layer.thickness_m) for layer in layers):
        structure = _structure(layers)
        if structure:
            name = " + ".join(f"{layer.material} {layer.thickness_m * 1000:.0f} mm" for layer in layers)
            mixed = [composites()[layer.material].sd_db for layer in layers if layer.material in composites()]
            return Kind(name, structure, max([LAYERED_SD_DB, *mixed]))
    if built.construction != UNKNOWN and built.construction in constructions():
        return kind(built.construction)
    return None


def _structure(layers: Sequence[Layer]) -> Structure | None:
    """Layers as one stack, or as a mixture where some are composite: each stands free of the others.

    None where more are composite than any wall has.
    """
    if sum(layer.material in composites() for layer in layers) > MOST_COMPOSITES:
        return None
    choices = [_layer_parts(layer) for layer in layers]
    parts: list[tuple[float, Stack]] = []
    for picked in product(*choices):
        share = math.prod(share for share, _ in picked)
        parts.append((share, Stack(tuple(sheet for _, sheets in picked for sheet in sheets))))
    return parts[0][1] if len(parts) == 1 else Mixture(tuple(parts))


def _layer_parts(layer: Layer) -> list[tuple[float, tuple[RadioLayer, ...]]]:
    made = composites().get(layer.material)
    if made is None:
        return [(1.0, (RadioLayer(_named(layer.material), layer.thickness_m),))]
    return [
        (share, tuple(RadioLayer(_named(name), mm / 1000) for name, mm in sheets))
        for share, sheets in made.parts(layer.thickness_m)
    ]


def _named(material: str) -> str | None:
    return None if material == "air" else material


def _guessed(name: str, extra_sd_db: float) -> Kind:
    known = kind(name)
    return replace(known, name=f"{name} (guessed)", sd_db=(known.sd_db**2 + extra_sd_db**2) ** 0.5)
