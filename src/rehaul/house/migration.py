"""From one schema version to the next: small functions on plain data, chained.

To change the schema: raise `SCHEMA_VERSION`, add `upgrade_from_N` to `UPGRADES` under the old
number, and keep a document of the old version in `tests/store/samples`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rehaul.house.job import SCHEMA_VERSION

Data = dict[str, Any]


def upgrade_from_1(data: Data) -> Data:
    """Data of version 1 as version 2 takes them: what version 1 did not ask is unknown, the fields' default.

    A new dictionary comes back; `schema_version` is left to `migrate`. **Source**: docs/sharing.md, "Schema
    versions".
    """
    return dict(data)


def upgrade_from_2(data: Data) -> Data:
    """Data of version 2 as version 3 takes them, which lets a floor lie in several parts.

    A floor's `outline` becomes the one part of `outlines`, which is empty where none was drawn. Data whose
    house or storeys are not what they should be pass through: they are refused when they are looked at.
    **Source**: docs/sharing.md, "Schema versions".
    """
    house = data.get("house")
    storeys = house.get("storeys") if isinstance(house, dict) else None
    if not isinstance(house, dict) or not isinstance(storeys, list):
        return dict(data)
    return {**data, "house": {**house, "storeys": [_with_outlines(storey) for storey in storeys]}}


def _with_outlines(storey: Any) -> Any:
    floor = storey.get("floor") if isinstance(storey, dict) else None
    if not isinstance(floor, dict) or "outline" not in floor:
        return storey
    rest = {name: value for name, value in floor.items() if name != "outline"}
    drawn = floor["outline"]
    return {**storey, "floor": {**rest, "outlines": [] if drawn is None else [drawn]}}


# from version N to N + 1
UPGRADES: Mapping[int, Callable[[Data], Data]] = {1: upgrade_from_1, 2: upgrade_from_2}


def migrate(
    data: Data,
    *,
    to: int = SCHEMA_VERSION,
    upgrades: Mapping[int, Callable[[Data], Data]] = UPGRADES,
) -> Data:
    """Data of an earlier schema version as data of version `to`.

    Data of that version, of a later one or of none is handed back as it is: saying what is wrong
    with it is the strict loader's work. **Source**: docs/sharing.md, "Schema versions".
    """
    version = data.get("schema_version")
    if not isinstance(version, int) or isinstance(version, bool):
        return data
    while version < to and version in upgrades:
        data = {**upgrades[version](data), "schema_version": version + 1}
        version += 1
    return data
