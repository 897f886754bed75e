"""What was written down in English for people is said again to who reads it; what is kept stays English."""

from __future__ import annotations

import pytest
from replica import change, edit_data

from rehaul.jobs import Ledger, edit_from_data
from rehaul.jobs.happenings import KINDS, Events, erase_names, events_of
from rehaul.jobs.kinds import KINDS as THINGS
from rehaul.jobs.kinds import SINGLES, words
from rehaul.jobs.told import DOOR, door_again, notice_again, notice_of
from rehaul.words import REFERENCE, Reader, Saying, again, catalogue, say, speaking, term

FRENCH = Reader("fr")


def test_a_change_that_met_another_is_kept_in_english_and_told_in_french(ledger: Ledger) -> None:
    base = ledger.revision
    with speaking(FRENCH):
        ann = edit_data(base, change("wall", "w2", thickness_m=0.1))
        ledger.submit("ann", edit_from_data(ann))
        receipt = ledger.submit("ben", edit_from_data(edit_data(base, change("wall", "w2", thickness_m=0.2))))
        (kept,) = ledger.store.notices("job", "ann")
        told = notice_again(kept)
    assert kept["words"] == "Ben's later change to thickness_m of wall w2 stands instead of yours."
    assert receipt.told[0]["words"] == "Your change replaced Ann's change to thickness_m of wall w2."
    french = "La modification de Ben, plus récente, remplace la vôtre\u00a0: mur w2, épaisseur."
    assert told == {**kept, "words": french}
    assert again(notice_again(receipt.told[0]), FRENCH)["words"] == (
        "Votre modification a remplacé celle de Ann\u00a0: mur w2, épaisseur."
    )


@pytest.mark.parametrize(
    ("code", "sentence"),
    [
        ("overrode", "Your change replaced Somebody's change to run c1."),
        ("overtaken", "Somebody's later change to run c1 stands instead of yours."),
        ("gone", "Somebody took away run c1; your change is kept with it and comes back if it does."),
        ("dropped", "Somebody took away run c1, which you had changed."),
    ],
)
def test_each_way_to_meet_has_its_sentence(code: str, sentence: str) -> None:
    said = notice_of(code, "run", "c1", "", None)  # type: ignore[arg-type]
    assert said == sentence
    assert "Quelqu'un" in said.to(FRENCH) and "câble du mur c1" in said.to(FRENCH)


def test_what_a_job_has_once_is_named_without_an_id() -> None:
    said = notice_of("overrode", "service", "", "down_mbps", "Ann")
    assert said == "Your change replaced Ann's change to down_mbps of service."


def test_every_kind_of_thing_has_its_french_name() -> None:
    missing = [kind for kind in (*THINGS, *SINGLES) if not isinstance(term(words(kind)), Saying)]
    assert not missing


@pytest.mark.parametrize("code", DOOR)
def test_what_happened_at_the_door_is_known_again_by_its_words(code: str) -> None:
    values = {"name": "Ada (kitchen)", "by": "Ben", "kind": "limit", "row": "D17"}
    named = {name: value for name, value in values.items() if f"{{{name}" in catalogue()[code]["en"]}
    said = say(code, **named)
    found = door_again(str(said))
    assert isinstance(found, Saying) and (found.code, found.values) == (code, named)
    assert found.to(FRENCH) == said.to(FRENCH) != said


def test_other_words_stay_as_they_were_written() -> None:
    assert door_again("a wrong code") == "a wrong code"
    assert not isinstance(door_again("a wrong code"), Saying)
    assert again(door_again("erased"), FRENCH) == "effacé"


def test_the_log_of_the_door_is_english_on_the_disk_whoever_knocked(ledger: Ledger) -> None:
    events = Events(ledger.store)
    with speaking(FRENCH):
        for number in range(201):  # as many as wait apart, and one more
            events.add("refused", f"192.0.2.{number}", str(say("told.token_let_nobody_in").to(REFERENCE)))
    events.write()
    rows = ledger.store.database.run("SELECT DISTINCT words FROM happening ORDER BY words")
    assert [text for (text,) in rows] == ["a token that lets nobody in", "refused, from many addresses"]
    assert {again(event.words, FRENCH) for event in events.newest()} == {
        "un jeton qui ne donne accès à personne",
        "refusé, de nombreuses adresses",
    }


def test_every_kind_of_happening_has_its_french_name() -> None:
    assert all(isinstance(term(kind), Saying) for kind in KINDS)


def happened(ledger: Ledger, kind: str, words: str) -> str:
    events = Events(ledger.store)
    events.add(kind, "192.0.2.1", words)
    events.write()
    return events.newest()[0].words


def test_what_happened_carries_its_code_however_its_sentence_reads(ledger: Ledger) -> None:
    """A name that makes one sentence read like another, and one too long for the row."""
    for name in ("Ada, by Ben", "A" * 200):
        found = happened(ledger, "paired", say("told.paired_device", name=name))
        assert isinstance(found, Saying) and (found.code, found.values) == (
            "told.paired_device",
            {"name": name},
        )
        assert again(found, FRENCH) == f"un appareil de {name}"


def test_a_store_of_before_has_only_sentences_and_is_read_as_ever(ledger: Ledger) -> None:
    with ledger.store.writing() as database:
        database.run("DROP TABLE IF EXISTS happening")
        database.run(
            "CREATE TABLE happening (number BIGINT PRIMARY KEY, at TEXT NOT NULL, kind TEXT NOT NULL,"
            " address TEXT NOT NULL, words TEXT NOT NULL, times BIGINT NOT NULL)"
        )
        row = (1, "2026-01-02T03:04:05Z", "paired", "192.0.2.7", "a device of Ada", 2)
        database.run("INSERT INTO happening VALUES (%s, %s, %s, %s, %s, %s)", row)
    assert [event.words for event in events_of(ledger.store.database)] == ["a device of Ada"]
    newer = happened(ledger, "forgotten", say("told.forgotten_device", name="Ada", by="Ben"))
    assert again(newer, FRENCH) == "un appareil de Ada, par Ben"
    found = Events(ledger.store).newest()
    assert [again(event.words, FRENCH) for event in found] == [
        "un appareil de Ada, par Ben",
        "un appareil de Ada",
    ]
    assert [(event.at, event.times) for event in found[1:]] == [("2026-01-02T03:04:05Z", 2)]


def test_what_names_somebody_is_erased_with_its_code(ledger: Ledger) -> None:
    happened(ledger, "paired", say("told.paired_device", name="Ada"))
    with ledger.store.writing() as database:
        erase_names(database, ["Ada"])
        held = database.run("SELECT * FROM happening")
    assert "Ada" not in str(held) and "paired" in str(held)
    assert [again(event.words, FRENCH) for event in Events(ledger.store).newest()] == ["effacé"]


@pytest.mark.parametrize(
    "kept",
    ["{", "[]", '{"code": "told.gone_since", "values": {}}', '{"code": "told.paired_device", "values": {}}'],
)
def test_a_code_that_says_nothing_now_leaves_the_sentence(kept: str) -> None:
    found = door_again("a device of Ada", kept)
    assert found == "a device of Ada" and again(found, FRENCH) == "un appareil de Ada"
