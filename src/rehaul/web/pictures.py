"""Pictures that strangers made, as pixels of our own.

Whatever a file hides beside its pixels (places, scripts, other files) does not survive; what would
unfold to more than a plan can be worth is refused before it unfolds.
"""

from __future__ import annotations

import io
import threading
import warnings
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from PIL import Image, ImageOps, UnidentifiedImageError
from pydantic import BaseModel, ConfigDict, Field

from rehaul.apart import Limits
from rehaul.apart.door import answered_as, run_apart
from rehaul.errors import BadInput
from rehaul.words import say

LARGEST_UPLOAD = 40_000_000
LIMITS = Limits(seconds=60.0, memory_bytes=1_000_000_000, answer_bytes=64_000_000)
MOST_PIXELS = 80_000_000  # taken in, of a photo that is made smaller while it unfolds, or in grey
MOST_UNFOLDED_BYTES = 240_000_000  # 60 million pixels in colours
STRIP_PX = 256  # of rows that are looked at at once
BYTES_PER_PIXEL = {
    "1": 2,
    "L": 1,
    "I;16": 3,
}  # as unfolded here; colours, and what becomes colours, take four
LONGEST_SIDE_PX = 4096  # kept, of a plan
LONGEST_PHOTO_PX = 2048  # of a photo of a step: terminals and colours can be read
FORMATS = ("JPEG", "PNG", "WEBP", "GIF", "TIFF", "BMP")
MOST_PAGES = 500
PDF_POINTS_PER_INCH = 72
WANTED_DPI = 200


@dataclass(frozen=True)
class Picture:
    """A picture as it is kept and served."""

    data: bytes
    type: str
    width_px: int
    height_px: int
    page: int
    pages: int


class _About(BaseModel):
    """A picture without its pixels, as it comes through the door."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)

    type: Literal["image/png", "image/jpeg"]
    width_px: Annotated[int, Field(ge=1, le=LONGEST_SIDE_PX + 1)]
    height_px: Annotated[int, Field(ge=1, le=LONGEST_SIDE_PX + 1)]
    page: Annotated[int, Field(ge=1)]
    pages: Annotated[int, Field(ge=1)]


def picture_apart(
    file: Path, page: int, longest_px: int, *, limits: Limits = LIMITS, stop: threading.Event | None = None
) -> Picture:
    """The same as `picture_from` of a file, made in a process of its own. Raises BadInput."""
    asked = {"page": page, "longest_px": longest_px}
    told = run_apart("rehaul.web.pictures:inside", file, asked, limits=limits, stop=stop, where="picture")
    about: _About = answered_as(_About, told.text, "picture")
    return Picture(data=told.beside, **about.model_dump())


def inside(file: Path, asked: Mapping[str, Any]) -> tuple[str, bytes]:
    """The work itself, in the process of its own."""
    found = asdict(picture_from(file.read_bytes(), asked["page"], asked["longest_px"]))
    data = found.pop("data")
    return _About(**found).model_dump_json(), data


def picture_from(data: bytes, page: int = 1, longest_px: int = LONGEST_SIDE_PX) -> Picture:
    """The picture in `data`, or page `page` of the PDF in it, no longer than that. Raises BadInput."""
    if data[:1024].lstrip().startswith(b"%PDF-"):
        image, pages = _pdf_page(data, page)
    else:
        if page != 1:
            raise BadInput(
                say("refused_web.picture_one_page"), where="page", remedy=say("refused_web.leave_page_out")
            )
        image, pages = _image(data), 1
    image = _on_white(image)
    image.thumbnail((longest_px, longest_px))
    kept, kind = _encoded(image)
    return Picture(kept, kind, image.width, image.height, page, pages)


def _image(data: bytes) -> Image.Image:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the size is looked at here, not warned about
        try:
            image: Image.Image = Image.open(io.BytesIO(data), formats=FORMATS)
            width_px, height_px = image.size
            image.draft("RGB", (LONGEST_SIDE_PX, LONGEST_SIDE_PX))
            unfolded = image.width * image.height * BYTES_PER_PIXEL.get(image.mode, 4)
            if width_px * height_px > MOST_PIXELS or unfolded > MOST_UNFOLDED_BYTES:
                raise BadInput(
                    say("refused_web.pixels_are_too_many", width_px=width_px, height_px=height_px),
                    where="picture",
                    remedy=say(
                        "refused_web.send_at_most_million", most_million=MOST_UNFOLDED_BYTES // 4000000
                    ),
                )
            image.load()
            ImageOps.exif_transpose(image, in_place=True)
        except BadInput:
            raise
        except (
            UnidentifiedImageError,
            OSError,
            ValueError,
            SyntaxError,
            EOFError,
            Image.DecompressionBombError,
        ):
            raise BadInput(
                say("refused_web.not_a_readable_picture"),
                where="picture",
                remedy=say("refused_web.send_picture_or_pdf", names=FORMATS),
            ) from None
    return image


def _pdf_page(data: bytes, page: int) -> tuple[Image.Image, int]:
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(data)
        pages = len(document)
        if not 1 <= page <= min(pages, MOST_PAGES):
            raise BadInput(
                say("refused_web.no_page", page=page),
                where="page",
                remedy=say("refused_web.give_page_from_to", pages=min(pages, MOST_PAGES)),
            )
        sheet = document[page - 1]
        width_pt, height_pt = sheet.get_size()
        longest_pt = max(width_pt, height_pt, 1.0)
        scale = min(WANTED_DPI / PDF_POINTS_PER_INCH, LONGEST_SIDE_PX / longest_pt)
        image = sheet.render(scale=scale, may_draw_forms=False).to_pil()
        document.close()
    except pypdfium2.PdfiumError:
        raise BadInput(
            say("refused_web.not_a_readable_pdf"),
            where="picture",
            remedy=say("refused_web.print_new_pdf_without"),
        ) from None
    return image, pages


def _on_white(image: Image.Image) -> Image.Image:
    """Colours or grey only; what was see-through is paper. One copy at most is made beside the picture."""
    if "A" in image.getbands() or "transparency" in image.info:
        paper = Image.new("RGB", image.size, "white")
        for top in range(0, image.height, STRIP_PX):
            strip = image.crop((0, top, image.width, min(top + STRIP_PX, image.height))).convert("RGBA")
            paper.paste(strip, (0, top), mask=strip.getchannel("A"))
        return paper
    wanted = "L" if image.mode in ("1", "L", "I;16") else "RGB"
    return image if image.mode == wanted else image.convert(wanted)


def _encoded(image: Image.Image) -> tuple[bytes, str]:
    """PNG for line drawings, JPEG where that is much smaller, as for photos."""
    bare = Image.new(image.mode, image.size)
    bare.paste(image)  # pixels only: no metadata comes along
    png, jpeg = io.BytesIO(), io.BytesIO()
    bare.save(png, "PNG", compress_level=6)
    bare.save(jpeg, "JPEG", quality=88)
    if jpeg.tell() < png.tell() / 2:
        return jpeg.getvalue(), "image/jpeg"
    return png.getvalue(), "image/png"
