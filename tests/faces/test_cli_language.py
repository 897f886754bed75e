"""A verb speaks the language that it is asked for, else the machine's own."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from rehaul.cli.main import rehaul
from rehaul.cli.reading import language_of_machine
from rehaul.words import REFERENCE, reader

EXAMPLES = Path(__file__).parents[2] / "examples"
FRENCH: tuple[str, ...] = ("--language", "fr")
JSON: tuple[str, ...] = ("--json",)


@pytest.mark.parametrize(
    ("told", "spoken"),
    [
        ({"LANG": "fr_CA.UTF-8"}, "fr"),
        ({"LANG": "C.UTF-8"}, "en"),
        ({"LANG": "de_DE.UTF-8"}, "en"),
        ({"LANG": "en_GB.UTF-8", "LC_ALL": "fr_FR"}, "fr"),
        ({"LANG": "fr_FR", "LC_MESSAGES": "en_GB"}, "en"),
    ],
)
def test_the_machine_says_which(monkeypatch: pytest.MonkeyPatch, told: dict[str, str], spoken: str) -> None:
    for name in ("LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.delenv(name, raising=False)
    for name, value in told.items():
        monkeypatch.setenv(name, value)
    assert language_of_machine() == spoken


def test_every_verb_takes_a_language_and_refuses_one_that_is_not_spoken() -> None:
    told = CliRunner().invoke(rehaul, ["cables", "--help"])
    assert "--language" in told.output
    refused = CliRunner().invoke(rehaul, ["cables", "--language", "xx", "none.rehaul.json"])
    assert refused.exit_code == 2 and "'xx' is not one of" in refused.output
    assert reader() == REFERENCE


@pytest.mark.slow
def test_a_plan_is_printed_in_the_language_and_programs_read_one() -> None:
    ask = ["plan", str(EXAMPLES / "1974-small-flat.rehaul.json")]
    said = {words: CliRunner().invoke(rehaul, [*ask, *words]) for words in ((), FRENCH, JSON, JSON + FRENCH)}
    assert all(done.exit_code == 0 for done in said.values())
    assert "moindre coût prouvé" in said[FRENCH].output and "proven least cost" not in said[FRENCH].output
    assert "proven least cost" in said[()].output
    assert said[JSON].stdout == said[JSON + FRENCH].stdout


def test_findings_are_counted_in_the_language() -> None:
    job = str(EXAMPLES / "1974-small-flat.rehaul.json")
    done = CliRunner().invoke(rehaul, ["check", job, *FRENCH])
    assert "0 constat\u00a0; le document lui-même est entier." in done.output


@pytest.mark.parametrize(
    ("verb", "file", "said"),
    [
        ("papers", "index.html", '<html lang="fr">'),
        ("handover", "plain/READ-ME-FIRST.txt", "Rien ici ne demande de programme particulier :"),
    ],
)
def test_papers_and_record_come_out_in_the_language_asked_for(
    tmp_path: Path, verb: str, file: str, said: str
) -> None:
    house = str(EXAMPLES / "1974-small-flat.rehaul.json")
    done = CliRunner().invoke(rehaul, [verb, house, "--out", str(tmp_path / "made"), "--language", "fr"])
    assert done.exit_code == 0, done.output
    found = (tmp_path / "made" / file).read_text(encoding="utf-8")
    assert said in found.replace("\u00a0", " ")
    done = CliRunner().invoke(rehaul, [verb, house, "--out", str(tmp_path / "english")])
    assert done.exit_code == 0 and said not in (tmp_path / "english" / file).read_text(encoding="utf-8")
