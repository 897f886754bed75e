"""Where the handover record is kept, in a few words."""

from __future__ import annotations

from rehaul.errors import BadInput
from rehaul.words import say

LONGEST_PLACE = 100  # characters; it stands in the code on the closet door


def require_place(words: object, *, where: str) -> str:
    """The words as they were given, without blanks around them; empty where nothing is said.

    Parameters: `where`, what the refusal names. Raises BadInput for what is no text, is longer than 100
    characters, or does not fit on one line.

    >>> require_place(" meter cupboard ", where="--kept-at")
    'meter cupboard'
    """
    if not isinstance(words, str) or len(words) > LONGEST_PLACE or not words.isprintable():
        raise BadInput(
            say("refused_house.longer_than_characters_on", longest_place=LONGEST_PLACE),
            where=where,
            remedy=say("refused_house.say_few_words_where"),
        )
    return words.strip()
