"""The invented house that `rehaul demo` plans."""

from __future__ import annotations

from importlib.resources import files

from rehaul.house import Job, parse_job


def demo_job() -> Job:
    """The demo job; everything in it is invented and says so."""
    name = "side-garage.rehaul.json"
    text = files("rehaul.jobs").joinpath("samples", name).read_text(encoding="utf-8")
    return parse_job(text, where=name)
