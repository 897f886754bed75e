"""Processes that answer as no worker of ours would."""

from __future__ import annotations

import json
import pickle
from multiprocessing.connection import Connection
from pathlib import Path


class Runs:
    """Something that writes a file when it is taken for an object."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def __reduce__(self) -> tuple[object, tuple[Path, str]]:
        return Path.write_text, (self.path, "run")


def _path(pipe: Connection) -> Path:
    """Where to write, which the test says in the job's title."""
    asked = pipe.recv_bytes()
    return Path(json.loads(asked.partition(b"\n")[2])["title"])


def an_object(pipe: Connection, _: int) -> None:
    pipe.send_bytes(pickle.dumps(("done", Runs(_path(pipe)))))


def an_object_as_text(pipe: Connection, _: int) -> None:
    body = pickle.dumps(Runs(_path(pipe)))
    pipe.send_bytes(json.dumps({"kind": "done", "text_bytes": len(body)}).encode() + b"\n" + body)


def a_plan_without_maps(pipe: Connection, _: int) -> None:
    _path(pipe)
    storey = {"storey": "0", "x0_m": 0, "y0_m": 0, "step_m": 1, "z_m": 1, "rows": 9000, "cols": 9000}
    maps = {"bands": ["5"], "storeys": [storey]}
    text = json.dumps({"plan": {}, "radiators": [], "before": maps, "after": maps}).encode()
    pipe.send_bytes(json.dumps({"kind": "done", "text_bytes": len(text)}).encode() + b"\n" + text)


def a_head_without_end(pipe: Connection, _: int) -> None:
    _path(pipe)
    pipe.send_bytes(json.dumps({"kind": "progress", "words": "x" * 100_000}).encode())


def a_kind_of_its_own(pipe: Connection, _: int) -> None:
    _path(pipe)
    pipe.send_bytes(b'{"kind": "run", "text_bytes": 0}')


def a_path_for_a_paper(pipe: Connection, _: int) -> None:
    _path(pipe)
    text = b'{"../../quote.pdf": 4}'
    pipe.send_bytes(json.dumps({"kind": "done", "text_bytes": len(text)}).encode() + b"\n" + text + b"%PDF")
