"""What each wall, opening, slab and body of a house is made of, as radio sees it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from itertools import product
from typing import Protocol

import numpy as np

from rehaul.facts.composites import composites, is_layer
from rehaul.facts.constructions import constructions
from rehaul.facts.guesses import GuessedPart, house_guess, prediction_bands
from rehaul.house import UNKNOWN, Layer, Opening, OpeningKind, Wall
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Guess, LayeredKind, Mixture, SlabLayer, Stack, Structure, kind, loss_table
from rehaul.words import Saying, say, term

OPENING_GUESSES = {OpeningKind.DOOR: "door-hollow", OpeningKind.WINDOW: "glass-double"}
GUESS_SD_DB = 3.0  # added to the spread of an opening that nobody named
LAYERED_SD_DB = 2.0  # spread of a construction given by its layers, at least
MOST_COMPOSITES = 5  # composite layers in one wall or floor


class _Built(Protocol):
    @property
    def construction(self) -> str: ...
    @property
    def layers(self) -> tuple[Layer, ...]: ...


def wall_kind(wall: Wall, country: str | None = None, year: int | None = None) -> LayeredKind:
    """What a wall is made of for radio: its layers, else its construction, else what such a wall may be.

    `country` and `year` of the house decide the guess, with the wall's thickness. **Source**: the fact
    tables `constructions`, `composites` and `house_guesses`.
    """
    return _known(wall) or guessed_kind("wall", country, year, wall.thickness_m)


def opening_kind(opening: Opening) -> LayeredKind | None:
    """What stands in an opening for radio; None where nothing does: a gap, or a door that is usually open.

    An unnamed door counts as hollow, an unnamed window as double glass, with 3 dB more spread. **Source**:
    the fact table `constructions`.
    """
    if opening.kind is OpeningKind.GAP or (opening.kind is OpeningKind.DOOR and opening.open):
        return None
    if opening.construction in constructions():
        return kind(opening.construction)
    return _guessed(OPENING_GUESSES[opening.kind], GUESS_SD_DB)


def floor_kind(
    slab: _Built, thickness_m: float, country: str | None = None, year: int | None = None
) -> LayeredKind:
    """What a storey's floor is made of for radio: its layers, else its construction, else what it may be.

    `thickness_m`, `country` and `year` decide the guess. **Source**: as `wall_kind`.
    """
    return _known(slab) or guessed_kind("floor", country, year, thickness_m)


@cache
def guessed_kind(
    part: GuessedPart, country: str | None, year: int | None, thickness_m: float | None
) -> LayeredKind:
    """What nobody named: the mean loss of what it may be, and how far those lie apart.

    The spread is that of each of them and of their losses straight through, over all bands. **Source**:
    docs/radio.md, "What nobody named".
    """
    chances = house_guess(part, country, year, thickness_m)
    if len(chances) == 1:
        return replace(kind(chances[0][1]), name=f"{chances[0][1]} (guessed)")
    bands = [spectrum_of(band) for band in prediction_bands()]
    kinds = [kind(name) for _, name in chances]
    weight = np.array([chance for chance, _ in chances])
    loss_db = np.array([[loss_table(one.structure, band).loss_db[-1] for band in bands] for one in kinds])
    apart = weight @ (loss_db - weight @ loss_db) ** 2
    own = weight @ np.array([one.sd_db for one in kinds]) ** 2
    names = " or ".join(name for _, name in sorted(chances, reverse=True))
    parts = zip((chance for chance, _ in chances), (one.structure for one in kinds), strict=True)
    guess = Guess(tuple((chance, part) for chance, part in parts if not isinstance(part, Guess)))
    return LayeredKind(f"{names} (guessed)", guess, float(np.sqrt(own + apart.mean())))


def guess_words(
    part: GuessedPart, country: str | None, year: int | None, thickness_m: float | None
) -> Saying:
    """What an unnamed wall or floor may be, in plain words, the likeliest first, with chances in per cent.

    Year and thickness may be None. **Source**: the fact table `house_guesses`, trade judgement.
    """
    chances = sorted(house_guess(part, country, year, thickness_m), reverse=True)
    if len(chances) == 1:
        return say("predict.not_named", guesses=[_short(chances[0][1])])
    guesses = [say("predict.guess", what=_short(name), percent=chance * 100) for chance, name in chances]
    return say("predict.not_named", guesses=guesses)


def _short(construction: str) -> str:
    label = constructions()[construction].label.split(":")[0].split(",")[0].split(" (")[0]
    return term(label[:1].lower() + label[1:])


def body_kind(construction: str) -> LayeredKind:
    """What a big thing is made of for radio, by its construction's name; metal where none is known.

    Metal is the guess that takes most off. **Source**: the fact table `constructions`.
    """
    return kind(construction if construction in constructions() else "metal-body")


def _known(built: _Built) -> LayeredKind | None:
    layers = built.layers
    if layers and all(is_layer(layer.material, layer.thickness_m) for layer in layers):
        structure = _structure(layers)
        if structure:
            name = " + ".join(f"{layer.material} {layer.thickness_m * 1000:.0f} mm" for layer in layers)
            mixed = [composites()[layer.material].sd_db for layer in layers if layer.material in composites()]
            return LayeredKind(name, structure, max([LAYERED_SD_DB, *mixed]))
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


def _layer_parts(layer: Layer) -> list[tuple[float, tuple[SlabLayer, ...]]]:
    made = composites().get(layer.material)
    if made is None:
        return [(1.0, (SlabLayer(_named(layer.material), layer.thickness_m),))]
    return [
        (share, tuple(SlabLayer(_named(name), mm / 1000) for name, mm in sheets))
        for share, sheets in made.parts(layer.thickness_m)
    ]


def _named(material: str) -> str | None:
    return None if material == "air" else material


def _guessed(name: str, extra_sd_db: float) -> LayeredKind:
    known = kind(name)
    return replace(known, name=f"{name} (guessed)", sd_db=(known.sd_db**2 + extra_sd_db**2) ** 0.5)
