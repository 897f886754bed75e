"""From metres in the house to millimetres on paper, at a scale a draughtsman would choose."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.sheets import svg
from rehaul.units import METRES_PER_FOOT, UnitSystem, format_length

METRIC_SCALES = (20, 25, 50, 75, 100, 125, 150, 200, 250, 500, 1000, 2000, 5000)
# 1/2, 3/8, 1/4, 3/16, 1/8, 3/32, 1/16 and 1/32 inch to the foot
IMPERIAL_SCALES = {
    24: "1/2\" = 1'",
    32: "3/8\" = 1'",
    48: "1/4\" = 1'",
    64: "3/16\" = 1'",
    96: "1/8\" = 1'",
    128: "3/32\" = 1'",
    192: "1/16\" = 1'",
    384: "1/32\" = 1'",
    768: "1/64\" = 1'",
}


@dataclass(frozen=True)
class StoreyView:
    """How a storey lies on the paper."""

    x0_m: float  # left edge of what is shown
    y1_m: float  # top edge of what is shown
    ratio: float  # metres in the house for each metre on paper
    left_mm: float
    top_mm: float

    def at(self, point: tuple[float, ...]) -> svg.Mm:
        """The place on paper [mm, down] of a point of the house [m, up]; a height is left out.

        **Source**: docs/papers.md, "How it is made": drawings.

        >>> StoreyView(x0_m=0.0, y1_m=10.0, ratio=50.0, left_mm=5.0, top_mm=5.0).at((1.0, 9.0))
        (25.0, 25.0)
        """
        return (
            self.left_mm + (point[0] - self.x0_m) * 1000 / self.ratio,
            self.top_mm + (self.y1_m - point[1]) * 1000 / self.ratio,
        )

    def mm(self, length_m: float) -> float:
        """A length of the house [m] in millimetres on paper.

        **Source**: docs/papers.md, "How it is made": drawings.

        >>> StoreyView(0.0, 0.0, 100.0, 0.0, 0.0).mm(2.5)
        25.0
        """
        return length_m * 1000 / self.ratio


def scale_for(width_m: float, depth_m: float, width_mm: float, height_mm: float, system: UnitSystem) -> float:
    """The largest usual scale at which the house fits, as its ratio: 50 for 1:50.

    Past the usual ones whatever fits.

    Parameters
    ----------
    width_m, depth_m : of the house
    width_mm, height_mm : that the paper has for it
    system : "metric" or "imperial", which have other usual scales

    **Source**: docs/papers.md, "How it is made": drawings.

    >>> scale_for(10.0, 6.0, 234.0, 140.0, "metric")
    50.0
    """
    needed = max(width_m * 1000 / width_mm, depth_m * 1000 / height_mm)
    usual = METRIC_SCALES if system == "metric" else tuple(IMPERIAL_SCALES)
    return float(next((ratio for ratio in usual if ratio >= needed), needed))


def scale_words(ratio: float, system: UnitSystem) -> str:
    r"""`1:50`, or `1/4" = 1' (1:48)` where the household reads feet and the scale is a usual one.

    **Source**: docs/papers.md, "How it is made": drawings.

    >>> scale_words(48.0, "imperial"), scale_words(50.0, "metric")
    ('1/4" = 1\' (1:48)', '1:50')
    """
    plain = f"1:{ratio:g}" if ratio == round(ratio) else f"1:{ratio:.0f}"
    inches = IMPERIAL_SCALES.get(round(ratio)) if system == "imperial" else None
    return f"{inches} ({plain})" if inches else plain


def scale_bar(at: svg.Mm, view: StoreyView, system: UnitSystem, room_mm: float) -> str:
    """A bar of alternate ink and paper as SVG, its upper left corner at `at` [mm], its figures above.

    At most four steps of at least 9 mm in the `room_mm` there is. A ruler on it measures the house.
    **Source**: docs/papers.md, "How it is made": drawings.
    """
    unit_m = 1.0 if system == "metric" else METRES_PER_FOOT
    steps = (1, 2, 5, 10, 20, 50, 100)
    step = next((s for s in steps if view.mm(s * unit_m) >= 9), steps[-1])
    count = max(1, min(4, int(room_mm / view.mm(step * unit_m))))
    width = view.mm(step * unit_m)
    parts = []
    for i in range(count):
        fill = svg.INK if i % 2 == 0 else svg.PAPER
        parts.append(
            svg.rect(at[0] + i * width, at[1], width, 1.2, fill=fill, stroke=svg.INK, stroke_width=0.13)
        )
    for i in range(count + 1):
        shown = format_length(i * step * unit_m, system, digits=0)
        words = shown.removesuffix(" m") if i < count else shown
        words = words.split(" ")[0] if system == "imperial" else words
        parts.append(svg.text((at[0] + i * width, at[1] - 0.8), words, size=2.2, anchor="middle"))
    return "".join(parts)
