"""Pictures that strangers made, as pixels of our own.

Whatever a file hides beside its pixels (places, scripts, other files) does not survive; what would
unfold to more than a plan can be worth is refused before it unfolds.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass

from PIL import Image, ImageOps, UnidentifiedImageError

from rehaul.errors import BadInput

LARGEST_UPLOAD = 40_000_000
MOST_PIXELS = 80_000_000  # taken in
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


def picture_from(data: bytes, page: int = 1, longest_px: int = LONGEST_SIDE_PX) -> Picture:
    """The picture in `data`, or page `page` of the PDF in it, no longer than that. Raises BadInput."""
    if data[:1024].lstrip().startswith(b"%PDF-"):
        image, pages = _pdf_page(data, page)
    else:
        if page != 1:
            raise BadInput("a picture has one page", where="page", remedy="Leave the page out")
        image, pages = _image(data), 1
    image.thumbnail((longest_px, longest_px))
    kept, kind = _encoded(image)
    return Picture(kept, kind, image.width, image.height, page, pages)


def _image(data: bytes) -> Image.Image:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the size is looked at here, not warned about
        try:
            image: Image.Image = Image.open(io.BytesIO(data), formats=FORMATS)
            if image.width * image.height > MOST_PIXELS:
                raise BadInput(
                    f"{image.width} by {image.height} pixels are too many",
                    where="picture",
                    remedy=f"Send at most {MOST_PIXELS // 1_000_000} million pixels",
                )
            image.draft("RGB", (LONGEST_SIDE_PX, LONGEST_SIDE_PX))
            image.load()
            image = ImageOps.exif_transpose(image)
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
                "not a picture that can be read",
                where="picture",
                remedy=f"Send one of {', '.join(FORMATS)} or PDF",
            ) from None
    return _on_white(image)


def _pdf_page(data: bytes, page: int) -> tuple[Image.Image, int]:
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(data)
        pages = len(document)
        if not 1 <= page <= min(pages, MOST_PAGES):
            raise BadInput(
                f"there is no page {page}", where="page", remedy=f"Give one of 1 to {min(pages, MOST_PAGES)}"
            )
        sheet = document[page - 1]
        width_pt, height_pt = sheet.get_size()
        longest_pt = max(width_pt, height_pt, 1.0)
        scale = min(WANTED_DPI / PDF_POINTS_PER_INCH, LONGEST_SIDE_PX / longest_pt)
        image = sheet.render(scale=scale, may_draw_forms=False).to_pil()
        document.close()
    except pypdfium2.PdfiumError:
        raise BadInput(
            "not a PDF that can be read",
            where="picture",
            remedy="Print it to a new PDF without a password, or send a photo of it",
        ) from None
    return _on_white(image), pages


def _on_white(image: Image.Image) -> Image.Image:
    """Colours or grey only; what was see-through is paper."""
    if "A" in image.getbands() or "transparency" in image.info:
        image = image.convert("RGBA")
        paper = Image.new("RGB", image.size, "white")
        paper.paste(image, mask=image.getchannel("A"))
        return paper
    return image.convert("L" if image.mode in ("1", "L", "I;16", "LA") else "RGB")


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
