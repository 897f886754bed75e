"""What a model finds wrong of a field, for people."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rehaul.words.saying import Saying, say

# By the type that pydantic gives a fault; its own words are the English, value for value.
_CODES = {
    "missing": "refused_field.missing",
    "extra_forbidden": "refused_field.extra_forbidden",
    "string_type": "refused_field.string_type",
    "int_type": "refused_field.int_type",
    "float_type": "refused_field.float_type",
    "bool_type": "refused_field.bool_type",
    "int_parsing": "refused_field.int_parsing",
    "float_parsing": "refused_field.float_parsing",
    "int_from_float": "refused_field.int_from_float",
    "finite_number": "refused_field.finite_number",
    "greater_than": "refused_field.greater_than",
    "greater_than_equal": "refused_field.greater_than_equal",
    "less_than": "refused_field.less_than",
    "less_than_equal": "refused_field.less_than_equal",
    "string_too_long": "refused_field.string_too_long",
    "string_too_short": "refused_field.string_too_short",
    "string_pattern_mismatch": "refused_field.string_pattern_mismatch",
    "literal_error": "refused_field.one_of",
    "enum": "refused_field.one_of",
    "too_long": "refused_field.too_long",
    "too_short": "refused_field.too_short",
    "tuple_type": "refused_field.tuple_type",
    "list_type": "refused_field.list_type",
    "dict_type": "refused_field.dict_type",
    "model_type": "refused_field.model_type",
}


def fault_words(fault: Mapping[str, Any]) -> str:
    """What is wrong of a field, from one row of a `ValidationError`'s `errors()`.

    A saying, where our own validator raised one or the fault is of a usual kind; else pydantic's words.

    >>> fault_words({"type": "less_than", "msg": "Input should be less than 5", "ctx": {"lt": 5}})
    'Input should be less than 5'
    """
    told = fault.get("ctx") or {}
    raised = told.get("error")
    if isinstance(raised, ValueError) and raised.args and isinstance(raised.args[0], Saying):
        return raised.args[0]
    words = str(fault["msg"]).removeprefix("Value error, ")
    code = _CODES.get(str(fault.get("type")))
    if code is None:
        return words
    try:
        said = say(code, **told)
    except (KeyError, ValueError, TypeError):  # another release of pydantic tells other values
        return words
    return said if said == words else words
