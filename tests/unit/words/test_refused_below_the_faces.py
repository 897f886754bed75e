"""What facts, physics, tracing, proof, takeoff and design refuse is said to a French reader in French."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from rehaul.copper.coax import splitter_loss_db
from rehaul.copper.run import RunFacts
from rehaul.design.tries import DropAttempt
from rehaul.errors import Refusal
from rehaul.exact.coverage import Requirement
from rehaul.facts.labels import tape
from rehaul.facts.terminations import strip_rule
from rehaul.house import House, Job, Room, Storey
from rehaul.proof.cases import room_named
from rehaul.proof.reading_table import new_reading, readings_from_table
from rehaul.radio import SlabLayer
from rehaul.sheets.qr import qr_svg
from rehaul.takeoff import tick_off
from rehaul.takeoff.accepted import signature
from rehaul.takeoff.results import Task
from rehaul.tracing.job_tracing import point_of
from rehaul.tracing.partitions import mask_of
from rehaul.words import Reader, Saying, speaking

FRENCH = Reader("fr")
JOB = Job(
    id="j",
    title="J",
    house=House(
        storeys=(Storey(id="g", name="Ground", elevation_m=0),),
        rooms=(Room(id="r1", name="Den", storey="g", polygon=((0, 0), (4, 0), (4, 3), (0, 3))),),
    ),
)
STEP = Task(id="T01", key="k", title="Pull C1", stage="run", visit=1, place="Hall", minutes=5)
SCENES: dict[str, tuple[Callable[[], object], str]] = {
    "a tape": (
        lambda: tape(0.005),
        "tape: pas de ruban de 5 mm. Utilisez l'une de ces largeurs : 6, 9, 12, 18, 24 mm.",
    ),
    "a connector": (
        lambda: strip_rule("glue"),
        (
            "connector: aucune longueur de dénudage n'est connue pour « glue ». Utilisez l'une de ces "
            "valeurs : jack, plug, panel, screw terminal."
        ),
    ),
    "a splitter": (
        lambda: splitter_loss_db(2, 0, 3, through_db=3.7, across_db=20.0),
        (
            "splitters: un répartiteur à 2 voies n'a pas de ports 0 et 3. Nommez les ports de 0 (entrée) au "
            "nombre de voies."
        ),
    ),
    "a category": (
        lambda: RunFacts(category="cat 9", length_m=(1, 2, 3)),
        (
            "category: « cat 9 » n'est pas une catégorie de câble. Utilisez l'une de ces valeurs : quad, "
            "cat3, cat5, cat5e, cat6, cat6a, unknown."
        ),
    ),
    "a layer": (
        lambda: SlabLayer("brick", -0.1),
        (
            "thickness_m: une couche ne peut pas avoir -0,1 m d'épaisseur. Donnez 0 m pour une feuille et "
            "une épaisseur positive pour tout le reste."
        ),
    ),
    "a requirement": (
        lambda: Requirement("den", np.array([0]), np.array([1.0]), 1.5),
        "den: la part 1,5 n'est pas entre 0 et 1. Donnez une part du tout.",
    ),
    "a try": (
        lambda: DropAttempt("pull", 0.5, 9.0, 4.0, 0.0),
        (
            "pull: les minutes 9 et 4 ne croissent pas au-dessus de 0. Donnez la médiane et une valeur plus "
            "grande pour neuf essais sur dix."
        ),
    ),
    "a meeting point": (
        lambda: point_of(JOB, None),
        "house: le dossier n'a pas de point de rassemblement. Dites où les câbles se rejoignent.",
    ),
    "tied conductors": (
        lambda: mask_of([(1, 9)], 8),
        (
            "conducteurs reliés: le conducteur 9 n'existe pas sur un câble de 8. Numérotez les conducteurs "
            "de 1 à 8."
        ),
    ),
    "a room": (
        lambda: room_named(JOB, "attic"),
        "room: il n'y a pas de pièce « attic ». Utilisez l'une de celles-ci : Den.",
    ),
    "a reading": (
        lambda: new_reading(JOB, {"room": "attic", "down_mbps": "5"}),
        "room: le dossier n'a pas de pièce « attic ». Nommez la pièce comme le dossier.",
    ),
    "a table": (
        lambda: readings_from_table("room,down_mbps\nattic,5\nattic,6\n", JOB),
        (
            "ligne 2, colonne « room »: aucune ligne n'a pu être prise : le dossier n'a pas de pièce « "
            "attic » (et 1 autre ligne). Nommez la pièce comme le dossier."
        ),
    ),
    "a step": (
        lambda: tick_off(JOB, (STEP,), "T9", by="Ann"),
        "work: il n'y a pas d'étape « T9 ». Les étapes vont de T01 à T01.",
    ),
    "a signature": (
        lambda: signature("Ann", "yesterday"),
        "accord signé: « yesterday » n'est pas un jour. Donnez-le sous la forme AAAA-MM-JJ.",
    ),
    "a code": (
        lambda: qr_svg("x" * 9000, 20.0, shows="w"),
        "porte du placard: 9000 caractères ne tiennent pas dans un QR code. Raccourcissez les notes.",
    ),
}


def refused(act: Callable[[], object]) -> Refusal:
    with pytest.raises(Refusal) as caught:
        act()
    return caught.value


@pytest.mark.parametrize("scene", SCENES)
def test_a_refusal_is_said_in_french(scene: str) -> None:
    act, french = SCENES[scene]
    refusal = refused(act)
    assert isinstance(refusal.problem, Saying) and isinstance(refusal.remedy, Saying)
    before = str(refusal)
    with speaking(FRENCH):
        assert str(refusal).replace("\u00a0", " ") == french
    assert str(refusal) == before  # to everybody else what it was
