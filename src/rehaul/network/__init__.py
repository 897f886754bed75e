"""The graph of what carries data and power, from the street to the device."""

from rehaul.network.model import Age, Graph, Link, Medium, Node, NodeKind, Path, PathLink

__all__ = ["Age", "Graph", "Link", "Medium", "Node", "NodeKind", "Path", "PathLink"]
