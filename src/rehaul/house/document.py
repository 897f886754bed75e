"""A job document from text and back: strict, with the path of the field at fault.

Nothing here touches a disk; `rehaul.jobs` does.
"""

from __future__ import annotations

import json
from typing import Any, TypeVar

from pydantic import ValidationError

from rehaul.errors import BadInput
from rehaul.house.base import Model
from rehaul.house.integrity import require_whole
from rehaul.house.job import SCHEMA_VERSION, Job
from rehaul.house.migration import migrate
from rehaul.printable import short
from rehaul.words import fault_words, say

ModelT = TypeVar("ModelT", bound=Model)
LARGEST_DOCUMENT_BYTES = 64 * 1024 * 1024


def parse_job(text: str | bytes, *, where: str = "job") -> Job:
    """The job in `text`, JSON as it is saved, of this schema version or an earlier one.

    `where` is what the text is called in refusals, such as the file's name. Raises BadInput, which names
    the field that is wrong and what to do, for anything that is not a whole job; nothing is mended.
    """
    return job_from_data(data_from_text(text, where=where), where=where)


def data_from_text(text: str | bytes, *, where: str = "job") -> dict[str, Any]:
    """The plain JSON data in `text`, of whatever schema version; its fields are not looked at.

    Raises BadInput for more than 64 MB, for what is not JSON or not one object, for a key that stands
    twice, for nesting that is too deep, and for numbers of thousands of digits. `where` as in `parse_job`.
    **Source**: docs/security.md, "Files of strangers, read apart".
    """
    if len(text) > LARGEST_DOCUMENT_BYTES:
        raise BadInput(
            say(
                "refused_house.document_too_large",
                size_mb=len(text) / 1e6,
                most_mb=LARGEST_DOCUMENT_BYTES / 1e6,
            ),
            where=where,
            remedy=say("refused_common.give_job_document_photos"),
        )
    try:
        data = json.loads(text, object_pairs_hook=_no_repeats)
    except UnicodeDecodeError:
        raise BadInput(
            say("refused_house.not_text_file"), where=where, remedy=say("refused_house.give_job_saved_as")
        ) from None
    except RecursionError:
        raise BadInput(
            say("refused_house.nested_too_deep"), where=where, remedy=say("refused_house.give_job_saved_as")
        ) from None
    except json.JSONDecodeError as error:
        raise BadInput(
            say(
                "refused_house.not_json_at_line",
                msg=error.msg.lower(),
                lineno=error.lineno,
                colno=error.colno,
            ),
            where=where,
            remedy=say("refused_house.file_may_cut_short"),
        ) from None
    except ValueError:  # Python reads no whole number of more than some thousand digits
        raise BadInput(
            say("refused_house.number_thousands_digits"),
            where=where,
            remedy=say("refused_house.give_job_saved_as"),
        ) from None
    if not isinstance(data, dict):
        raise BadInput(
            say("refused_house.not_job_document"), where=where, remedy=say("refused_house.give_job_saved_as")
        )
    return data


def job_from_data(data: dict[str, Any], *, where: str = "job") -> Job:
    """The job in plain JSON data, of this or an earlier schema version: every document comes in by here.

    `data` is left as it is. Raises BadInput, which names the path of the first field at fault, for an
    unknown version, a field that does not fit, and a broken rule of the whole document
    (`integrity.require_whole`). **Source**: docs/sharing.md, "Schema versions".
    """
    data = migrate(data)
    version = data.get("schema_version")
    if version is None:
        raise BadInput(
            say("refused_house.no_schema_version"), where=where, remedy=say("refused_house.give_job_saved_as")
        )
    if version != SCHEMA_VERSION or isinstance(version, bool):
        raise BadInput(
            say(
                "refused_house.schema_version_not_known",
                version=short(version),
                schema_version=SCHEMA_VERSION,
            ),
            where=f"{where}, schema_version",
            remedy=say("refused_house.open_newer_rehaul"),
        )
    try:
        job = Job.model_validate(data)
    except ValidationError as error:
        raise _first_fault(error, data, where) from None
    except RecursionError:
        raise BadInput(
            say("refused_house.nested_too_deep"), where=where, remedy=say("refused_house.give_job_saved_as")
        ) from None
    require_whole(job, where=where)
    return job


def thing_from(model: type[ModelT], fields: dict[str, Any], *, where: str) -> ModelT:
    """A thing of a job from fields as somebody said them, checked as in a document.

    `model` is its class, `where` what the fields are called in the refusal. Raises BadInput, which names
    the field at fault. Rules of the whole document are not looked at here.
    """
    try:
        return model.model_validate(fields)
    except ValidationError as error:
        raise _first_fault(error, fields, where) from None


def dump_job(job: Job) -> str:
    """The document as readable JSON: two-space indent, fields in model order, defaults left out.

    The text ends in a new line; `parse_job` gives the same job back. Equal jobs give equal texts.
    """
    data = job.model_dump(mode="json", exclude_defaults=True)
    ordered = {"schema_version": job.schema_version, **data}
    return json.dumps(ordered, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def whole_document(job: Job, *, where: str = "job") -> tuple[Job, bytes]:
    """The job as opening its document will give it, and the document in UTF-8: every writer asks here first.

    Raises BadInput for what would not open again.
    """
    try:
        document = dump_job(job).encode("utf-8")
    except ValueError as error:  # no number, or half a letter, which neither JSON nor UTF-8 holds
        raise BadInput(
            say("refused_house.no_document_can_hold_it", error=short(str(error), 120)),
            where=where,
            remedy=say("refused_common.leave_out"),
        ) from None
    return parse_job(document, where=where), document


def _first_fault(error: ValidationError, data: dict[str, Any], where: str) -> BadInput:
    faults = error.errors(include_url=False)
    first = faults[0]
    more = say("refused_house.and_more_faults", n=len(faults) - 1) if len(faults) > 1 else ""
    message = fault_words(first)
    shown = _shown(first.get("input"))
    return BadInput(
        say("refused_house.field_at_fault", message=message, shown=shown, more=more),
        where=say("refused_common.place_in", where=where, place=field_path(data, first["loc"])),
        remedy=say("refused_common.mend_field"),
    )


def _shown(value: object) -> str:
    if isinstance(value, str | int | float) or value is None:
        text = json.dumps(value)
        return say("refused_house.not_this", text=text) if len(text) <= 40 else ""
    return ""


def field_path(data: object, location: tuple[int | str, ...]) -> str:
    """The path of a field in plain data, with the id of each thing in a list that has one.

    `location` is the way there, names and indices, as pydantic gives it; where the data do not lead there
    the names alone are used. An empty way is `document`.

    >>> field_path({"runs": [{"id": "C01"}]}, ("runs", 0, "kind"))
    'runs[0] (C01).kind'
    """
    path = ""
    node = data
    for part in location:
        if isinstance(part, int):
            path += f"[{part}]"
            node = node[part] if isinstance(node, list | tuple) and part < len(node) else None
            if isinstance(node, dict) and isinstance(node.get("id"), str):
                path += f" ({short(node['id'])})"
        else:
            name = short(part)
            path += f".{name}" if path else name
            node = node.get(part) if isinstance(node, dict) else None
    return path or "document"


def _no_repeats(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    result = dict(pairs)
    if len(result) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise BadInput(
            say("refused_house.field_stands_twice", twice=short(repr(twice))),
            where="job",
            remedy=say("refused_house.keep_one_them"),
        )
    return result
