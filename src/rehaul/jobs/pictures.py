"""Pictures kept beside a job: plans, with where they lie on a sheet, and photos of steps of the work."""

from __future__ import annotations

import json
import secrets
from typing import Annotated, Any

from pydantic import Field, ValidationError

from rehaul.errors import BadInput, Refusal
from rehaul.house import Model
from rehaul.house.base import Coordinate
from rehaul.jobs.chain import seal
from rehaul.jobs.sql import damaged
from rehaul.jobs.store import Store
from rehaul.words import fault_words, say

MOST_PICTURES = 40  # of plans
MOST_PHOTOS = 400
LONGEST_STEP = 200  # characters of a step's key
SUFFIXES = {"image/jpeg": ".jpg", "image/png": ".png"}


class Placement(Model):
    """Where a picture lies: its lower left corner, its scale, and its turn about that corner."""

    storey: Annotated[str, Field(max_length=32)]
    metres_per_px: Annotated[float, Field(gt=0, le=10)]
    x_m: Coordinate = 0.0
    y_m: Coordinate = 0.0
    turn_deg: Annotated[float, Field(ge=-360, le=360)] = 0.0
    shown: bool = True


class NoPicture(Refusal):
    code = "absent"


class Shelf:
    """The pictures of one job."""

    def __init__(self, store: Store, job_id: str) -> None:
        self._store = store
        self._job = job_id

    def add(self, data: bytes, kind: str, about: dict[str, Any], step: str | None = None) -> str:
        """Keep a picture of a plan, or a photo of a step of the work; its id.

        Raises BadInput where there are many already, or the step has no fit key.
        """
        if step is not None and not (0 < len(step) <= LONGEST_STEP and step.isprintable()):
            raise BadInput(
                say("refused_jobs.not_key_step"), where="step", remedy=say("refused_jobs.send_task_plan")
            )
        with self._store.writing() as database:
            rows = database.run("SELECT about FROM picture WHERE job = %s", (self._job,))
            known = [json.loads(row[0]) for row in rows]
            alike = sum((one.get("step") is None) == (step is None) for one in known)
            if alike >= (MOST_PICTURES if step is None else MOST_PHOTOS):
                raise BadInput(
                    say("refused_jobs.too_many_pictures", alike=alike),
                    where="pictures",
                    remedy=say("refused_jobs.take_one_away_first"),
                )
            picture = secrets.token_hex(8)
            order = 1 + max((one["order"] for one in known), default=-1)
            kept = {"order": order, **about, "step": step, "placement": None}
            text = json.dumps(kept)
            database.run(
                "INSERT INTO picture VALUES (%s, %s, %s, %s, %s, %s)",
                (self._job, picture, kind, text, data, seal(self._job, picture, kind, text, data)),
            )
        return picture

    def list(self) -> list[dict[str, Any]]:
        """All pictures without their pixels, in the order they came: id, step of the work or None, placement.

        What else was said when a picture was added stands beside these.
        """
        rows = self._store.database.run("SELECT id, about FROM picture WHERE job = %s", (self._job,))
        found = [{"picture": picture, "step": None, **json.loads(about)} for picture, about in rows]
        found.sort(key=lambda row: (row.pop("order"), row["picture"]))
        return found

    def get(self, picture: str) -> tuple[bytes, str]:
        """Pixels as they were added, and their media type, such as `image/png`.

        Raises NoPicture where there is none of that id, Damaged where it is not what was kept.
        """
        rows = self._store.database.run(
            "SELECT type, about, body, seal FROM picture WHERE job = %s AND id = %s", (self._job, picture)
        )
        if not rows:
            raise _absent(picture)
        kind, about, body, kept = rows[0]
        if seal(self._job, picture, kind, about, body) != kept:
            raise damaged(self._store.where, say("refused_log.picture_not_kept", picture=picture))
        return bytes(body), str(kind)

    def photos(self) -> tuple[tuple[str, str, str], ...]:
        """Photos of steps, in the order they came: the picture's id, the step's key, a name for a file.

        Names are numbered from `photos/001` by the photos that are there now, with the ending of their
        kind.
        """
        rows = self._store.database.run("SELECT id, type FROM picture WHERE job = %s", (self._job,))
        kinds = {picture: str(kind) for picture, kind in rows}
        steps = [(row["picture"], row["step"]) for row in self.list() if row["step"] is not None]
        return tuple(
            (picture, str(step), f"photos/{number:03}{SUFFIXES.get(kinds.get(picture, ''), '.bin')}")
            for number, (picture, step) in enumerate(steps, start=1)
        )

    def place(self, picture: str, data: dict[str, Any]) -> dict[str, Any]:
        """Say where a picture lies (`Placement`: metres, degrees); what `list` says of it from now on.

        On the disk when it returns. Of two who place it at once the last word stands; nobody is told.
        Raises BadInput naming the field, NoPicture, CannotSave.
        """
        try:
            placement = Placement.model_validate(data)
        except ValidationError as error:
            first = error.errors(include_url=False)[0]
            where = ".".join(str(part) for part in first["loc"]) or "placement"
            raise BadInput(fault_words(first), where=where, remedy=say("refused_common.mend_field")) from None
        with self._store.writing() as database:
            rows = database.run(
                "SELECT type, about, body FROM picture WHERE job = %s AND id = %s", (self._job, picture)
            )
            if not rows:
                raise _absent(picture)
            kind, before, body = rows[0]
            about = {**json.loads(before), "placement": placement.model_dump(mode="json")}
            text = json.dumps(about)
            database.run(
                "UPDATE picture SET about = %s, seal = %s WHERE job = %s AND id = %s",
                (text, seal(self._job, picture, kind, text, body), self._job, picture),
            )
        return {"picture": picture, **{name: value for name, value in about.items() if name != "order"}}

    def drop(self, picture: str) -> None:
        """Take a picture away for good: there is no undo. Raises NoPicture where there is none, CannotSave.

        On the disk when it returns; its pixels may stay in freed pages until `Database.scrub`.
        """
        with self._store.writing() as database:
            if not database.count("DELETE FROM picture WHERE job = %s AND id = %s", (self._job, picture)):
                raise _absent(picture)


def _absent(picture: str) -> NoPicture:
    return NoPicture(
        say("refused_jobs.no_picture", picture=picture[:40]),
        where="pictures",
        remedy=say("refused_jobs.look_at_list"),
    )
