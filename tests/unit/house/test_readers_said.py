"""What a reader tells of a file comes through the door of its process and is said again in French."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.house.readers import ReadReport, read_apart
from rehaul.house.readers.report import Log
from rehaul.words import Reader, Saying, again, say

FRENCH = Reader("fr")
CORPUS = Path(__file__).parents[2] / "corpus"
FILES = [CORPUS / name for name in ("found/3d3727d4.ifc", "found/9fb49483.ifc", "plan.dxf")]
ROOMS = "units metric\n\nstorey Ground\nHall 3 x 4\nKitchen 3 x 4, right of Hall\ndoor Hall - Kitchen\n"


def _texts(report: ReadReport) -> list[str]:
    return [*report.notes, *(row.why for row in report.not_understood)]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_every_note_on_a_file_is_said_in_french(file: Path) -> None:
    report = read_apart(file)
    english = _texts(report)
    assert english
    for said, french in zip(english, _texts(again(report, FRENCH)), strict=True):
        assert isinstance(said, Saying), said
        assert french == said.to(FRENCH) != said


def test_notes_on_a_room_list_are_said_in_french(tmp_path: Path) -> None:
    (tmp_path / "rooms.txt").write_text(ROOMS, encoding="utf-8")
    report = read_apart(tmp_path / "rooms.txt")
    assert "Ground: no height is given; 2.4 m is taken." in report.notes
    assert again(report, FRENCH).notes[0] == "Ground\u00a0: pas de hauteur donnée\u00a0; on prend 2,4 m."
    assert "Line 6: the door's size is not given; a usual one is taken." in report.notes
    assert all(isinstance(note, Saying) for note in report.notes)


def test_half_a_letter_of_a_name_is_mended_in_every_language() -> None:
    log = Log()
    log.note(say("readers.material_not_known", material="st\ud800ne"))
    (note,) = log.notes
    assert note == "Material 'st\\ud800ne' is not recognised; it keeps its name and counts as unknown."
    assert "st?ne" in note.to(FRENCH)
    log.note(say("readers.no_floor_slab", level="Le\ud800vel"))
    assert log.notes[1] == "No floor slab lies at the elevation of Le?vel; its floor is unknown."
    assert log.notes[1].to(FRENCH).startswith("Aucune dalle à l'altitude de Le?vel\u00a0;")
