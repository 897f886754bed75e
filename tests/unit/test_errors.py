"""The shape of a refusal: one clear sentence, where, and what to do."""

from __future__ import annotations

import math
import pickle

import pytest

from rehaul.errors import BadInput, OutOfRange, require_range
from rehaul.words import REFERENCE, Reader, Saying, again, say, speaking


def test_a_refusal_reads_as_sentences_and_carries_its_parts() -> None:
    refusal = BadInput(
        "it is not JSON", where="a.json, line 3", remedy="Take the last good copy", source="RFC 8259"
    )
    assert str(refusal) == "a.json, line 3: it is not JSON. Take the last good copy. (RFC 8259)"
    assert refusal.as_dict()["code"] == "bad-input"


@pytest.mark.parametrize("value", [0.0, 5.0, 10.0])
def test_edges_are_inside(value: float) -> None:
    assert require_range(value, 0.0, 10.0, name="x") == value


@pytest.mark.parametrize("value", [-1e-9, 10.000001, math.nan, math.inf])
def test_outside_is_refused_and_names_the_range(value: float) -> None:
    with pytest.raises(OutOfRange, match="0 to 10"):
        require_range(value, 0.0, 10.0, name="x")


def test_what_is_quoted_from_a_file_stays_on_one_line() -> None:
    """Found by the fuzzers: the name of a schema with a line end, a byte that no letter is."""
    refusal = BadInput("no schema 'IF\nC4'", where="house\x1b.ifc, \udcd7", remedy="Name one of\r\nIFC2x3")
    assert (
        str(refusal) == "house\\u001b.ifc, \\udcd7: no schema 'IF\\u000aC4'. Name one of\\u000d\\u000aIFC2x3."
    )
    assert all(value.isprintable() for value in refusal.as_dict().values())


def test_a_refusal_is_said_to_whoever_reads_it() -> None:
    with speaking(REFERENCE), pytest.raises(OutOfRange) as caught:
        require_range(2.5, 0.0, 1.5, name="age_y", source="RFC 1")
    refusal = caught.value
    assert str(refusal) == "age_y: 2.5 is outside 0 to 1.5. Give a value from 0 to 1.5. (RFC 1)"
    with speaking(Reader("fr")):
        assert str(refusal) == (
            "age_y: 2,5 n'est pas compris entre 0 et 1,5. Donnez une valeur de 0 à 1,5. (RFC 1)"
        )
        assert again(dict(refusal.as_dict()))["remedy"] == "Donnez une valeur de 0 à 1,5"
    assert refusal.as_dict()["code"] == "out-of-range"
    assert refusal.as_dict()["problem"] == "2.5 is outside 0 to 1.5"


def test_what_a_saying_quotes_stays_on_one_line_in_every_language() -> None:
    text = "3\n\x1b[2J m"
    refusal = BadInput(
        say("refused_common.length_may_be_two", text=text, whole="\x1b", decimal="\n", unit="m"),
        where="a\nb",
    )
    assert isinstance(refusal.problem, Saying)
    assert str(refusal) == f"a\\u000ab: {text!r} may be \\u001b or \\u000a m."
    with speaking(Reader("fr")):
        said = str(refusal)
    assert said.startswith("a\\u000ab: «\u00a03\\u000a\\u001b[2J m\u00a0» peut valoir \\u001b ou \\u000a")
    assert not {"\n", "\x1b"} & set(said)


def test_a_refusal_copies_with_its_code() -> None:
    refusal = pickle.loads(pickle.dumps(BadInput(say("refused_common.not_a_length", text="x"))))
    assert again(refusal.problem, Reader("fr")) == "«\u00a0x\u00a0» n'est pas une longueur"
