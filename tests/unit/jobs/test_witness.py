"""What is kept beside a log of how far it had come: of two writers the higher, and nothing of a torn file."""

from __future__ import annotations

import json
import os
import threading
from pathlib import Path

import pytest

from rehaul.jobs.chain import digest_of
from rehaul.jobs.witness import Witness


@pytest.fixture
def witness(tmp_path: Path) -> Witness:
    return Witness(tmp_path / "newest")


def test_the_highest_revision_of_every_job_is_kept(witness: Witness) -> None:
    assert witness.heads() == {}
    witness.saw("attic", 0, "first")  # the very first counts as well
    assert witness.heads() == {"attic": (0, "first")}
    for revision, link in ((7, "seven"), (7, "another seven"), (6, "six")):
        witness.saw("attic", revision, link)
    witness.saw("cellar", 2, "two")
    assert witness.heads() == {"attic": (7, "seven"), "cellar": (2, "two")}
    assert Witness(witness.path).heads() == witness.heads()


def test_after_a_repair_lower_revisions_count_and_jobs_not_named_are_forgotten(witness: Witness) -> None:
    witness.saw("attic", 1234567890, "a long line, of which nothing may be left over" * 9)
    witness.saw("cellar", 2, "two")
    witness.reset({"attic": (3, "three")})
    assert witness.heads() == {"attic": (3, "three")}
    os.unlink(witness.path)  # noqa: PTH108
    witness.reset({"attic": (4, "four")})
    assert witness.heads() == {"attic": (4, "four")}
    if os.name != "nt":
        assert witness.path.stat().st_mode & 0o777 == 0o600
    witness.saw("attic", 5, "five")  # the lock was let go
    assert witness.heads() == {"attic": (5, "five")}


def test_it_is_one_line_of_json_behind_its_digest_for_its_owner_alone(witness: Witness) -> None:
    witness.saw("kött", 5, "link")
    text = witness.path.read_text(encoding="ascii")
    digest, body = text.rstrip("\n").split(" ", 1)
    assert json.loads(body) == {"kött": [5, "link"]} and digest == digest_of(body) and text.endswith("\n")
    if os.name != "nt":
        assert witness.path.stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("torn", [b"", b"\n", b"no digest", b"0" * 64 + b' {"attic": [9, "x"]}', b"\xff\xfe"])
def test_of_a_torn_file_nothing_is_believed(witness: Witness, torn: bytes) -> None:
    witness.path.write_bytes(torn)
    assert witness.heads() == {}
    witness.saw("attic", 1, "one")
    assert witness.heads() == {"attic": (1, "one")}


def test_where_it_cannot_be_written_nothing_is_raised(tmp_path: Path) -> None:
    witness = Witness(tmp_path / "nowhere" / "newest")
    witness.saw("attic", 1, "one")
    witness.reset({})
    assert witness.heads() == {}


@pytest.mark.skipif(os.name == "nt", reason="there is no such lock")
@pytest.mark.parametrize("reset", [False, True])
def test_a_writer_waits_until_the_other_has_written(witness: Witness, reset: bool) -> None:
    import fcntl

    witness.saw("attic", 1, "one")
    change = {
        True: lambda: witness.reset({"attic": (5, "five")}),
        False: lambda: witness.saw("attic", 5, "five"),
    }
    with witness.path.open("rb") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        writing = threading.Thread(target=change[reset], daemon=True)
        writing.start()
        writing.join(0.3)
        assert writing.is_alive() and witness.heads() == {"attic": (1, "one")}
    writing.join(20)
    assert not writing.is_alive() and witness.heads() == {"attic": (5, "five")}
