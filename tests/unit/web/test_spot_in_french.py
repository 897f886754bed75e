"""What a spot gets is said in the language of who asks, of boxes that stand, planned ones or a page's own."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.jobs import JobState
from rehaul.jobs.demo import demo_job
from rehaul.predict import standing_radiators
from rehaul.web.fields import Sketch, ask_from
from rehaul.web.made import _RADIATORS, _MapsSaid, _PlanSaid
from rehaul.words import Reader, speaking

JOB = demo_job()
OWN = {"id": "AP9", "equipment": "access point HE 2x2", "storey": JOB.house.storeys[0].id, "position": [4, 3]}


def _spot(boxes: Any, language: Any) -> dict[str, Any]:
    """With planned boxes as they come from the worker."""
    maps = _MapsSaid(bands=(), storeys=())
    said = _PlanSaid.model_construct(
        plans={}, radiators=standing_radiators(JOB), before=maps, after=maps
    ).model_dump(mode="json", include={"radiators"})
    planned = _RADIATORS.validate_python(said["radiators"])
    place = {"storey": JOB.house.storeys[0].id, "position": [4.5, 3.0]}
    with speaking(Reader(language)):
        answer = Sketch().answer(ask_from({"n": 1, "spot": place, "boxes": boxes}), JobState(1, JOB), planned)
    assert isinstance(answer, dict)
    spot: dict[str, Any] = answer["spot"]
    return spot


@pytest.mark.parametrize("boxes", ["today", "plan", [OWN]])
def test_the_chain_to_a_spot_is_said_to_who_asks(boxes: Any) -> None:
    english, french = _spot(boxes, "en"), _spot(boxes, "fr")
    assert english["median_mbps"] == french["median_mbps"] > 0
    pairs = list(zip(english["links"], french["links"], strict=True))
    assert pairs and all(one["name"] != other["name"] for one, other in pairs), pairs
    assert french["links"][0]["name"] == "abonnement"
    assert french["narrowest"] in [link["name"] for link in french["links"]]


def test_a_box_without_a_name_is_an_access_point() -> None:
    assert "cable to Access point" in [link["name"] for link in _spot([OWN], "en")["links"]]
    assert "câble vers Point d'accès" in [link["name"] for link in _spot([OWN], "fr")["links"]]
