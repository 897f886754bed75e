"""The inside of the door: one question in, one answer out, then the process ends."""

from __future__ import annotations

import importlib
import json
import os
import sys
import traceback
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, TypeAlias

from rehaul.apart.limits import Limits, hold
from rehaul.apart.walls import close_in
from rehaul.errors import Refusal
from rehaul.words import as_data

LONGEST_DETAIL = 8000
Result: TypeAlias = tuple[str, bytes]  # JSON of the answer, and bytes that go beside it
Work: TypeAlias = Callable[[Path, Mapping[str, Any]], Result]


def main() -> None:
    """Answer the question on standard input, then end the process.

    The question is a line of JSON (`task`, `file`, `arguments`, `readable`, `limits`), the answer a line of
    JSON and what it announces. Limits and walls are set before the file is opened, and nothing that a
    library prints gets into the answer. Does not return. **Source**: docs/security.md, "Files of strangers,
    read apart".
    """
    question = json.loads(sys.stdin.buffer.readline())
    answer = os.fdopen(os.dup(1), "wb")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    hold(Limits(**question["limits"]))
    file = Path(question["file"])
    walls = close_in([Path(path) for path in question["readable"]])
    head, text, beside = answer_to(question["task"], file, question["arguments"])
    row = {**head, "walls": walls, "text_bytes": len(text), "beside_bytes": len(beside)}
    answer.write(json.dumps(row).encode() + b"\n" + text + beside)
    answer.flush()
    os._exit(0)  # what was read may have left libraries in no state to tidy up after themselves


def answer_to(task: str, file: Path, arguments: Mapping[str, Any]) -> tuple[dict[str, Any], bytes, bytes]:
    """How a task on a file went, the answer's text, and the bytes beside it.

    `task` is `module:function`, which takes the file and the arguments. The first part says `done`, or why
    not: `refused` with the refusal's words, `memory`, or `fault` with the end of its trace; then the rest
    is empty. Raises nothing that the task raises. **Source**: docs/security.md, "Files of strangers, read
    apart".
    """
    try:
        module, _, name = task.partition(":")
        work: Work = getattr(importlib.import_module(module), name)
        text, beside = work(file, arguments)
        return {"kind": "done"}, text.encode(), beside
    except Refusal as refusal:
        return {"kind": "refused", **as_data(refusal.as_dict())}, b"", b""
    except MemoryError:
        return {"kind": "memory"}, b"", b""
    except Exception:  # a stranger's file found a bug: it ends this reading and nothing else
        return {"kind": "fault", "detail": traceback.format_exc()[-LONGEST_DETAIL:]}, b"", b""
