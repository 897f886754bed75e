"""One job: its file, its log of edits, sharing it live, and bringing it up from earlier versions."""

from rehaul.house import migrate
from rehaul.jobs.addresses import address_of
from rehaul.jobs.beside import (
    LogBeside,
    current_job,
    edit_job,
    is_served,
    photos_beside,
    serving,
)
from rehaul.jobs.demo import demo_job
from rehaul.jobs.desk import Desk, FolderDesk, StoreDesk, open_desk
from rehaul.jobs.differences import difference
from rehaul.jobs.edits import Edit, edit_from_data, free_id
from rehaul.jobs.files import new_job_id, open_job, save_job
from rehaul.jobs.happenings import Event
from rehaul.jobs.ledger import Ledger, Receipt
from rehaul.jobs.logs import log_path
from rehaul.jobs.outputs import kept_copy, refuse_existing, require_folder, write_folder, write_out
from rehaul.jobs.people import Browser, People, good_name
from rehaul.jobs.pictures import Shelf
from rehaul.jobs.sql import WantsPassword, connect
from rehaul.jobs.state import JobState, LogRow, dump_state, replay
from rehaul.jobs.store import Store
from rehaul.jobs.told import notice_again
from rehaul.jobs.trying import tried
from rehaul.saving import write_whole

__all__ = [
    "Browser",
    "Desk",
    "Edit",
    "Event",
    "FolderDesk",
    "JobState",
    "Ledger",
    "LogBeside",
    "LogRow",
    "People",
    "Receipt",
    "Shelf",
    "Store",
    "StoreDesk",
    "WantsPassword",
    "address_of",
    "connect",
    "current_job",
    "demo_job",
    "difference",
    "dump_state",
    "edit_from_data",
    "edit_job",
    "free_id",
    "good_name",
    "is_served",
    "kept_copy",
    "log_path",
    "migrate",
    "new_job_id",
    "notice_again",
    "open_desk",
    "open_job",
    "photos_beside",
    "refuse_existing",
    "replay",
    "require_folder",
    "save_job",
    "serving",
    "tried",
    "write_folder",
    "write_out",
    "write_whole",
]
