"""Digests that hold a log together: a flipped bit, a missing row or an older copy shows.

Every row has five digests of its own, of its label, changes, inverse, what was told and whose it is, and a
link: the digest of the link before it with all else that the row says. The link runs over the digests and not
over the texts, so a text may be taken away for good and the chain still holds. The newest link stands with
the job.

Each digest is taken with a salt of the row, one for the texts and one for the person. Where texts are erased
their salt goes with them: whoever guesses what stood there cannot try by the digest whether it is right. Rows
of format 2 have no salt, and the person stands in their link itself.
"""

from __future__ import annotations

import hashlib
import json
import secrets
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

GONE = ""  # stands for a text that was taken away; a text itself is never empty
ERASE = "erase"  # the way of a row that says that personal data were erased; what it says is never taken away
ERASED = "erased"  # stands where the name of a person, or words of theirs, stood
OF_FILE = "file-"  # how the id of an edit begins that came in from the job's file
OLD_PARTS = 4  # of a row of format 2


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
    parts: str  # digests of label, changes, inverse, told and person
    link: str
    salt: str = ""  # of the texts, a colon, of the person; each goes when what it is for is erased

    def texts(self) -> tuple[str, ...]:
        """Label, changes, inverse, what was told and the person, in the order of `parts`.

        The label gets a `=` before it, for an empty one and one that was taken away are not the same.
        """
        # a label may be empty without having been taken away
        return f"={self.label}", self.changes, self.inverse, self.told, self.person

    def digests(self) -> tuple[str, ...]:
        """The digests that `parts` should hold by what the row says now, in its order.

        Five of a row of this format; four, without the person, where the row has no salt of the person.
        **Source**: docs/sharing.md, "What was written is what is read": a chain of digests.
        """
        ours, colon, own = self.salt.partition(":")
        *texts, person = self.texts()
        return *(salted(ours, text) for text in texts), *((salted(own, person),) if colon else ())

    @property
    def has_kinds(self) -> bool:
        """Whether every value is of the kind that was written: a damaged one changes its type too."""
        counts = (self.revision, self.schema_version, 0 if self.undoes is None else self.undoes)
        others = (self.edit, self.at, self.way, self.digest, self.parts, self.link, self.salt, *self.texts())
        return all(type(one) is int for one in counts) and all(isinstance(one, str) for one in others)

    @property
    def label_erased(self) -> bool:
        """Whether the label went too, as when personal data are erased."""
        bare = all(text == GONE for text in (self.label, self.changes, self.inverse, self.told))
        return bare and self.parts.split(" ")[0] != self.digests()[0]

    @property
    def person_erased(self) -> bool:
        """Whether nothing says any more whose it was."""
        return self.person == GONE


def new_salt() -> str:
    """A salt for a row: 32 hexadecimal digits for its texts, a colon, 32 for its person.

    Drawn at random by the system (128 bits each), so nobody can try guesses of an erased text by its
    digest. **Source**: docs/security.md, "A household's data, erased for good": salts go, so that no guess
    can be tried.
    """
    return f"{secrets.token_hex(16)}:{secrets.token_hex(16)}"


def salted(salt: str, text: str) -> str:
    """The digest of a text taken with a salt; of the text alone where the salt is empty.

    An empty salt is that of a row of format 2, or of one whose salt went with its texts. **Source**:
    docs/sharing.md, "What was written is what is read": a chain of digests.
    """
    return digest_of(salt, text) if salt else digest_of(text)


def digest_of(*texts: str | bytes) -> str:
    """32 hexadecimal digits of texts in order; where one ends and the next begins counts.

    Each text goes in behind its length in bytes (8, largest first), so `"ab", "c"` is another than `"a",
    "bc"`. Half a character alone (a surrogate) counts as it is instead of being refused.

    **Source**: BLAKE2b with 16 bytes of digest (RFC 7693).

    >>> digest_of("ab", "c") == digest_of("a", "bc")
    False
    >>> len(digest_of("ab", b"c"))
    32
    """
    found = hashlib.blake2b(digest_size=16)
    for text in texts:
        data = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
        found.update(len(data).to_bytes(8, "big"))
        found.update(data)
    return found.hexdigest()


def first_link(job: str) -> str:
    """What the first row of a job continues: a digest of the job's id.

    So rows of one job never continue those of another, not even where both have the same edits. **Source**:
    docs/sharing.md, "What was written is what is read": a chain of digests.
    """
    return digest_of("a log of edits", job)


def link_of(before: str, row: RawRow) -> str:
    """The link of a row that continues the link `before`: a digest of that and of all that the row says.

    The texts count by their digests in `parts`, not as they stand, so texts that are taken away leave it as
    it is. Of a row of format 2 the person counts as such. **Source**: docs/sharing.md, "What was written is
    what is read": a chain of digests.
    """
    whose = () if len(row.parts.split(" ")) > OLD_PARTS else (row.person,)
    head = (row.revision, row.edit, *whose, row.at, row.way, row.undoes, row.digest, row.schema_version)
    return digest_of(before, json.dumps(head, ensure_ascii=True), row.parts)


def chained(row: RawRow, before: str) -> RawRow:
    """The row as it is put into a log behind the link `before`: with `parts` and `link` filled in.

    Whatever stood in those two is replaced. **Source**: docs/sharing.md, "What was written is what is read":
    a chain of digests.
    """
    kept = replace(row, parts=" ".join(row.digests()))
    return replace(kept, link=link_of(before, kept))


def whole(row: RawRow) -> bool:
    """Whether every value of a row is of its kind, and every text what its digests say, or taken away.

    Says nothing of the link: whether the row stands in its place is `first_broken`'s to say. A text that
    was taken away (`GONE`) counts as whole here; whether it might go is looked at by `jobs.integrity`.
    **Source**: docs/sharing.md, "What was written is what is read": a chain of digests.
    """
    if not row.has_kinds:
        return False
    kept, found = row.parts.split(" "), row.digests()
    return len(kept) == len(found) and all(
        text == GONE or now == before or (number == 0 and row.label_erased)
        for number, (text, now, before) in enumerate(zip(row.texts(), found, kept, strict=False))
    )


def first_broken(before: str, revision: int, rows: Iterable[RawRow]) -> tuple[int, str]:
    """The first revision that does not continue what stands before it, or 0, and the last link that holds.

    Parameters: `before`, the link of `revision`, after which `rows` come. **Source**: docs/sharing.md, "What
    was written is what is read": a chain of digests.
    """
    for row in rows:
        revision += 1
        if row.revision != revision or not whole(row) or row.link != link_of(before, row):
            return revision, before
        before = row.link
    return 0, before


def seal(*values: Any) -> str:
    """The digest of a row of a table that is no part of the chain, of its values in order.

    32 hexadecimal digits.

    Bytes and texts count as they are, numbers and None by their JSON. A seal shows what a fault of the disk
    altered; whoever writes the row on purpose can make another. **Source**: docs/sharing.md, "What was
    written is what is read": a chain of digests.
    """
    return digest_of(*map(_as_text, values))


def _as_text(value: Any) -> str | bytes:
    if isinstance(value, memoryview | bytearray):  # as some databases give bytes
        return bytes(value)
    return value if isinstance(value, str | bytes) else json.dumps(value)
