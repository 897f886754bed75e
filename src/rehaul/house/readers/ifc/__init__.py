"""Building models in IFC, read for what a house needs."""

from rehaul.house.readers.ifc.read import read_ifc

__all__ = ["read_ifc"]
