"""Text from strangers made fit to be shown: what would steer a terminal or turn a line is written out."""

from __future__ import annotations

# Not printable by the book, and harmless: the joiners of Persian and Indic names, and spaces of other widths.
HARMLESS = frozenset("\u200c\u200d\u00a0\u2002\u2003\u2007\u2009\u200a\u202f\u3000")


def printable(text: str, *, keep: str = "") -> str:
    """The text with every character that shows nothing of itself (ESC, C1, bidi overrides, half letters)
    written as `\\u001b`, the way JSON has it; those in `keep` stay.
    """
    if text.isprintable():
        return text
    return "".join(
        letter if letter.isprintable() or letter in HARMLESS or letter in keep else _written_out(letter)
        for letter in text
    )


def short(value: object, most: int = 40) -> str:
    """A value for a sentence: printable, on one line, cut where it is long."""
    text = printable(value if isinstance(value, str) else repr(value))
    return text if len(text) <= most else f"{text[: most - 1]}…"


def _written_out(letter: str) -> str:
    code = ord(letter)
    if code <= 0xFFFF:
        return f"\\u{code:04x}"
    code -= 0x10000
    return f"\\u{0xD800 + (code >> 10):04x}\\u{0xDC00 + (code & 0x3FF):04x}"
