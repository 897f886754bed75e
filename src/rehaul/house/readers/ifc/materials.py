"""Layers and materials of an element, translated by name into the materials of our tables."""

from __future__ import annotations

import re

from ifcopenshell.util.element import get_material

from rehaul.facts.composites import composites
from rehaul.facts.foreign_names import Subject, meaning
from rehaul.facts.prediction import prediction_number
from rehaul.house.base import UNKNOWN
from rehaul.house.model import Layer
from rehaul.house.readers.ifc.reading import Element, ModelReading, name_of
from rehaul.words import say


def layers_of(
    reading: ModelReading, element: Element, thickness_m: float, subject: Subject
) -> tuple[Layer, ...]:
    """The layers of an element of a wall or floor; a lone material fills the whole thickness.

    Empty where none are given. A material that the tables do not know keeps its foreign name, with a note.
    **Source**: docs/readers.md, "A building model (IFC)": layers; words of the fact table `foreign_names`.
    """
    parts = _parts(reading, get_material(element, should_skip_usage=True), thickness_m)
    parts = [(name, layer_m) for name, layer_m in parts if layer_m > 0]
    materials = [_translated(reading, name, layer_m) for name, layer_m in parts]
    for place, (name, layer_m) in enumerate(parts):
        framed = subject == "floor" or 0 < place < len(parts) - 1
        if framed and materials[place] == "wood":
            materials[place] = _framed(reading, name, layer_m, subject)
    return tuple(
        Layer(material=material, thickness_m=layer_m)
        for material, (_, layer_m) in zip(materials, parts, strict=True)
    )


def _parts(reading: ModelReading, material: Element | None, thickness_m: float) -> list[tuple[str, float]]:
    if material is None:
        return []
    if material.is_a("IfcMaterial"):
        return [(name_of(material, UNKNOWN), thickness_m)]
    if material.is_a("IfcMaterialLayerSet"):
        return [
            (_layer_name(layer), layer.LayerThickness * reading.unit_m) for layer in material.MaterialLayers
        ]
    names = _names(material)
    if len(names) == 1:
        return [(names[0], thickness_m)]
    if names:
        reading.log.note(say("readers.list_without_thicknesses", materials=names))
    return []


def _layer_name(layer: Element) -> str:
    """A layer's material; the schema says that one without is an air gap."""
    return name_of(layer.Material, UNKNOWN) if layer.Material else "air"


def _names(material: Element) -> list[str]:
    if material.is_a("IfcMaterialList"):
        return [name_of(item, UNKNOWN) for item in material.Materials]
    if material.is_a("IfcMaterialConstituentSet"):
        return [name_of(item.Material, UNKNOWN) for item in material.MaterialConstituents or ()]
    return []


def _translated(reading: ModelReading, name: str, layer_m: float) -> str:
    known = meaning("material", name)
    if known is None:
        reading.log.note(say("readers.material_not_known", material=name))
    row = composites().get(known or "")
    if row is None or row.holds_at(layer_m):
        return known or name
    if layer_m * 1000 < row.thinnest_mm:
        thin = "readers.layer_too_thin"
        reading.log.note(say(thin, layer=name, thick_mm=layer_m * 1000, made=row.name, taken=row.filling))
        return row.filling
    reading.log.note(say("readers.layer_too_thick", layer=name, thick_mm=layer_m * 1000, made=row.name))
    return name


def _framed(reading: ModelReading, name: str, layer_m: float, subject: Subject) -> str:
    """What a layer of wood stands for: joists or studs where it is thicker than solid wood is built in."""
    made = composites()["joists" if subject == "floor" else "studs"]
    thin = layer_m * 1000 <= prediction_number("thickest_solid_wood")
    if thin or meaning("solid wood", name) or not made.holds_at(layer_m):
        return "wood"
    reading.log.note(
        say(
            "readers.wood_taken_as",
            layer=name,
            thick_mm=layer_m * 1000,
            subject=subject,
            made=made.name,
            percent=100.0 * made.share,
            solid=made.solid,
            between=made.between,
        )
    )
    return made.name


def construction_by_name(reading: ModelReading, subject: Subject, element: Element) -> str:
    """The construction that an element's own name speaks of, else its material's, else unknown.

    `subject` is "wall" or "floor". Each hit is counted in `reading.guesses`, for `note_guesses`.
    **Source**: the fact table `foreign_names`.
    """
    material = get_material(element, should_skip_usage=True)
    for name in (name_of(element), ", ".join(_names(material)) if material else ""):
        known = meaning(subject, name)
        if known:
            reading.guesses[_kind(name), known] += 1
            return known
    return UNKNOWN


def _kind(name: str) -> str:
    """An element's name without the running numbers that some programs hang on."""
    head, colon, tail = name.rpartition(":")
    kind = head if colon and tail.strip().isdigit() else name
    first, space, rest = kind.partition(" ")
    return rest if space and re.fullmatch(r"ID\d+", first) else kind


def note_guesses(reading: ModelReading) -> None:
    """One note for each kind of name that a construction was guessed from, with how often.

    Called once, when all elements were read.
    """
    for (kind, construction), count in sorted(reading.guesses.items()):
        reading.log.note(say("readers.taken_by_name", count=count, kind=kind, construction=construction))
