"""What a published value is: the number, and where it was read. Files here use nothing less."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

How = Literal["printed", "computed", "plot", "excerpt", "data", "memory", "common practice"]


@dataclass(frozen=True)
class Published:
    """One outside value. `tolerance` is absolute, in `unit`; `why` says why it is that wide."""

    value: float
    unit: str
    document: str
    place: str
    how: How
    tolerance: float
    why: str

    def check(self, actual: float) -> None:
        """Fail, naming the source, if `actual` is further from the value than the tolerance."""
        assert abs(actual - self.value) <= self.tolerance, (
            f"{actual:g} {self.unit} against {self.value:g} in {self.document}, {self.place} ({self.how}); "
            f"tolerance {self.tolerance:g}: {self.why}"
        )
