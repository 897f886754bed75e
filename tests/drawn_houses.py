"""A job drawn by chance for every seed: `drawn_job(seed)`, and what stands in it: `features_of(job)`.

Every seed has one theme, in turn, so that no rare thing is left to chance alone. Everything else is dice.
"""

from __future__ import annotations

from functools import cache
from random import Random

from drawing.coax import draw_coax
from drawing.copper import draw_copper
from drawing.features import FEATURES, features_of
from drawing.line import draw_line
from drawing.meeting import draw_meeting_points
from drawing.people import (
    choices,
    draw_decisions,
    draw_hazards,
    draw_needs,
    draw_obligations,
    draw_readings,
    gate,
    heard,
    tenure,
)
from drawing.settings import draw_settings
from drawing.shell import draw_house
from drawing.sketch import Sketch
from drawing.themes import THEMES
from rehaul.house import Contacts, House, Job, require_whole

__all__ = ["FEATURES", "drawn_job", "features_of"]

PLACES = (  # country, currency, units, paper
    ("US", "USD", "imperial", "Letter"),
    ("US", "USD", "imperial", "Letter"),
    ("GB", "GBP", "metric", "A4"),
    ("DE", "EUR", "metric", "A4"),
    ("AU", "AUD", "metric", "A4"),
    ("CA", "CAD", "imperial", "Letter"),
    ("FR", "EUR", "metric", "A4"),
    ("NL", "EUR", "metric", "A4"),
    ("NZ", "NZD", "metric", "A4"),
    ("IE", "EUR", "metric", "A4"),
)


@cache
def drawn_job(seed: int) -> Job:
    """The job of a seed, whole and always the same."""
    sketch = Sketch(Random(seed), THEMES[seed % len(THEMES)])
    draw_house(sketch)
    draw_meeting_points(sketch)
    draw_copper(sketch)
    draw_coax(sketch)
    draw_line(sketch)
    draw_needs(sketch)
    draw_obligations(sketch)
    draw_hazards(sketch)
    draw_decisions(sketch)
    draw_readings(sketch)
    draw_settings(sketch, Random(f"settings {seed}"))
    job = _job(seed, sketch)
    require_whole(job, where=f"drawn job {seed}")
    return job


def _job(seed: int, sketch: Sketch) -> Job:
    owned = tenure(sketch)
    country, currency, units, paper = sketch.pick(PLACES)
    house = House.model_validate(
        {
            "name": f"Drawn house {seed}",
            "built_year": None if sketch.wants("year-unknown", 0.08) else sketch.year,
            "tenure": owned,
            "storeys": tuple(sketch.storeys),
            "rooms": tuple(sketch.rooms),
            "walls": tuple(sketch.walls),
            "openings": tuple(sketch.openings),
            "bodies": tuple(sketch.bodies),
            "outlets": tuple(sketch.outlets),
            "meeting_points": tuple(sketch.points),
            "splitters": tuple(sketch.splitters),
            "entry_filter": sketch.weighed({None: 4.0, True: 2.0, False: 1.0}) if sketch.splitters else None,
            "runs": tuple(sketch.runs),
            "hazards": tuple(sketch.hazards),
            "bells": tuple(sketch.bells),
        }
    )
    return Job.model_validate(
        {
            "id": f"drawn-{seed}",
            "title": f"Drawn house {seed}",
            "invented": True,
            "country": country,
            "currency": currency,
            "units": units,
            "paper": paper,
            "date": "2026-03-02",
            "house": house,
            "boxes": tuple(sketch.boxes),
            "service": sketch.service,
            "devices": tuple(sketch.devices),
            "needs": tuple(sketch.needs),
            "obligations": tuple(sketch.obligations),
            "readings": tuple(sketch.readings),
            "heard": heard(sketch),
            "decisions": tuple(sketch.decisions),
            "choices": choices(sketch),
            "gate": gate(sketch, owned),
            "contacts": Contacts(household="Invented household"),
        }
    )
