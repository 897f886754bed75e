"""Digests that hold a log together: a flipped bit, a missing row or an older copy shows.

Every row has four digests of its own, of its label, changes, inverse and what was told, and a link: the
digest of the link before it with all else that the row says. The link runs over the digests and not over the
texts, so a text may be taken away for good and the chain still holds. The newest link stands with the job.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

GONE = ""  # stands for a text that was taken away; a text itself is never empty


@dataclass(frozen=True)
class RawRow:
    """A row as it stands in the database, not yet read."""

    revision: int
    edit: str
    person: str
    at: str
    label: str
    way: str
    undoes: int | None
    changes: str
    inverse: str
    told: str
    digest: str
    schema_version: int
    parts: str  # digests of label, changes, inverse and told
    link: str

    def texts(self) -> tuple[str, ...]:
        """What the parts are digests of."""
        return f"={self.label}", self.changes, self.inverse, self.told  # a label may be empty, and stays


def digest_of(*texts: str | bytes) -> str:
    """32 hexadecimal digits of texts in order; where one ends and the next begins counts."""
    found = hashlib.blake2b(digest_size=16)
    for text in texts:
        data = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
        found.update(len(data).to_bytes(8, "big"))
        found.update(data)
    return found.hexdigest()


def first_link(job: str) -> str:
    """What the first row of a job continues."""
    return digest_of("a log of edits", job)


def parts_of(texts: Sequence[str]) -> str:
    """Digests of a row's texts."""
    return " ".join(digest_of(text) for text in texts)


def link_of(before: str, row: RawRow) -> str:
    """The link of a row that continues `before`."""
    head = (row.revision, row.edit, row.person, row.at, row.way, row.undoes, row.digest, row.schema_version)
    return digest_of(before, json.dumps(head, ensure_ascii=True), row.parts)


def chained(row: RawRow, before: str) -> RawRow:
    """The row with its digests, continuing `before`."""
    kept = replace(row, parts=parts_of(row.texts()))
    return replace(kept, link=link_of(before, kept))


def whole(row: RawRow) -> bool:
    """Whether every text of a row is what its digests say, or was taken away."""
    kept, texts = row.parts.split(" "), row.texts()
    return len(kept) == len(texts) and all(
        text == GONE or digest_of(text) == digest for text, digest in zip(texts, kept, strict=True)
    )


def first_broken(before: str, revision: int, rows: Iterable[RawRow]) -> tuple[int, str]:
    """The first revision that does not continue what stands before it, or 0, and the last link that holds.

    Parameters: `before`, the link of `revision`, after which `rows` come.
    """
    for row in rows:
        revision += 1
        if row.revision != revision or not whole(row) or row.link != link_of(before, row):
            return revision, before
        before = row.link
    return 0, before


def seal(*values: Any) -> str:
    """The digest of a row of a table that is no part of the chain."""
    return digest_of(*map(_as_text, values))


def _as_text(value: Any) -> str | bytes:
    if isinstance(value, memoryview | bytearray):  # as some databases give bytes
        return bytes(value)
    return value if isinstance(value, str | bytes) else json.dumps(value)
