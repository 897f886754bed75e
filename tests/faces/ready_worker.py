"""The process of a worker that finds its plans made: where pages or papers are the point, not planning."""

from __future__ import annotations

from multiprocessing.connection import Connection

import plans_once
import rehaul.planning
from rehaul.web.worker import serve_tasks as serve


def serve_tasks(pipe: Connection, memory_bytes: int) -> None:
    """As the server's own, but with the plans of this run: each is made by whoever asks first."""
    rehaul.planning.weigh = plans_once.made_weighed
    serve(pipe, memory_bytes)
