"""Drawings in DXF, read for the walls, doors, windows and room names on one storey."""

from rehaul.house.readers.dxf.read import read_dxf

__all__ = ["read_dxf"]
