"""Sayings in fields of models: they keep their code, and are written down with or without it."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import (
    SerializationInfo,
    SerializerFunctionWrapHandler,
    ValidatorFunctionWrapHandler,
    WithJsonSchema,
    WrapSerializer,
    WrapValidator,
)

from rehaul.words.readers import REFERENCE, Reader
from rehaul.words.rows import LANGUAGES
from rehaul.words.saying import Saying, as_data, said_by


def _keep(value: Any, handler: ValidatorFunctionWrapHandler) -> str:
    if isinstance(value, dict) and set(value) == {"says", "code", "values"}:
        return _kept(value, handler)
    checked: str = handler(value)
    return value if isinstance(value, Saying) else checked


def _kept(data: dict[str, Any], handler: ValidatorFunctionWrapHandler) -> str:
    """A saying that was written down with its code; its words alone where no such sentence is known now."""
    words: str = handler(data["says"])
    try:
        code, values = str(data["code"]), _read(data["values"])
        for language in LANGUAGES:  # what cannot be said to somebody is no saying
            said_by(code, values, Reader(language))
    except (LookupError, ArithmeticError, ValueError, TypeError, AttributeError, RecursionError):
        return words
    return Saying(words, code, values, REFERENCE)


def _read(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(_read(one) for one in value)
    if not isinstance(value, dict):
        return value
    if set(value) == {"says", "code", "values"}:
        return Saying(str(value["says"]), str(value["code"]), _read(value["values"]), REFERENCE)
    return {str(name): _read(one) for name, one in value.items()}


def _write(value: Any, plainly: SerializerFunctionWrapHandler, info: SerializationInfo) -> Any:
    """The words alone; with `WITH_CODES`, what they were made from as well."""
    if isinstance(value, Saying) and info.context == WITH_CODES:
        return as_data(value)
    return plainly(value)


WITH_CODES = {"sayings": "with codes"}  # a context of `model_dump`: what is kept for years can be said again
# The field of a model that holds what is said to people.
Words = Annotated[
    str,
    WrapValidator(_keep),
    WrapSerializer(_write, return_type=Any),
    WithJsonSchema({"type": "string"}),
]
