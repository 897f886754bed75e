"""The sentences: one row a code, one column a language."""

from __future__ import annotations

import csv
import io
import re
from functools import cache
from typing import Literal, get_args

Language = Literal["en", "fr"]
LANGUAGES: tuple[Language, ...] = get_args(Language)
TERMS = "terms"  # tables of single words begin so; a word's code is the English itself
_BEFORE_A_SIGN = re.compile(r" (?=[:;?!%»])|(?<=«) ")  # French keeps these on one line


@cache
def catalogue() -> dict[str, dict[Language, str]]:
    """Every sentence in every language, by its code: the table's name, a dot, the row's.

    The terms have no code: what stands in English is the code, as in `terms.live telephone`.

    >>> catalogue()["words.and"]["fr"]
    '{first} et {last}'
    """
    from importlib.resources import files  # it looks into archives, too, which --help need not

    found: dict[str, dict[Language, str]] = {}
    for file in sorted(files("rehaul.words").joinpath("tables").iterdir(), key=lambda file: file.name):
        table = file.name.removesuffix(".csv")
        words = table.startswith(TERMS)
        columns, *rows = filter(None, csv.reader(io.StringIO(file.read_text(encoding="utf-8"))))
        before, key = (TERMS, columns.index("en")) if words else (table, columns.index("code"))
        en, fr = columns.index("en"), columns.index("fr")
        for row in rows:  # thousands, at each start
            found[f"{before}.{row[key]}"] = {"en": row[en], "fr": _BEFORE_A_SIGN.sub("\u00a0", row[fr])}
    return found
