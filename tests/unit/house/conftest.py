"""A pencil for small building models, so that each test draws only what it asks about."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import ifcopenshell
import ifcopenshell.guid
import pytest

Entity = Any
Points = Sequence[tuple[float, float]]


class Sketch:
    """A model with one building; lengths are given in the unit of the model."""

    def __init__(self, folder: Path, *, unit: str = "METRE", schema: str = "IFC4") -> None:
        self.folder = folder
        self.model = ifcopenshell.file(schema=schema)
        context = self.make(
            "IfcGeometricRepresentationContext", ContextType="Model", CoordinateSpaceDimension=3
        )
        context.Precision = 1e-5
        context.WorldCoordinateSystem = self.placement_3d()
        self.context = context
        units = [self._length_unit(unit)] if unit else []
        project = self.root("IfcProject", Name="Invented", RepresentationContexts=[context])
        if units:
            project.UnitsInContext = self.make("IfcUnitAssignment", Units=units)
        self.building = self.root("IfcBuilding", Name="Invented house")
        self._aggregate(project, [self.building])

    def make(self, kind: str, *values: Any, **fields: Any) -> Entity:
        return self.model.create_entity(kind, *values, **fields)

    def root(self, kind: str, **fields: Any) -> Entity:
        return self.make(kind, GlobalId=ifcopenshell.guid.new(), **fields)

    def _length_unit(self, unit: str) -> Entity:
        if unit == "FOOT":
            metre = self.make("IfcSIUnit", UnitType="LENGTHUNIT", Name="METRE")
            value = self.make(
                "IfcMeasureWithUnit",
                ValueComponent=self.make("IfcLengthMeasure", 0.3048),
                UnitComponent=metre,
            )
            exponents = self.make("IfcDimensionalExponents", 1, 0, 0, 0, 0, 0, 0)
            return self.make(
                "IfcConversionBasedUnit",
                Dimensions=exponents,
                UnitType="LENGTHUNIT",
                Name="FOOT",
                ConversionFactor=value,
            )
        prefix = "MILLI" if unit == "MILLIMETRE" else None
        return self.make("IfcSIUnit", UnitType="LENGTHUNIT", Prefix=prefix, Name="METRE")

    def placement_3d(self, at: Sequence[float] = (0, 0, 0), turned_deg: float = 0.0) -> Entity:
        angle = math.radians(turned_deg)
        return self.make(
            "IfcAxis2Placement3D",
            Location=self.make("IfcCartesianPoint", tuple(float(v) for v in at)),
            Axis=self.make("IfcDirection", (0.0, 0.0, 1.0)),
            RefDirection=self.make("IfcDirection", (math.cos(angle), math.sin(angle), 0.0)),
        )

    def local(self, at: Sequence[float] = (0, 0, 0), turned_deg: float = 0.0, under: Entity = None) -> Entity:
        return self.make(
            "IfcLocalPlacement", PlacementRelTo=under, RelativePlacement=self.placement_3d(at, turned_deg)
        )

    def _aggregate(self, whole: Entity, parts: list[Entity]) -> None:
        self.root("IfcRelAggregates", RelatingObject=whole, RelatedObjects=parts)

    def storey(self, name: str, elevation: float = 0.0, *, turned_deg: float = 0.0) -> Entity:
        storey = self.root("IfcBuildingStorey", Name=name, Elevation=elevation)
        storey.ObjectPlacement = self.local((0, 0, elevation), turned_deg)
        self._aggregate(self.building, [storey])
        return storey

    def body(self, outline: Points, height: float) -> Entity:
        points = [self.make("IfcCartesianPoint", (float(x), float(y))) for x, y in outline]
        profile = self.make(
            "IfcArbitraryClosedProfileDef",
            ProfileType="AREA",
            OuterCurve=self.make("IfcPolyline", Points=[*points, points[0]]),
        )
        solid = self.make(
            "IfcExtrudedAreaSolid",
            SweptArea=profile,
            Position=self.placement_3d(),
            ExtrudedDirection=self.make("IfcDirection", (0.0, 0.0, 1.0)),
            Depth=float(height),
        )
        return self._representation("Body", "SweptSolid", solid)

    def axis(self, points: Points) -> Entity:
        line = self.make(
            "IfcPolyline", Points=[self.make("IfcCartesianPoint", (float(x), float(y))) for x, y in points]
        )
        return self._representation("Axis", "Curve2D", line)

    def _representation(self, identifier: str, kind: str, item: Entity) -> Entity:
        return self.make(
            "IfcShapeRepresentation",
            ContextOfItems=self.context,
            RepresentationIdentifier=identifier,
            RepresentationType=kind,
            Items=[item],
        )

    def thing(
        self,
        kind: str,
        storey: Entity | None,
        *representations: Entity,
        name: str = "thing",
        at: Sequence[float] = (0, 0, 0),
        turned_deg: float = 0.0,
        **fields: Any,
    ) -> Entity:
        element = self.root(kind, Name=name, **fields)
        element.ObjectPlacement = self.local(at, turned_deg, storey.ObjectPlacement if storey else None)
        if representations:
            element.Representation = self.make("IfcProductDefinitionShape", Representations=representations)
        if storey is not None:
            if kind == "IfcSpace":
                self._aggregate(storey, [element])
            else:
                self.root(
                    "IfcRelContainedInSpatialStructure", RelatingStructure=storey, RelatedElements=[element]
                )
        return element

    def wall(
        self,
        storey: Entity | None,
        length: float,
        thickness: float,
        height: float,
        *,
        at: Sequence[float] = (0, 0, 0),
        turned_deg: float = 0.0,
        name: str = "wall",
    ) -> Entity:
        """A straight wall along x from the placement; its body lies to the left of its axis."""
        box = [(0, 0), (length, 0), (length, thickness), (0, thickness)]
        shapes = (self.axis([(0, 0), (length, 0)]), self.body(box, height))
        return self.thing("IfcWall", storey, *shapes, name=name, at=at, turned_deg=turned_deg)

    def void(self, host: Entity, outline: Points, height: float, *, at: Sequence[float]) -> Entity:
        opening = self.root("IfcOpeningElement", Name="opening")
        opening.ObjectPlacement = self.local(at, 0.0, host.ObjectPlacement)
        opening.Representation = self.make(
            "IfcProductDefinitionShape", Representations=[self.body(outline, height)]
        )
        self.root("IfcRelVoidsElement", RelatingBuildingElement=host, RelatedOpeningElement=opening)
        return opening

    def fill(self, opening: Entity, kind: str) -> Entity:
        filling = self.root(kind, Name=kind)
        self.root("IfcRelFillsElement", RelatingOpeningElement=opening, RelatedBuildingElement=filling)
        return filling

    def layers(self, element: Entity, *parts: tuple[str, float]) -> None:
        made = [
            self.make("IfcMaterialLayer", Material=self.make("IfcMaterial", Name=name), LayerThickness=thick)
            for name, thick in parts
        ]
        self.material(element, self.make("IfcMaterialLayerSet", MaterialLayers=made))

    def material(self, element: Entity, material: Entity) -> None:
        self.root("IfcRelAssociatesMaterial", RelatedObjects=[element], RelatingMaterial=material)

    def save(self, name: str = "model.ifc") -> Path:
        path = self.folder / name
        self.model.write(str(path))
        return path


@pytest.fixture
def sketch(tmp_path: Path) -> Callable[..., Sketch]:
    """A new sketch; `unit` is METRE, MILLIMETRE, FOOT or empty."""
    return lambda **options: Sketch(tmp_path, **options)
