"""One job: its file, its log of edits, sharing it live, and bringing it up from earlier versions."""

from typing import TYPE_CHECKING

from rehaul.ondemand import named

if TYPE_CHECKING:
    from rehaul.house import migrate as migrate
    from rehaul.jobs.addresses import address_of as address_of
    from rehaul.jobs.beside import LogBeside as LogBeside
    from rehaul.jobs.beside import edit_job as edit_job
    from rehaul.jobs.beside import is_served as is_served
    from rehaul.jobs.beside import photos_beside as photos_beside
    from rehaul.jobs.beside import serving as serving
    from rehaul.jobs.current import current_job as current_job
    from rehaul.jobs.demo import demo_job as demo_job
    from rehaul.jobs.desk import Desk as Desk
    from rehaul.jobs.desk import FolderDesk as FolderDesk
    from rehaul.jobs.desk import StoreDesk as StoreDesk
    from rehaul.jobs.desk import open_desk as open_desk
    from rehaul.jobs.differences import difference as difference
    from rehaul.jobs.edits import Edit as Edit
    from rehaul.jobs.edits import edit_from_data as edit_from_data
    from rehaul.jobs.edits import free_id as free_id
    from rehaul.jobs.files import new_job_id as new_job_id
    from rehaul.jobs.files import open_job as open_job
    from rehaul.jobs.files import save_job as save_job
    from rehaul.jobs.happenings import Event as Event
    from rehaul.jobs.ledger import Ledger as Ledger
    from rehaul.jobs.ledger import Receipt as Receipt
    from rehaul.jobs.logs import log_path as log_path
    from rehaul.jobs.outputs import kept_copy as kept_copy
    from rehaul.jobs.outputs import refuse_existing as refuse_existing
    from rehaul.jobs.outputs import require_folder as require_folder
    from rehaul.jobs.outputs import write_folder as write_folder
    from rehaul.jobs.outputs import write_out as write_out
    from rehaul.jobs.people import Browser as Browser
    from rehaul.jobs.people import People as People
    from rehaul.jobs.people import good_name as good_name
    from rehaul.jobs.pictures import Shelf as Shelf
    from rehaul.jobs.sql import WantsPassword as WantsPassword
    from rehaul.jobs.sql import connect as connect
    from rehaul.jobs.state import JobState as JobState
    from rehaul.jobs.state import LogRow as LogRow
    from rehaul.jobs.state import dump_state as dump_state
    from rehaul.jobs.state import replay as replay
    from rehaul.jobs.store import Store as Store
    from rehaul.jobs.told import notice_again as notice_again
    from rehaul.jobs.trying import tried as tried
    from rehaul.saving import write_whole as write_whole

__getattr__ = named(
    __name__,
    {
        "rehaul.house": ("migrate",),
        "addresses": ("address_of",),
        "beside": ("LogBeside", "edit_job", "is_served", "photos_beside", "serving"),
        "current": ("current_job",),
        "demo": ("demo_job",),
        "desk": ("Desk", "FolderDesk", "StoreDesk", "open_desk"),
        "differences": ("difference",),
        "edits": ("Edit", "edit_from_data", "free_id"),
        "files": ("new_job_id", "open_job", "save_job"),
        "happenings": ("Event",),
        "ledger": ("Ledger", "Receipt"),
        "logs": ("log_path",),
        "outputs": ("kept_copy", "refuse_existing", "require_folder", "write_folder", "write_out"),
        "people": ("Browser", "People", "good_name"),
        "pictures": ("Shelf",),
        "sql": ("WantsPassword", "connect"),
        "state": ("JobState", "LogRow", "dump_state", "replay"),
        "store": ("Store",),
        "told": ("notice_again",),
        "trying": ("tried",),
        "rehaul.saving": ("write_whole",),
    },
)
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
