"""How full a conduit would be with a new cable in it."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.errors import require_range
from rehaul.facts.pulls import conduit_numbers
from rehaul.house import Run


@dataclass(frozen=True)
class ConduitFill:
    """Share of a conduit's bore that cables fill, against the most that is allowed."""

    fill_pct: float
    most_pct: float

    @property
    def fits(self) -> bool:
        """Whether the fill is within the limit."""
        return self.fill_pct <= self.most_pct


def conduit_fill(bore_m: float, diameters_m: tuple[float, ...]) -> ConduitFill:
    """Share of the bore's cross section that the cables fill: sum of d² over D².

    Parameters: `bore_m`, inside diameter; `diameters_m`, outside diameter of every cable in it.

    **Validity**: straight conduit; bends are judged by tugging.
    **Source**: geometry; limits by number of cables from the fact table `conduit_fill`.

    >>> fill = conduit_fill(0.020, (0.006, 0.006))
    >>> round(fill.fill_pct, 1), fill.fits
    (18.0, True)
    """
    require_range(bore_m, 0.005, 0.5, name="bore_m")
    limits = ("one cable", "two cables", "more cables")
    most = conduit_numbers()[limits[min(len(diameters_m), len(limits)) - 1]]
    return ConduitFill(100.0 * sum(d * d for d in diameters_m) / bore_m**2, most)


def fill_after_pull(run: Run) -> ConduitFill | None:
    """Fill once the old cable is out, one new cable is in, and the others stay; None: bore not known.

    Raises BadInput where the bore is not from 5 to 500 mm. **Validity**: the others are taken to be as thick
    as old quads.

    **Source**: diameters of the fact table `conduit_fill`.
    """
    if run.conduit_bore_m is None:
        return None
    numbers = conduit_numbers()
    stay = (numbers["quad diameter"],) * run.conduit_others
    return conduit_fill(run.conduit_bore_m, (numbers["cable diameter"], *stay))
