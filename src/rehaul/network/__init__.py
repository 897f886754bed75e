"""The graph of what carries data and power, from the street to the device."""

from rehaul.facts.link_media import Medium
from rehaul.network.cabling import run_length, run_verdict, run_verdicts
from rehaul.network.closer import closer_looks
from rehaul.network.model import Age, Graph, Link, Node, NodeKind, Path, PathLink
from rehaul.network.verdicts import EthernetVerdict, PowerVerdict, RunVerdict

__all__ = [
    "Age",
    "EthernetVerdict",
    "Graph",
    "Link",
    "Medium",
    "Node",
    "NodeKind",
    "Path",
    "PathLink",
    "PowerVerdict",
    "RunVerdict",
    "closer_looks",
    "run_length",
    "run_verdict",
    "run_verdicts",
]
