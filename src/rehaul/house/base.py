"""What every entity of a job has in common: frozen, strict, finite, with a stable short id."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

from rehaul.words import say


def storable(text: str) -> str:
    """The text, as it is, where a database can keep it.

    Raises ValueError for NUL and for half a letter (a lone surrogate). It is the validator of every text
    field; pydantic turns what it raises into a refusal with the field's path.

    >>> storable("Kitchen")
    'Kitchen'
    """
    if "\0" in text:
        raise ValueError(say("refused_house.nul_in_text"))
    if not text.isascii() and any("\ud800" <= letter <= "\udfff" for letter in text):
        raise ValueError(say("refused_house.half_letter_in_text"))
    return text


STORABLE = AfterValidator(storable)
Id = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,31}$", description="short id, as on tape")]
Point = Annotated[tuple[float, float], Field(description="x, y on the sheet, metres")]
Point3 = Annotated[tuple[float, float, float], Field(description="x, y, z, metres; z up from elevation 0")]
Positive = Annotated[float, Field(gt=0, le=1000)]
Rate = Annotated[float, Field(gt=0, le=1_000_000)]
NotNegative = Annotated[float, Field(ge=0, le=10000)]
Coordinate = Annotated[float, Field(ge=-10000, le=10000)]
Text = Annotated[str, Field(max_length=2000), STORABLE]
Name = Annotated[str, Field(min_length=1, max_length=80), STORABLE]

UNKNOWN: Literal["unknown"] = "unknown"


class Model(BaseModel):
    """Base of everything in a job document."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class Grade(StrEnum):
    """How well a value is known, best first."""

    CERTIFIED = "certified"  # by a certification instrument
    MEASURED = "measured"
    INFERRED = "inferred"  # from other evidence, by rule or model
    UNKNOWN = "unknown"

    def worse(self, other: Grade) -> Grade:
        """The weaker of two grades: a conclusion is no better than its poorest evidence.

        >>> Grade.MEASURED.worse(Grade.INFERRED).value
        'inferred'
        """
        order = list(Grade)
        return max(self, other, key=order.index)


class Estimate(Model):
    """A quantity with its 90 % range and how well it is known. The unit is in the field's name."""

    middle: NotNegative
    low: NotNegative
    high: NotNegative
    grade: Grade = Grade.UNKNOWN

    @model_validator(mode="after")
    def _ordered(self) -> Estimate:
        if not self.low <= self.middle <= self.high:
            raise ValueError(say("refused_house.must_rise"))
        return self


class SignOff(Model):
    """A recorded decision: who, when, in what words."""

    by: Name
    date: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$", description="ISO date")]
    words: Text = ""
