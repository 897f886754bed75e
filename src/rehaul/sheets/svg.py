"""A very small SVG writer: escaped text, rounded numbers, groups that carry the style.

Drawings are in millimetres on paper, x right and y down, so line weights and letter heights are
what a printer will lay down. The same string goes into the PDF and the page.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

INK = "#1b1a17"
GREY = "#6b675e"
PALE = "#c9c4b6"
PAPER = "#ffffff"

SERIF = "Libertinus Serif, Georgia, serif"
MONO = "DejaVu Sans Mono, Menlo, Consolas, monospace"

FINE_MM, THIN_MM, MEDIUM_MM, THICK_MM = 0.13, 0.18, 0.35, 0.5  # pen widths, after ISO 128

_UNPRINTABLE = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff"  # no XML or text
    "\ue000-\uf8ff\U000f0000-\U0010ffff]"  # private: no two fonts agree on what they show
)

Mm = tuple[float, float]
Style = dict[str, str | float | None]


def clean(text: str) -> str:
    """Text without control characters, which hardly any file may hold, and without private ones.

    Tabs and line breaks stay; of private characters no two fonts agree on what they show. **Source**: what
    XML 1.0 holds or advises against, section 2.2 (from memory); docs/papers.md, "How it is made": all text
    escaped.

    >>> clean("a" + chr(0) + "b")
    'ab'
    """
    return _UNPRINTABLE.sub("", text)


def escape(text: str) -> str:
    """Text safe between tags and inside quoted attributes, cleaned.

    >>> escape("<b> & 'c'")
    '&lt;b&gt; &amp; &#39;c&#39;'
    """
    return (
        clean(text)
        .replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace('"', "&quot;")
        .replace("'", "&#39;")
    )


def number(value: float) -> str:
    """A length on paper [mm] to the hundredth, without trailing zeros; never `-0`.

    >>> number(1.50), number(2.0), number(-0.001)
    ('1.5', '2', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def attributes(**values: str | float | None) -> str:
    """` name="value"` for every value that is not None; `_` in a name stands for `-`.

    Texts are escaped, numbers written as `number` does.

    >>> attributes(stroke_width=0.25, fill=None, id="a")
    ' stroke-width="0.25" id="a"'
    """
    return "".join(
        f' {name.replace("_", "-")}="{escape(value) if isinstance(value, str) else number(value)}"'
        for name, value in values.items()
        if value is not None
    )


def element(tag: str, **values: str | float | None) -> str:
    """A tag without content and its attributes, as `attributes` writes them.

    >>> element("circle", r=1.0)
    '<circle r="1"/>'
    """
    return f"<{tag}{attributes(**values)}/>"


def group(children: Iterable[str], **values: str | float | None) -> str:
    """A group that holds the style of its children; nothing for no children.

    >>> group([]), group(["<a/>"], fill="none")
    ('', '<g fill="none"><a/></g>')
    """
    inner = "".join(children)
    return f"<g{attributes(**values)}>{inner}</g>" if inner else ""


def line(start: Mm, end: Mm, **values: str | float | None) -> str:
    """A straight line between two points [mm].

    >>> line((0.0, 0.0), (1.0, 2.5), stroke="red")
    '<path d="M0 0L1 2.5" stroke="red"/>'
    """
    return element("path", d=f"M{_pair(start)}L{_pair(end)}", **values)


def path_data(points: Sequence[Mm], *, closed: bool = False) -> str:
    """Path data through the points [mm], without points that round to the same place as the one before.

    No points give a lone `M`, which draws nothing.

    >>> path_data([(0.0, 0.0), (0.001, 0.0), (1.0, 1.0)], closed=True)
    'M0 0L1 1Z'
    """
    pairs = [_pair(point) for point in points]
    kept = [pair for i, pair in enumerate(pairs) if i == 0 or pair != pairs[i - 1]]
    return "M" + "L".join(kept) + ("Z" if closed else "")


def polyline(points: Sequence[Mm], **values: str | float | None) -> str:
    """An open line through the points [mm], not filled.

    >>> polyline([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)], stroke="red")
    '<path d="M0 0L1 0L1 1" fill="none" stroke="red"/>'
    """
    return element("path", d=path_data(points), fill="none", **values)


def circle(centre: Mm, radius: float, **values: str | float | None) -> str:
    """A circle about a point [mm]; black and filled, as SVG has it, where nothing else is said."""
    return element("circle", cx=centre[0], cy=centre[1], r=radius, **values)


def rect(x: float, y: float, width: float, height: float, **values: str | float | None) -> str:
    """A rectangle by its upper left corner, width and height [mm].

    >>> rect(1.0, 2.0, 3.0, 0.5, fill="none")
    '<rect x="1" y="2" width="3" height="0.5" fill="none"/>'
    """
    return element("rect", x=x, y=y, width=width, height=height, **values)


def text(
    at: Mm,
    words: str,
    *,
    size: float = 2.5,
    anchor: str = "start",
    mono: bool = False,
    bold: bool = False,
    italic: bool = False,
    fill: str = INK,
    halo: str | None = None,
    turn_deg: float = 0.0,
) -> str:
    """One line of text as SVG with its baseline at `at` [mm], escaped.

    Parameters
    ----------
    size : of the letters [mm]
    anchor : "start", "middle" or "end", which end of the line stands at `at`
    halo : colour of a rim that keeps it readable over lines; the words then stand there twice, the rim hidden
        from a screen reader
    turn_deg : about `at`, clockwise as SVG turns

    >>> text((1.0, 2.0), "A & B", size=3.0, fill="red").endswith(">A &amp; B</text>")
    True
    """
    spin = f"rotate({number(turn_deg)} {_pair(at)})" if turn_deg else None
    attribute_text = attributes(
        x=at[0],
        y=at[1],
        font_size=size,
        font_family=MONO if mono else SERIF,
        font_weight="700" if bold else None,
        font_style="italic" if italic else None,
        text_anchor=None if anchor == "start" else anchor,
        fill=fill,
        transform=spin,
    )
    body = f"{attribute_text}>{escape(words)}</text>"
    if halo is None:
        return f"<text{body}"
    rim = attributes(stroke=halo, stroke_width=size * 0.32, stroke_linejoin="round")
    return f'<text aria-hidden="true"{rim}{body}<text{body}'


def text_width_mm(words: str, size: float, *, mono: bool = False) -> float:
    """Width of a line on paper, near enough to keep things apart (tends to the wide side).

    `size`: of the letters [mm]. **Validity**: Latin letters of the two fonts that typst carries; an
    estimate from how many letters are wide or thin, not from the font.
    """
    if mono:
        return len(words) * size * 0.603
    wide = sum(1 for letter in words if letter in "MWmw—")
    thin = sum(1 for letter in words if letter in "iljtf.,:;'|I ()")
    return size * (0.52 * len(words) + 0.26 * wide - 0.22 * thin)


def drawing(width: float, height: float, children: Iterable[str], *, title: str, prefix: str = "") -> str:
    """A whole SVG of that size in millimetres; the title is what a screen reader says.

    `prefix`: SVG that comes before the children, such as definitions. The same input gives the same text.

    >>> drawing_size(drawing(20.0, 10.5, [], title="Empty"))
    (20.0, 10.5)
    """
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img"'
        f'{attributes(aria_label=title)} width="{number(width)}mm" height="{number(height)}mm"'
        f' viewBox="0 0 {number(width)} {number(height)}">'
    )
    return f"{head}{prefix}{''.join(children)}</svg>"


def _pair(point: Mm) -> str:
    return f"{number(point[0])} {number(point[1])}"


def drawing_size(picture: str) -> Mm:
    """Width and height in millimetres of a drawing made by `drawing`. ValueError for any other text."""
    found = re.search(r'width="([\d.]+)mm" height="([\d.]+)mm"', picture)
    if found is None:
        raise ValueError("not a drawing made by drawing()")
    return float(found[1]), float(found[2])
