"""Opening an IFC file: looked at before it is parsed, so that a poor file is refused in one sentence."""

from __future__ import annotations

import re
from pathlib import Path

import ifcopenshell

from rehaul.errors import BadInput
from rehaul.printable import short
from rehaul.words import say

LARGEST_MODEL_BYTES = 400 * 1024 * 1024
FIRST_MARK = b"ISO-10303-21"
LAST_MARK = b"END-ISO-10303-21"
_SCHEMA = re.compile(rb"FILE_SCHEMA\s*\(\s*\(\s*'([^']*)'", re.IGNORECASE)
_READABLE = ("IFC2X3", "IFC4", "IFC4X3")


def open_model(path: Path) -> tuple[ifcopenshell.file, int]:
    """The parsed model, and how many places in it could not be parsed.

    Raises BadInput for a file that is not IFC, is cut short or of a schema that is not read. **Source**:
    docs/readers.md, "A building model (IFC)".
    """
    schema = _require_whole_file(path)
    if not schema.startswith(_READABLE):
        raise BadInput(
            say("refused_house.schema_not_read", schema=short(schema)),
            where=path.name,
            remedy=say("refused_house.export_again_as_ifc2x3"),
        )
    ifcopenshell.get_log()  # what earlier readings left there
    try:
        model = ifcopenshell.open(str(path))
    except (ifcopenshell.Error, RuntimeError, OSError) as error:
        raise BadInput(
            say("refused_house.model_cannot_be_parsed", error=str(error).splitlines()[0][:80].lower()),
            where=path.name,
            remedy=say("refused_house.export_again_as_ifc2x3"),
        ) from None
    faults = sum(line.startswith("[error]") for line in ifcopenshell.get_log().splitlines())
    return model, faults


def _require_whole_file(path: Path) -> str:
    """The schema named in the header of a file that starts and ends as IFC does."""
    size = path.stat().st_size
    if size > LARGEST_MODEL_BYTES:
        raise BadInput(
            say(
                "refused_house.model_too_large",
                size_mb=size / 1e6,
                most_mb=LARGEST_MODEL_BYTES / 1e6,
            ),
            where=path.name,
            remedy=say("refused_house.export_building_alone_without"),
        )
    with path.open("rb") as file:
        head = file.read(65536)
        file.seek(max(0, size - 4096))
        tail = file.read()
    if not head.lstrip(b"\xef\xbb\xbf \r\n\t").startswith(FIRST_MARK):
        raise BadInput(
            say("refused_house.not_ifc_model"),
            where=path.name,
            remedy=say("refused_house.export_as_ifc2x3_ifc4"),
        )
    found = _SCHEMA.search(head)
    if not found:
        raise BadInput(
            say("refused_house.ifc_header_names_no"),
            where=path.name,
            remedy=say("refused_house.file_may_cut_short_take"),
        )
    if LAST_MARK not in tail:
        raise BadInput(
            say("refused_house.model_cut_short_end"),
            where=path.name,
            remedy=say("refused_house.take_last_good_copy_export"),
        )
    return found.group(1).decode("ascii", "replace").upper()
