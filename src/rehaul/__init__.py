"""From what stands in a house to a wired network that is proven to work.

>>> import rehaul
>>> job = rehaul.demo()  # or rehaul.load("mill.rehaul.json")
>>> found = rehaul.plan(job)
>>> files = rehaul.papers(found)

Each verb of the command line that computes is a function here, with the same name; docs/library.md has
eight short scripts. What goes in and comes out are frozen models; refusals are `rehaul.Refusal`.
"""

from typing import TYPE_CHECKING, Any

from rehaul.front import (
    Tracing,
    audit,
    calibrate,
    demo,
    handover,
    load,
    now,
    papers,
    plan,
    read,
    save,
    trace,
)

if TYPE_CHECKING:
    from rehaul.errors import BadInput as BadInput
    from rehaul.errors import Refusal as Refusal
    from rehaul.house import House as House
    from rehaul.house import Job as Job
    from rehaul.planning import Plan as Plan

_MODELS = {
    "BadInput": "rehaul.errors",
    "House": "rehaul.house",
    "Job": "rehaul.house",
    "Plan": "rehaul.planning",
    "Refusal": "rehaul.errors",
}
__all__ = [
    "BadInput",
    "House",
    "Job",
    "Plan",
    "Refusal",
    "Tracing",
    "audit",
    "calibrate",
    "demo",
    "handover",
    "load",
    "now",
    "papers",
    "plan",
    "read",
    "save",
    "trace",
]


def __getattr__(name: str) -> Any:
    """Models are imported when they are asked for, so that `import rehaul` costs nothing."""
    if name not in _MODELS:
        raise AttributeError(f"module 'rehaul' has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_MODELS[name]), name)
