"""One file read in a process of its own; what comes back is plain data that is looked at first.

A fresh interpreter, not a copy of this process: nothing of it is there to be read or broken. The answer
is one line of JSON, then text, then bytes, bounded in size; nothing in it can be run.
"""

from __future__ import annotations

import json
import logging
import os
import subprocess
import sys
import threading
import time
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from rehaul.apart.limits import Limits, size_words
from rehaul.errors import BadInput, Refusal
from rehaul.words import say
from rehaul.words.fields import Words

LONGEST_HEAD = 80_000
PACKAGE_ROOT = Path(__file__).resolve().parents[2]
STOPPED = "refused_common.reader_stopped"
OF_A_FILE = "refused_common.save_again_export_anew"
CODE = "import json,sys; sys.path[:]=json.loads(sys.argv[1]); from rehaul.apart.inside import main; main()"
# One pool of memory for all threads, so that address space is what is used.
ENVIRONMENT = {"MALLOC_ARENA_MAX": "1", "OPENBLAS_NUM_THREADS": "1", "LC_ALL": "C.UTF-8"}
# Libraries ask for a home folder, and a user of a container may have none: one that holds nothing.
ENVIRONMENT |= {"HOME": os.devnull, "USERPROFILE": os.devnull}
# Without these some systems find no libraries and no place for what is temporary.
KEPT = ("SYSTEMROOT", "SYSTEMDRIVE", "TEMP", "TMP", "LD_LIBRARY_PATH", "DYLD_LIBRARY_PATH")
log = logging.getLogger("rehaul.apart")


class Gone(BadInput):
    """The reader did not live to answer: it was killed, crashed, or said something that is no answer."""


@dataclass(frozen=True)
class Told:
    """An answer: JSON that nobody has looked at yet, and bytes."""

    text: bytes
    beside: bytes
    walls: tuple[str, ...]  # what the system held it in with


class _Head(BaseModel):
    """The first line of an answer."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)

    kind: Literal["done", "refused", "memory", "fault"]
    walls: Annotated[list[Literal["files", "calls"]], Field(max_length=2)] = []
    text_bytes: Annotated[int, Field(ge=0)]
    beside_bytes: Annotated[int, Field(ge=0)]
    code: Annotated[str, Field(max_length=40)] = ""
    problem: Annotated[Words, Field(max_length=2000)] = ""
    where: Annotated[Words, Field(max_length=1000)] = ""
    remedy: Annotated[Words, Field(max_length=1000)] = ""
    source: Annotated[str, Field(max_length=400)] = ""
    detail: Annotated[str, Field(max_length=10_000)] = ""


def run_apart(
    task: str,
    file: Path,
    arguments: Mapping[str, Any] | None = None,
    *,
    limits: Limits,
    where: str = "",
    stop: threading.Event | None = None,
    readable: Sequence[Path] = (),
) -> Told:
    """What `module:function` of a file is, worked out where it can do no harm.

    It may read `readable` besides.

    Raises what it refused; Gone, in one sentence, where it was given up or did not live to answer.
    **Source**: docs/security.md, "Files of strangers, read apart".
    """
    where = where or file.name
    question = {
        "task": task,
        "file": str(file.absolute()),
        "arguments": dict(arguments or {}),
        "limits": asdict(limits),
        "readable": [str(path.absolute()) for path in (file, *readable)],
    }
    process = _start(json.dumps(question).encode() + b"\n")
    try:
        said = _hear(process, limits, stop, where)
    finally:
        process.kill()
        ended = process.wait()
    return _answer(said, ended, limits, where)


def _start(question: bytes) -> subprocess.Popen[bytes]:
    environment = {name: os.environ[name] for name in KEPT if name in os.environ} | ENVIRONMENT
    paths = [str(PACKAGE_ROOT), *(path for path in sys.path if path and path != str(PACKAGE_ROOT))]
    process = subprocess.Popen(
        [sys.executable, "-I", "-B", "-X", "utf8", "-c", CODE, json.dumps(paths)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=environment,
        start_new_session=True,  # Ctrl+C is for us, who end it
    )
    assert process.stdin is not None
    try:
        process.stdin.write(question)
        process.stdin.close()
    except OSError:
        pass  # it is gone already; what it said will show that
    return process


def _hear(
    process: subprocess.Popen[bytes], limits: Limits, stop: threading.Event | None, where: str
) -> bytes:
    """All that it says, up to one byte more than it may."""
    most, said = LONGEST_HEAD + limits.answer_bytes, [b""]
    pipe = process.stdout
    assert pipe is not None

    def listen() -> None:
        said[0] = pipe.read(most + 1)

    listener = threading.Thread(target=listen, daemon=True)
    listener.start()
    until_s = time.monotonic() + limits.seconds
    while listener.is_alive():
        listener.join(0.1)
        if time.monotonic() > until_s and listener.is_alive():
            raise _gone(say("refused_common.file_given_up_took", seconds=limits.seconds), where)
        if stop is not None and stop.is_set():
            raise _gone(say("refused_common.file_given_up_stopped"), where)
    if len(said[0]) > most:
        raise _gone(say("refused_common.file_given_up_holds"), where)
    return said[0]


def _answer(said: bytes, ended: int, limits: Limits, where: str) -> Told:
    line, _, rest = said.partition(b"\n")
    try:
        head = _Head.model_validate_json(line if len(line) <= LONGEST_HEAD else b"")
    except ValidationError:
        log.warning("the reader of %s ended with %s and no answer", where, ended)
        raise _gone(say(STOPPED), where) from None
    if head.kind == "refused":
        family = BadInput if head.code == BadInput.code else Refusal
        raise family(head.problem, where=head.where, remedy=head.remedy, source=head.source, code=head.code)
    if head.kind == "memory":
        raise _gone(
            say("refused_common.reading_takes_more_than", size=size_words(limits.memory_bytes)), where
        )
    if head.kind == "fault":
        log.warning("the reader of %s came upon a bug:\n%s", where, head.detail)
        raise _gone(say("refused_common.file_made_no_sense"), where)
    if len(rest) != head.text_bytes + head.beside_bytes:
        raise _gone(say(STOPPED), where)
    return Told(rest[: head.text_bytes], rest[head.text_bytes :], tuple(head.walls))


def answered_as(answer: type[BaseModel], text: bytes, where: str) -> Any:
    """The answer of a process apart as what it ought to be; one that is not was not made by our own code.

    `text` is JSON that nobody has looked at; `where` names the file for people. Raises Gone, a BadInput,
    where it does not fit. **Source**: docs/security.md, "Files of strangers, read apart".
    """
    try:
        return answer.model_validate_json(text)
    except ValidationError:
        raise _gone(say(STOPPED), where) from None


def _gone(problem: str, where: str) -> Gone:
    return Gone(problem, where=where, remedy=say(OF_A_FILE))
