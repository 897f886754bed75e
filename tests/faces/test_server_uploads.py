"""Files that strangers made: pictures, PDFs, models."""

from __future__ import annotations

import io
import resource
import struct
import subprocess
import sys
import threading
import time
import zlib
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo
from server import Running, Talker

from rehaul.errors import BadInput
from rehaul.web.pictures import LONGEST_SIDE_PX, picture_from

PIXELS = zlib.compress(b"\0" * 1000)
PICTURES = "/api/jobs/small/pictures"


@pytest.fixture(scope="module")
def server(small_server: Running) -> Running:
    return small_server


@pytest.fixture(scope="module")
def ann(server: Running) -> httpx.Client:
    return server.paired("Ann")


def encoded(image: Image.Image, kind: str, **more: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def drawing(width: int = 300, height: int = 200) -> Image.Image:
    image = Image.new("RGB", (width, height), "white")
    image.paste((200, 0, 0), (10, 20, 60, 80))
    return image


def pdf(pages: int = 2, size: tuple[int, int] = (300, 200)) -> bytes:
    images = [drawing(*size) for _ in range(pages)]
    return encoded(images[0], "PDF", save_all=True, append_images=images[1:], resolution=72)


def png_that_claims(width: int, height: int) -> bytes:
    """A few bytes that say they are very many pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", PIXELS) + chunk(b"IEND", b"")


def png_that_unfolds(width: int, height: int) -> bytes:
    """See-through nothing, a thousand times smaller than what it becomes."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0)
    pixels = packed((width * 4 + 1) * height)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", pixels) + chunk(b"IEND", b"")


def packed(size: int, block: bytes = b"\0" * 1_000_000) -> bytes:
    """A little more than `size` bytes of one block over and over, packed once: RFC 1950, 1951."""
    times = size // len(block) + 1
    packer = zlib.compressobj(9, wbits=-15)
    part = packer.compress(block) + packer.flush(zlib.Z_FULL_FLUSH)  # such parts may follow one another
    check = 1
    for _ in range(times):
        check = zlib.adler32(block, check)
    return b"\x78\xda" + part * times + b"\x03\x00" + struct.pack(">I", check)


def pdf_that_unfolds(size: int) -> bytes:
    """One page whose drawing is packed three times over."""
    drawn = zlib.compress(zlib.compress(packed(size, b"q Q " * 250_000), 9), 9)
    filters = b"[/FlateDecode /FlateDecode /FlateDecode]"
    parts = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 300 200] /Contents 4 0 R /Resources << >> >>",
        b"<< /Filter %s /Length %d >>\nstream\n%s\nendstream" % (filters, len(drawn), drawn),
    ]
    out, places = b"%PDF-1.4\n", []
    for number, part in enumerate(parts, start=1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, part)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    head = b"xref\n0 5\n0000000000 65535 f \n"
    return out + head + table + b"trailer << /Size 5 /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % len(out)


# What is measured starts in a small process: one counts for what it took before it became another program.
MEASURE = """
import resource, subprocess, sys
subprocess.run([sys.executable, "-c", sys.argv[1], sys.argv[2]], check=True)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024)
"""
READ = """
import sys
from pathlib import Path
from rehaul.errors import BadInput
from rehaul.web.pictures import picture_apart
try:
    picture_apart(Path(sys.argv[1]), 1, 4096)
except BadInput as refusal:
    print(refusal)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="memory is held on Linux only")
@pytest.mark.parametrize("kind", ["pdf", "png", "png that is small enough"])
def test_what_unfolds_takes_less_than_a_gigabyte(kind: str, tmp_path: Path) -> None:
    made = {
        "pdf": lambda: pdf_that_unfolds(1_500_000_000),
        "png": lambda: png_that_unfolds(8900, 8900),
        "png that is small enough": lambda: png_that_unfolds(7700, 7700),
    }
    file = tmp_path / "bomb"
    file.write_bytes(made[kind]())
    assert file.stat().st_size < 400_000
    done = subprocess.run(
        [sys.executable, "-c", MEASURE, READ, str(file)], capture_output=True, text=True, check=True
    )
    *said, most_mb = done.stdout.splitlines()
    assert int(most_mb) < 1000
    assert bool(said) == (kind != "png that is small enough"), said


def test_what_reads_a_picture_apart_brings_nothing_of_the_server_along() -> None:
    """Each photo waits for it: with the server and what plans it took a second and more of processor time."""
    code = "import sys, rehaul.apart.inside, rehaul.web.pictures; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    heavy = {"numpy", "numba", "scipy", "shapely", "starlette", "rehaul.web.app", "rehaul.house"}
    assert not heavy & set(done.stdout.split())


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP", "GIF", "TIFF", "BMP"])
def test_every_kind_is_made_anew(kind: str) -> None:
    picture = picture_from(encoded(drawing(), kind))
    image = Image.open(io.BytesIO(picture.data))
    assert (image.width, image.height, picture.width_px, picture.height_px) == (300, 200, 300, 200)
    assert image.convert("RGB").getpixel((30, 50))[0] > 180
    assert picture.type in ("image/png", "image/jpeg")


def test_what_hides_beside_the_pixels_is_gone() -> None:
    info = PngInfo()
    info.add_text("Comment", "secret-place")
    exif = Image.Exif()
    exif[0x010E] = "secret-place"
    exif.get_ifd(0x8825)[1] = "N"
    png = encoded(drawing(), "PNG", pnginfo=info) + b"<script>secret-place</script>"
    jpeg = encoded(drawing(), "JPEG", exif=exif) + b"PK\x03\x04secret-place"
    for data in (png, jpeg):
        assert b"secret-place" in data
        kept = picture_from(data).data
        assert b"secret-place" not in kept
        assert not Image.open(io.BytesIO(kept)).getexif()


def test_a_photo_taken_sideways_stands_upright() -> None:
    exif = Image.Exif()
    exif[0x0112] = 6
    picture = picture_from(encoded(drawing(300, 200), "JPEG", exif=exif))
    assert (picture.width_px, picture.height_px) == (200, 300)


def test_see_through_is_paper() -> None:
    image = Image.new("RGBA", (40, 40), (0, 0, 0, 0))
    assert (
        Image.open(io.BytesIO(picture_from(encoded(image, "PNG")).data)).convert("L").getpixel((5, 5)) == 255
    )


def test_a_large_photo_is_made_smaller() -> None:
    picture = picture_from(encoded(drawing(5000, 2500), "PNG"))
    assert (picture.width_px, picture.height_px) == (LONGEST_SIDE_PX, LONGEST_SIDE_PX // 2)


def test_pages_of_a_pdf() -> None:
    picture = picture_from(pdf(pages=3), page=3)
    assert (picture.page, picture.pages) == (3, 3)
    assert picture.width_px / picture.height_px == pytest.approx(1.5, rel=0.01)
    with pytest.raises(BadInput, match="no page 4"):
        picture_from(pdf(pages=3), page=4)


def test_a_pdf_page_as_large_as_a_field_is_rendered_small() -> None:
    picture = picture_from(pdf(1, (9000, 30)))
    assert picture.width_px <= LONGEST_SIDE_PX + 1


@pytest.mark.parametrize(
    "data",
    [b"", b"hello", b"%PDF-1.7 nothing", b"%PDF-1.4\n%%EOF",
     png_that_claims(60000, 60000), png_that_claims(300, 300),
     b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>", b"PK\x03\x04" + b"\0" * 100,
     b"GIF89a" + b"\xff" * 40, b"%!PS-Adobe-3.0 EPSF-3.0\n"],
)  # fmt: skip
def test_what_is_no_picture(data: bytes) -> None:
    with pytest.raises(BadInput):
        picture_from(data)


def test_uploads_are_shared_and_placed(server: Running, ann: httpx.Client) -> None:
    with server.socket(ann, "/api/jobs/small/live") as live:
        talker = Talker(live)
        talker.hear("snapshot")
        made = ann.post(PICTURES, params={"page": 2}, content=pdf()).json()
        assert {made["page"], made["pages"]} == {2}
        talker.hear("pictures")
        picture = made["picture"]
        place = {"storey": "g", "metres_per_px": 0.02, "x_m": 1.0, "turn_deg": 90}
        assert ann.put(f"{PICTURES}/{picture}/placement", json=place).status_code == 200
        (row,) = ann.get(PICTURES).json()
        assert row["placement"]["metres_per_px"] == 0.02
        got = ann.get(f"{PICTURES}/{picture}")
        assert got.headers["content-type"] in ("image/png", "image/jpeg")
        assert Image.open(io.BytesIO(got.content)).width == made["width_px"]
        assert (
            ann.put(f"{PICTURES}/{picture}/placement", json={**place, "metres_per_px": 0}).status_code == 422
        )
        assert ann.put(f"{PICTURES}/none/placement", json=place).status_code == 404
        assert ann.delete(f"{PICTURES}/{picture}").status_code == 200
        assert ann.get(f"{PICTURES}/{picture}").status_code == 404
        assert ann.get(PICTURES).json() == []


def test_uploads_that_are_refused(ann: httpx.Client) -> None:
    assert ann.post(PICTURES, content=b"hello").status_code == 422
    assert ann.post(PICTURES, params={"page": "x"}, content=pdf()).status_code == 422
    assert ann.post(PICTURES, content=b"\0" * 41_000_000).status_code == 413

    def endless() -> Iterator[bytes]:
        for _ in range(60):
            yield b"\0" * 1_000_000

    answer = ann.post(PICTURES, content=endless())
    assert answer.status_code == 413, "a body without an announced length is counted as it comes"


def test_uploads_wait_on_the_disk(server: Running, ann: httpx.Client) -> None:
    """Three models at once: what the server holds of them is little."""
    before_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    model = b"ISO-10303-21;\n" + b" " * 1_000_000
    codes: list[int] = []

    def send() -> None:
        def body() -> Iterator[bytes]:
            for _ in range(60):
                yield model
                time.sleep(0.001)

        codes.append(ann.post("/api/jobs/small/read", params={"kind": "ifc"}, content=body()).status_code)

    senders = [threading.Thread(target=send) for _ in range(3)]
    for sender in senders:
        sender.start()
    for sender in senders:
        sender.join()
    grown_mb = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before_kb) / 1024
    assert codes == [422] * 3
    assert grown_mb < 100, "before, the three were held in memory"


def test_more_than_is_taken_in_at_once(ann: httpx.Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rehaul.web.uploads.MOST_BYTES_AT_ONCE", 5_000_000)
    answer = ann.post(PICTURES, content=b"\0" * 6_000_000)
    assert (answer.status_code, answer.json()["code"]) == (429, "busy")
    assert ann.post(PICTURES, content=encoded(drawing(), "PNG")).status_code == 201, "its share is given back"


def test_a_photo_of_a_step_is_kept_apart_from_plans(ann: httpx.Client) -> None:
    taken = encoded(drawing(2400, 1600), "JPEG", exif=b"Exif\0\0secret place")
    photo = ann.post(f"{PICTURES}?step=photograph%201-03", content=taken).json()
    assert (photo["step"], photo["width_px"], photo["height_px"]) == ("photograph 1-03", 2048, 1365)
    listed = [row for row in ann.get(PICTURES).json() if row["step"]]
    assert [(row["picture"], row["placement"]) for row in listed] == [(photo["picture"], None)]
    assert b"secret" not in ann.get(f"{PICTURES}/{photo['picture']}").content
    assert ann.delete(f"{PICTURES}/{photo['picture']}").status_code == 200
    for bad in ("", "x" * 201, "a%0Ab"):
        refused = ann.post(f"{PICTURES}?step={bad}", content=taken)
        assert (refused.status_code, refused.json()["where"]) == (422, "step")


def test_photos_leave_room_for_plans(
    server: Running, ann: httpx.Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rehaul.jobs.pictures.MOST_PHOTOS", 1)
    small = encoded(drawing(), "PNG")
    photo = ann.post(f"{PICTURES}?step=one", content=small).json()["picture"]
    assert ann.post(f"{PICTURES}?step=two", content=small).status_code == 422
    plan = ann.post(PICTURES, content=small)
    assert plan.status_code == 201
    for picture in (photo, plan.json()["picture"]):
        ann.delete(f"{PICTURES}/{picture}")


def test_a_house_from_a_room_list(ann: httpx.Client) -> None:
    text = b"Kitchen 4.00 x 3.00\nStudy 3.00 x 3.00 right of Kitchen\n"
    answer = ann.post("/api/jobs/small/read", params={"kind": "rooms"}, content=text)
    assert answer.status_code == 200, answer.text
    assert [room["name"] for room in answer.json()["house"]["rooms"]] == ["Kitchen", "Study"]
    assert answer.json()["counts"]["rooms"] == 2
    assert ann.get("/api/jobs/small").json()["revision"] == 0, "nothing is saved by reading"


@pytest.mark.parametrize(
    ("kind", "data"),
    [("ifc", b"ISO-10303-21; nothing"), ("rooms", b"\0"), ("job", b"{"), ("../../x", b""), ("", b"x")],
)
def test_houses_that_cannot_be_read(ann: httpx.Client, kind: str, data: bytes) -> None:
    answer = ann.post("/api/jobs/small/read", params={"kind": kind}, content=data)
    assert answer.status_code == 422
    assert answer.json()["problem"]
    assert "/tmp" not in answer.text, "a path of the server is shown"
