"""Pictures of plans kept beside a job: pixels, and where they lie on a storey's sheet."""

from __future__ import annotations

import json
import secrets
from typing import Annotated, Any

from pydantic import Field, ValidationError

from rehaul.errors import BadInput, Refusal
from rehaul.house import Model
from rehaul.house.base import Coordinate
from rehaul.jobs.store import Store

MOST_PICTURES = 40


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

    def add(self, data: bytes, kind: str, about: dict[str, Any]) -> str:
        """Keep a picture; its id. Raises BadInput where there are many already."""
        with self._store.writing() as database:
            count = database.run("SELECT COUNT(*) FROM picture WHERE job = %s", (self._job,))[0][0]
            if count >= MOST_PICTURES:
                raise BadInput(
                    f"there are {count} pictures already", where="pictures", remedy="Take one away first"
                )
            picture = secrets.token_hex(8)
            database.run(
                "INSERT INTO picture VALUES (%s, %s, %s, %s, %s)",
                (self._job, picture, kind, json.dumps({"order": count, **about, "placement": None}), data),
            )
        return picture

    def list(self) -> list[dict[str, Any]]:
        """All pictures without their pixels, in the order they came."""
        rows = self._store.database.run("SELECT id, about FROM picture WHERE job = %s", (self._job,))
        found = [{"picture": picture, **json.loads(about)} for picture, about in rows]
        found.sort(key=lambda row: (row.pop("order"), row["picture"]))
        return found

    def get(self, picture: str) -> tuple[bytes, str]:
        """Pixels and media type."""
        rows = self._store.database.run(
            "SELECT body, type FROM picture WHERE job = %s AND id = %s", (self._job, picture)
        )
        if not rows:
            raise _absent(picture)
        return bytes(rows[0][0]), str(rows[0][1])

    def place(self, picture: str, data: dict[str, Any]) -> dict[str, Any]:
        """Say where it lies. The last word stands."""
        try:
            placement = Placement.model_validate(data)
        except ValidationError as error:
            first = error.errors(include_url=False)[0]
            where = ".".join(str(part) for part in first["loc"]) or "placement"
            raise BadInput(str(first["msg"]), where=where, remedy="Mend that field") from None
        with self._store.writing() as database:
            rows = database.run("SELECT about FROM picture WHERE job = %s AND id = %s", (self._job, picture))
            if not rows:
                raise _absent(picture)
            about = {**json.loads(rows[0][0]), "placement": placement.model_dump(mode="json")}
            database.run(
                "UPDATE picture SET about = %s WHERE job = %s AND id = %s",
                (json.dumps(about), self._job, picture),
            )
        return {"picture": picture, **{name: value for name, value in about.items() if name != "order"}}

    def drop(self, picture: str) -> None:
        with self._store.writing() as database:
            if not database.count("DELETE FROM picture WHERE job = %s AND id = %s", (self._job, picture)):
                raise _absent(picture)


def _absent(picture: str) -> NoPicture:
    return NoPicture(f"there is no picture {picture[:40]!r}", where="pictures", remedy="Look at the list")
