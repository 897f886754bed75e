"""Small invented files of every kind that is read, for `tools/fuzz_readers.py` to spoil: tests/corpus.

python tools/write_fuzz_corpus.py
"""

from __future__ import annotations

import io
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "tests" / "unit" / "house"), str(ROOT / "tests")]
PLACE = ROOT / "tests" / "corpus"
ROOMS = """house Invented
outer brick-cavity 0.30
storey Ground, height 2.50
Living 4.20 x 5.10
Kitchen 3.10 x 5.10 right of Living, through 0.12
Hall 7.42 x 1.20 below Living
door Living - Kitchen 0.80 x 2.05, 1.20 along
window Living left 1.40 x 1.20, sill 0.90
storey Upper, height 8' 2"
Bed 14' 3" x 12' over Living
Well 1.00 x 2.40 right of Bed, void
open Bed - Well
"""
TABLE = """storey,height,room,width,length,place,outer,inner
Ground,2.50,Living,4.20,5.10,,brick-cavity 0.30,stud-plasterboard 0.12
,,Kitchen,3.10,5.10,right of Living,,
,,door Living - Kitchen,,,"0.80 x 2.05, 1.20 along",,
Upper,2.40,Bed,4.20,3.60,over Living,,
"""
WALK = """room\tdevice\tdown\tup\tsignal (dBm)\tband\ttime\tx\ty\tstorey\tnote
Parlour\tPhone\t118,5\t20 Mb/s\t-61\t5\t2026-03-01T10:00\t\t\t\t"one, two"
Kitchen\t\t1.2 Gb/s\t\t<-90\t2437 MHz\t14:30\t2\t3\t0\t
"""
VISIT = """room;down;delay;loaded_delay_ms;repeats;wired;stage;doors;height_m
Kitchen;80.5;0.2 s;80;3;no;after;shut;1.1
Hall;1 200;12;;1;yes;before;open;
"""


def house_files() -> dict[str, bytes]:
    from test_dxf_reader import two_rooms

    from conftest import Sketch  # of tests/unit/house
    from rehaul.house import dump_job
    from sample_house import job

    with tempfile.TemporaryDirectory() as folder:
        found = {"rooms.txt": ROOMS.encode(), "rooms.csv": TABLE.encode()}
        for schema in ("IFC4", "IFC2X3"):
            sketch = Sketch(Path(folder), schema=schema)
            ground = sketch.storey("Ground")
            wall = sketch.wall(ground, 5, 0.24, 2.5)
            sketch.fill(
                sketch.void(wall, [(0, 0), (0.9, 0), (0.9, 0.24), (0, 0.24)], 2.0, at=(1, 0, 0)), "IfcDoor"
            )
            floor = [(0, 0), (5, 0), (5, 4), (0, 4)]
            sketch.layers(wall, ("Brick", 0.12), ("Plaster", 0.02))
            sketch.thing("IfcSlab", ground, sketch.body(floor, 0.2), at=(0, 0, -0.2))
            sketch.thing("IfcSpace", ground, sketch.body(floor, 2.5), name="Living")
            found[f"{schema.lower()}.ifc"] = sketch.save().read_bytes()
        found["plan.dxf"] = without_tables(two_rooms().save(Path(folder)).read_bytes())
    found["job.json"] = dump_job(job()).encode()
    found |= {"walk.tsv": WALK.encode(), "visit.tsv": VISIT.encode()}
    return found


def without_tables(drawing: bytes) -> bytes:
    """Header and entities of a drawing alone: nearly all the rest is the same in every drawing."""
    text = drawing.decode().replace("\r\n", "\n")
    sections = text.split("  0\nSECTION\n")[1:]
    kept = [row for row in sections if row.startswith(("  2\nENTITIES", "  2\nHEADER"))]
    end = "  0\nEOF\n"
    return ("".join("  0\nSECTION\n" + row.split(end)[0] for row in kept) + end).encode()


def pictures() -> dict[str, bytes]:
    from PIL import Image

    image = Image.new("RGB", (60, 40), "white")
    image.paste((200, 0, 0), (10, 5, 30, 25))
    see_through = image.convert("RGBA")
    see_through.putalpha(128)
    exif = Image.Exif()
    exif[0x0112] = 6
    kinds = {
        "photo.jpg": (image, "JPEG", {"exif": exif}),
        "fine.jpg": (image, "JPEG", {"progressive": True}),
        "plan.png": (image, "PNG", {}),
        "clear.png": (see_through, "PNG", {}),
        "few.gif": (image.convert("P"), "GIF", {}),
        "plan.bmp": (image.resize((20, 12)), "BMP", {}),
        "plan.tiff": (image, "TIFF", {"compression": "tiff_lzw"}),
        "fax.tiff": (image.convert("1"), "TIFF", {"compression": "group4"}),
        "plan.webp": (image, "WEBP", {}),
        "plan.pdf": (image, "PDF", {}),
    }
    found = {}
    for name, (picture, kind, more) in kinds.items():
        out = io.BytesIO()
        picture.save(out, kind, **more)
        found[name] = out.getvalue()
    return found | {"lines.pdf": drawn_pdf()}


def drawn_pdf() -> bytes:
    """A page of lines and words, as a drawing program prints it."""
    drawn = b"1 w 20 20 260 160 re S 150 20 m 150 180 l S BT /F 12 Tf 30 100 Td (Living) Tj ET"
    used = b"<< /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> >>"
    parts = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 300 200] /Contents 4 0 R /Resources %s >>" % used,
        b"<< /Length %d >>\nstream\n%s\nendstream" % (len(drawn), drawn),
    ]
    body = b"".join(b"%d 0 obj\n%s\nendobj\n" % (n, part) for n, part in enumerate(parts, start=1))
    return b"%PDF-1.4\n" + body + b"trailer << /Size 5 /Root 1 0 R >>\n%%EOF\n"


def main() -> None:
    PLACE.mkdir(exist_ok=True)
    for name, data in sorted((house_files() | pictures()).items()):
        (PLACE / name).write_bytes(data)
        print(f"{name}: {len(data)} bytes")


if __name__ == "__main__":
    main()
