"""One job: its file, its log of edits, sharing it live, and bringing it up from earlier versions."""

from rehaul.jobs.files import open_job, save_job, write_whole
from rehaul.jobs.migration import migrate

__all__ = ["migrate", "open_job", "save_job", "write_whole"]
