"""Where a figure or an advice was read, for people."""

from __future__ import annotations

from typing import Protocol

from rehaul.words.saying import Saying, say


class Cited(Protocol):
    """What a source tells of itself; the `Source` of a fact row has it."""

    @property
    def document(self) -> str: ...
    @property
    def edition(self) -> str: ...
    @property
    def place(self) -> str: ...
    @property
    def how(self) -> str: ...


def cited(source: Cited) -> Saying:
    """A source in one line: document, edition if any, place, and in brackets how it was read.

    The same words as the source's own text in English. Titles, dates and numbers stay as they are; what is
    said about a document is said in the reader's language.

    >>> from rehaul.facts.terminations import strip_rule
    >>> cited(strip_rule("screw terminal").source)
    'trade judgement, old telephone blocks [common practice]'
    """
    told = {"document": source.document, "place": source.place, "how": str(source.how)}
    if source.edition:
        return say("words.source_of_edition", edition=source.edition, **told)
    return say("words.source", **told)
