"""What is looked at in the bytes of a building model before it is parsed."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.errors import BadInput
from rehaul.house.readers.ifc import model_file
from rehaul.house.readers.ifc.model_file import open_model

FIRST, LAST = "ISO-10303-21;\n", "END-ISO-10303-21;\n"
SCHEMA = (
    "HEADER;\nFILE_SCHEMA(('IFC1'));\nENDSEC;\n"  # one that is not read: refused by its name, after all else
)


def refused(tmp_path: Path, text: str | bytes) -> str:
    path = tmp_path / "house.ifc"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(BadInput) as caught:
        open_model(path)
    assert caught.value.where == "house.ifc"
    return str(caught.value.problem)


def test_a_whole_model_whose_header_names_no_schema(tmp_path: Path) -> None:
    assert "names no schema" in refused(tmp_path, f"{FIRST}HEADER;\nENDSEC;\n{LAST}")
    assert "names no schema" in refused(tmp_path, f"{FIRST}FILE_SCHEMA(());\n{LAST}")


def test_a_schema_is_read_however_it_is_written(tmp_path: Path) -> None:
    for header in ("FILE_SCHEMA(('ifc1'))", "file_schema ( ( 'IFC1' ) )", "FILE_SCHEMA\n(('Ifc1','IFC4'))"):
        assert "IFC1" in refused(tmp_path, f"{FIRST}{header};\n{LAST}")


def test_marks_and_blanks_before_the_beginning_do_not_count(tmp_path: Path) -> None:
    assert "IFC1" in refused(tmp_path, b"\xef\xbb\xbf\r\n\t " + f"{FIRST}{SCHEMA}{LAST}".encode())
    assert "not an IFC model" in refused(tmp_path, f"x{FIRST}{SCHEMA}{LAST}")
    assert "not an IFC model" in refused(tmp_path, "")


def test_the_end_stands_in_the_last_four_kibibytes(tmp_path: Path) -> None:
    body = f"{FIRST}{SCHEMA}{' ' * 5000}"
    fits = 4096 - len(LAST)
    assert "IFC1" in refused(tmp_path, body + LAST + "\n" * fits)
    assert "cut short" in refused(tmp_path, body + LAST + "\n" * (fits + 1))
    assert "cut short" in refused(tmp_path, body)


def test_the_header_stands_in_the_first_sixty_four_kibibytes(tmp_path: Path) -> None:
    named = "FILE_SCHEMA(('IFC1'"  # as far as it has to be there
    fits = 65536 - len(FIRST) - len(named)
    assert "IFC1" in refused(tmp_path, f"{FIRST}{' ' * fits}{named}));\n{LAST}")
    assert "names no schema" in refused(tmp_path, f"{FIRST}{' ' * (fits + 1)}{named}));\n{LAST}")


def test_a_model_may_be_as_large_as_the_most(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert model_file.LARGEST_MODEL_BYTES == 419_430_400
    text = f"{FIRST}{SCHEMA}"
    monkeypatch.setattr(model_file, "LARGEST_MODEL_BYTES", 2_600_000)
    assert "IFC1" in refused(tmp_path, text.ljust(2_600_000 - len(LAST)) + LAST)
    too_large = refused(tmp_path, text.ljust(2_600_001 - len(LAST)) + LAST)
    assert too_large == "the model is 3 MB; the most is 3 MB"
