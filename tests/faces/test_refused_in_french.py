"""A refusal is said to its reader: at the terminal, by the server, to who calls the library."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from server import Running, Talker

import rehaul
from rehaul.cli.main import main
from rehaul.errors import BadInput, Refusal
from rehaul.house.readers import read_apart
from rehaul.words import Reader, again, speaking

FRENCH = {"accept-language": "fr-CA,fr;q=0.9,en;q=0.5"}


def refused(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[str, str]:
    """What a command prints, and says on standard error, where it refuses."""
    with pytest.raises(SystemExit) as end:
        main([str(word) for word in arguments])
    assert end.value.code == 2
    told = capsys.readouterr()
    return told.out, told.err.strip()


def test_at_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    gone = tmp_path / "gone.rehaul.json"
    _, english = refused(capsys, "check", gone, "--language", "en")
    _, french = refused(capsys, "check", gone, "--language", "fr")
    assert english == f"rehaul: {gone}: there is no such file. Check the name and the folder."
    assert french == f"rehaul: {gone}: ce fichier n'existe pas. Vérifiez le nom et le répertoire."


def test_programs_read_english_whatever_the_terminal_speaks(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("REHAUL_LANGUAGE", raising=False)
    monkeypatch.setenv("LC_ALL", "fr_FR.UTF-8")
    gone = tmp_path / "gone.rehaul.json"
    out, err = refused(capsys, "check", gone, "--json")
    assert json.loads(out)["refused"]["remedy"] == "Check the name and the folder"
    assert "there is no such file" in err
    assert "ce fichier n'existe pas" in refused(capsys, "check", gone)[1]


def test_what_a_process_apart_refuses_is_said_here(tmp_path: Path) -> None:
    torn = tmp_path / "torn.ifc"
    torn.write_text("ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('IFC9'));\nENDSEC;\nEND-ISO-10303-21;\n")
    with pytest.raises(BadInput) as caught:
        read_apart(str(torn))
    assert str(caught.value) == (
        "torn.ifc: the model is written in schema IFC9, which is not read. Export it again as IFC2x3 or IFC4."
    )
    with speaking(Reader("fr")):
        assert str(caught.value) == (
            "torn.ifc: la maquette est écrite dans le schéma IFC9, qui n'est pas lu. "
            "Exportez-la à nouveau en IFC2x3 ou IFC4."
        )


def test_who_calls_the_library(tmp_path: Path) -> None:
    with speaking(Reader("fr")), pytest.raises(Refusal) as caught:
        rehaul.plan("house.rehaul.json")  # type: ignore[arg-type]
    assert caught.value.problem == "reçu un chemin là où il faut job"
    assert str(caught.value) == (
        "rehaul.plan(job): a path was given where a job is wanted. "
        "Load it first: rehaul.plan(rehaul.load(path))."
    )


def test_a_field_at_fault_and_a_rule_of_the_whole(tmp_path: Path) -> None:
    wall = {"id": "w1", "storey": "g", "start": [0, 0], "end": [0, 0]}
    house = {"storeys": [{"id": "g", "name": "Ground", "elevation_m": 0}], "walls": [wall]}
    job = {"schema_version": 3, "id": "a", "title": "A", "house": house}
    path = tmp_path / "a.rehaul.json"
    for changed, english, french in (
        ({}, "the wall has no length", "le mur n'a pas de longueur"),
        ({"storey": None}, "Input should be a valid string", "Il faut un texte"),
        ({"storey": "x"}, "there is no storey 'x'", "il n'y a pas de niveau «\u00a0x\u00a0»"),
    ):
        house["walls"] = [{**wall, **changed}]
        path.write_text(json.dumps(job))
        with pytest.raises(BadInput) as caught:
            rehaul.load(path)
        assert caught.value.problem.startswith(english)
        assert again(caught.value.problem, Reader("fr")).startswith(french)


@pytest.fixture(scope="module")
def server(small_server: Running) -> Running:
    return small_server


def test_the_door_speaks_to_strangers(server: Running) -> None:
    answer = server.stranger(**FRENCH).get("/api/me")
    assert answer.status_code == 401
    assert answer.json() == {
        "code": "unpaired",
        "problem": "cet appareil n'est pas appairé",
        "where": "",
        "remedy": "Saisissez le code affiché par le serveur ou par un appareil appairé",
        "source": "",
    }


def test_an_address_speaks_to_who_asks(server: Running) -> None:
    ann = server.paired("Ann")
    said = {
        language: ann.get("/api/jobs/small/plan/map", headers={"accept-language": language}).json()
        for language in ("fr", "en")
    }
    assert (said["fr"]["code"], said["fr"]["where"]) == (said["en"]["code"], said["en"]["where"])
    assert said["en"]["problem"] == "there is no plan yet"
    assert said["fr"]["problem"] == "il n'y a pas encore de plan"


def test_the_live_socket_refuses_an_edit_in_its_language(server: Running) -> None:
    ann = server.paired("Ann")
    change = {"do": "drop", "kind": "wall", "id": "w9"}
    edit = {"edit": "edit-000001", "base": 0, "label": "", "changes": [change]}
    for language, problem in (
        ("fr", "il n'y a pas de mur «\u00a0w9\u00a0»"),
        ("en", "there is no wall 'w9'"),
    ):
        with server.socket(ann, f"/api/jobs/small/live?language={language}") as socket:
            talk = Talker(socket)
            talk.hear("snapshot")
            talk.say(type="edit", **edit)
            assert talk.hear("refused")["refusal"]["problem"] == problem
