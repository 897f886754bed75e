"""How houses were built, by year: what their walls, floors and ceilings are made of."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Style:
    """One way of building, with the years in which it was usual."""

    name: str
    first_year: int
    last_year: int
    outer: tuple[str, ...]
    outer_m: float
    inner: tuple[str, ...]
    inner_m: float
    floors: tuple[str, ...]
    ceiling: str
    glass: tuple[str, ...]
    doors: tuple[str, ...]


STYLES = (
    Style(
        "lath",
        1890,
        1938,
        ("board-clad",),
        0.16,
        ("lath-plaster",),
        0.13,
        ("timber-floor-lath",),
        "hollow",
        ("glass-single", "glass-double"),
        ("door-panelled", "door-wood"),
    ),
    Style(
        "metal-mesh",
        1926,
        1956,
        ("brick-solid", "stucco"),
        0.24,
        ("metal-lath-plaster",),
        0.14,
        ("timber-floor-lath", "concrete-slab"),
        "hollow",
        ("glass-single", "glass-double"),
        ("door-panelled", "door-hollow"),
    ),
    Style(
        "stone",
        1890,
        1915,
        ("stone",),
        0.47,
        ("brick-half", "lath-plaster"),
        0.13,
        ("timber-floor",),
        "hollow",
        ("glass-single", "glass-low-e-wood"),
        ("door-wood",),
    ),
    Style(
        "brick",
        1890,
        1972,
        ("brick-solid", "brick-cavity"),
        0.28,
        ("brick-half",),
        0.13,
        ("timber-floor", "timber-floor-lath"),
        "hollow",
        ("glass-double", "glass-single"),
        ("door-panelled", "door-wood"),
    ),
    Style(
        "concrete",
        1955,
        2020,
        ("concrete",),
        0.2,
        ("concrete", "gypsum-block", "block-dense"),
        0.12,
        ("concrete-slab", "concrete-slab-thick"),
        "solid",
        ("glass-double", "glass-low-e"),
        ("door-hollow", "door-wood"),
    ),
    Style(
        "block",
        1950,
        2010,
        ("block-hollow", "brick-block-cavity"),
        0.3,
        ("block-aerated", "block-dense", "stud-plasterboard"),
        0.12,
        ("hollow-slab", "chipboard-floor"),
        "unknown",
        ("glass-double",),
        ("door-hollow",),
    ),
    Style(
        "frame",
        1957,
        2020,
        ("brick-veneer", "timber-clad"),
        0.2,
        ("stud-plasterboard",),
        0.12,
        ("plywood-floor",),
        "hollow",
        ("glass-double", "glass-low-e"),
        ("door-hollow",),
    ),
    Style(
        "insulated",
        1988,
        2020,
        ("brick-block-foil", "brick-block-cavity"),
        0.3,
        ("stud-metal", "stud-plasterboard-insulated", "stud-double-board", "stud-foil"),
        0.12,
        ("chipboard-floor", "concrete-slab"),
        "hollow",
        ("glass-low-e", "glass-low-e-wood"),
        ("door-hollow", "door-glazed"),
    ),
)
