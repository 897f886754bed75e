"""A saying reads as a text, remembers its code and values, and is said again to another reader."""

from __future__ import annotations

import copy
import json
import pickle
from dataclasses import dataclass, field

import pytest
from pydantic import BaseModel, ConfigDict, ValidationError

from rehaul.words import REFERENCE, Reader, Saying, again, catalogue, reader, say, speaking, term
from rehaul.words.fields import WITH_CODES, Words
from rehaul.words.template import fill

FRENCH = Reader("fr")
FEET = Reader("en", "imperial")


class Held(BaseModel):
    model_config = ConfigDict(frozen=True)
    reason: Words
    rows: tuple[Words, ...] = ()


@dataclass(frozen=True)
class Kept:
    reason: str
    number: float = 1.5


def test_it_reads_as_the_text_that_it_is() -> None:
    saying = say("words.count_cables", n=3)
    assert saying == "3 cables"
    assert (saying.code, saying.values) == ("words.count_cables", {"n": 3})
    assert saying.to(FRENCH) == "3 câbles"


@pytest.mark.parametrize("through", [copy.copy, copy.deepcopy, lambda one: pickle.loads(pickle.dumps(one))])  # type: ignore[no-untyped-call]
def test_a_copy_remembers(through) -> None:  # type: ignore[no-untyped-def]
    assert through(say("words.count_cables", n=1)).to(FRENCH) == "1 câble"


def test_a_model_keeps_what_it_says_and_writes_it_as_text() -> None:
    held = Held(reason=say("words.count_cables", n=2), rows=(say("words.count_cables", n=1), "M1"))
    assert held.model_dump(mode="json") == {"reason": "2 cables", "rows": ["1 cable", "M1"]}
    said = again(held, FRENCH)
    assert said.model_dump(mode="json") == {"reason": "2 câbles", "rows": ["1 câble", "M1"]}
    assert again(said, REFERENCE) == held


def test_what_says_nothing_comes_back_as_it_was() -> None:
    things = (Kept("plain"), {"a": ["b", 1]}, Held(reason="plain"))
    assert again(things, FRENCH) is things


def test_everything_that_holds_a_saying_is_said_again() -> None:
    two = say("words.count_cables", n=2)
    found = again({"a": [Kept(two)], "b": (two, 1)}, FRENCH)
    assert found == {"a": [Kept("2 câbles")], "b": ("2 câbles", 1)}


def test_who_is_spoken_to_ends_with_the_block() -> None:
    with speaking(FRENCH):
        assert say("words.and", first="a", last="b") == "a et b"
        with speaking(FEET):
            assert reader() == FEET
        assert reader() == FRENCH
    assert reader() == REFERENCE


def test_a_saying_within_another_is_said_to_the_same_reader() -> None:
    within = say(
        "words.in_turn", parts=[say("words.count_cables", n=1), say("words.listed", names=["a", "b"]), ""]
    )
    assert within == "1 cable; a and b"
    assert within.to(FRENCH) == "1 câble\u00a0; a et b"


def test_a_name_is_no_term() -> None:
    assert type(term("Fenella's den")) is str
    known = term("living room")
    assert isinstance(known, Saying)
    assert known.to(FRENCH) == catalogue()["terms.living room"]["fr"]


@pytest.mark.parametrize(
    ("words", "values", "english", "french", "feet"),
    [
        ("{a_m:.0f m}", {"a_m": 17.26}, "17 m", "17 m", "57 ft"),
        ("{a_m:g m}", {"a_m": 1.5}, "1.5 m", "1,5 m", "4.9 ft"),
        ("{a_mm:g mm}", {"a_mm": 20.0}, "20 mm", "20 mm", "0.79 in"),
        ("{at_m:.1f m}", {"at_m": (3.4, 5.0)}, "3.4, 5.0 m", "3,4\u00a0; 5,0 m", "11, 16 ft"),
        ("{a_m:.1f m alone}", {"a_m": 1.5}, "1.5", "1,5", "4.9"),
        ("{a_mm:g mm alone}", {"a_mm": 20.0}, "20", "20", "0.79"),
        ("{a_mbps:rate}", {"a_mbps": 4.52}, "4.5 Mb/s", "4,5 Mb/s", "4.5 Mb/s"),
        ("{a:money of}", {"a": 1240.5, "of": "EUR"}, "1 240.50 EUR", "1 240,50 EUR", "1 240.50 EUR"),
        ("{n:count|cable|cables}", {"n": 0}, "0 cables", "0 cable", "0 cables"),
        ("{n:count|cable|cables}", {"n": 1200}, "1 200 cables", "1 200 cables", "1 200 cables"),
        ("{n:one|is|are}", {"n": 1}, "is", "is", "is"),
        ("{names:or}", {"names": ["a", "b", "c"]}, "a, b or c", "a, b ou c", "a, b or c"),
        ("{t:minutes}", {"t": 65.2}, "1 h 05", "1 h 05", "1 h 05"),
        ("{t!c} {t!l} {t!s}", {"t": "Ab"}, "Ab ab Ab.", "Ab ab Ab.", "Ab ab Ab."),
        ("{t!s}", {"t": "Why?"}, "Why?", "Why?", "Why?"),
        ("{t!r}", {"t": "cob"}, "'cob'", "«\u00a0cob\u00a0»", "'cob'"),
    ],
)
def test_how_values_are_written(
    words: str, values: dict[str, object], english: str, french: str, feet: str
) -> None:
    assert [fill(words, values, whom) for whom in (REFERENCE, FRENCH, FEET)] == [english, french, feet]


def test_a_value_that_is_missing_is_not_passed_over() -> None:
    with pytest.raises(KeyError, match="n"):
        say("words.count_cables")
    with pytest.raises(KeyError):
        say("words.no_such_row")


def test_what_is_kept_for_years_can_be_said_again() -> None:
    names = say("words.listed", names=("a", say("words.count_cables", n=1)))
    held = Held(reason=say("words.in_turn", parts=(names, "b")), rows=("plain",))
    text = json.dumps(held.model_dump(mode="json", context=WITH_CODES))
    read = Held.model_validate_json(text)
    assert read == held
    assert again(read, FRENCH).reason == "a et 1 câble\u00a0; b"
    assert read.rows == ("plain",)
    assert json.dumps(read.model_dump(mode="json", context=WITH_CODES)) == text


def test_what_was_signed_reads_as_it_was_signed() -> None:
    """Sentences change from one version to the next; what was kept does not."""
    kept = {"says": "as it stood", "code": "words.count_cables", "values": {"n": 2}}
    read = Held.model_validate({"reason": kept})
    assert again(read, REFERENCE).reason == "as it stood"
    assert again(read, FRENCH).reason == "2 câbles"


@pytest.mark.parametrize(
    ("code", "values"),
    [
        ("no.such", {}),
        ("words.count_cables", {}),
        ("words.count_cables", {"n": "x"}),
        ("words.and", 3),
        ("words.count_cables", {"n": [3]}),
    ],
)
def test_what_can_no_longer_be_said_keeps_its_words(code: str, values: object) -> None:
    read = Held.model_validate({"reason": {"says": "as it stood", "code": code, "values": values}})
    assert (type(read.reason), read.reason) == (str, "as it stood")


def test_no_object_but_that_is_a_text() -> None:
    for wrong in ({"says": "a"}, {"says": 3, "code": "words.and", "values": {}}, ["a"]):
        with pytest.raises(ValidationError):
            Held.model_validate({"reason": wrong})


def test_what_a_record_works_out_itself_is_worked_out_again() -> None:
    @dataclass(frozen=True)
    class Line:
        words: str
        title: str = field(init=False, default="")

        def __post_init__(self) -> None:
            object.__setattr__(self, "title", self.words)

    said = again(Line(say("words.count_cables", n=2)), Reader("fr"))
    assert (said.words, said.title) == ("2 câbles", "2 câbles")
