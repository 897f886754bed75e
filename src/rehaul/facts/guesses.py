"""What an unnamed wall or floor may be, by country, year and thickness, and the spectrum of a band."""

from __future__ import annotations

from functools import cache
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field, model_validator

from rehaul.facts.constructions import constructions
from rehaul.facts.spectrum import BandGhz
from rehaul.facts.table import FactRow, load

Tradition = Literal["timber", "mixed", "masonry", "unknown"]
GuessedPart = Literal["wall", "floor"]
THINNEST_M = 0.1  # a wall without a thickness counts as thin


def _chances(text: object) -> object:
    """`0.9: stud-plasterboard ; 0.1: masonry` as (chance, construction)."""
    if not isinstance(text, str):
        return text
    pairs = (piece.split(":") for piece in text.split(";"))
    return tuple((float(chance), name.strip()) for chance, name in pairs)


class BuildingTradition(FactRow):
    """How homes of a country are built."""

    table: ClassVar[str] = "building_traditions"
    decides: ClassVar[str] = "which walls are guessed in a house of a country when nobody named them"
    country: str
    tradition: Tradition


class HouseGuess(FactRow):
    """What an unnamed wall or floor may be, up to a year and a thickness, with the chance of each."""

    table: ClassVar[str] = "house_guesses"
    decides: ClassVar[str] = "what an unnamed wall or floor is taken for, by tradition, year and thickness"
    part: GuessedPart
    tradition: Tradition
    until_year: int
    thickest_m: float = Field(gt=0)
    chances: Annotated[tuple[tuple[float, str], ...], BeforeValidator(_chances)]

    @model_validator(mode="after")
    def _chances_of_known_things(self) -> HouseGuess:
        total = sum(chance for chance, _ in self.chances)
        if abs(total - 1.0) > 1e-9:
            raise ValueError(f"the chances add to {total:g}, not to 1")
        for _, name in self.chances:
            if name not in constructions() or constructions()[name].use != self.part:
                raise ValueError(f"no {self.part} is called {name!r}")
        return self


class PredictionBand(FactRow):
    """Centre and width that stand for one band before channels are chosen."""

    table: ClassVar[str] = "prediction_bands"
    decides: ClassVar[str] = "at which frequency walls are computed before channels are chosen"
    band: BandGhz
    centre_mhz: float
    width_mhz: float


@cache
def prediction_bands() -> dict[BandGhz, PredictionBand]:
    """Centre and width [MHz] that stand for each band before channels are chosen, by band.

    **Validity**: walls are computed there; channels at an edge of a wide band may lose a little more or
    less. **Source**: the fact table `prediction_bands` (spectrum rules of the wireless-regdb).
    """
    return {row.band: row for row in load(PredictionBand)}


@cache
def tradition_of(country: str | None) -> Tradition:
    """How homes of a country are built: timber, mixed or masonry.

    `country` is a code of two letters, as in a job; "unknown" comes back for None and for a country without
    a row. **Source**: the fact table `building_traditions`, trade judgement.

    >>> tradition_of("US"), tradition_of(None)
    ('timber', 'unknown')
    """
    return next((row.tradition for row in load(BuildingTradition) if row.country == country), "unknown")


@cache
def house_guess(
    part: GuessedPart, country: str | None, year: int | None, thickness_m: float | None
) -> tuple[tuple[float, str], ...]:
    """Chances of what an unnamed wall or floor is, as (chance, construction); they add to 1.

    `year` is the one the house was built in; where it is None, every stretch of years counts alike. A
    `thickness_m` of None counts as thin. The first row of a stretch that is as thick as that rules.
    **Source**: the fact table `house_guesses`, trade judgement.
    """
    rows = [row for row in load(HouseGuess) if (row.part, row.tradition) == (part, tradition_of(country))]
    thickness_m = THINNEST_M if thickness_m is None else thickness_m
    first: dict[int, HouseGuess] = {}
    for row in rows:
        if thickness_m <= row.thickest_m:
            first.setdefault(row.until_year, row)
    if year is not None:
        return first[min(until for until in first if year <= until)].chances
    pooled: dict[str, float] = {}
    for row in first.values():
        for chance, name in row.chances:
            pooled[name] = pooled.get(name, 0.0) + chance / len(first)
    return tuple((chance, name) for name, chance in pooled.items())
