"""Names of classes that no table holds: a slip of the pen, and a box counts as having no radio."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator

from rehaul.facts.equipment import equipment
from rehaul.facts.wlan_equipment import access_point_radios, client_radios, room_needs
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.called import called
from rehaul.house.job import Job
from rehaul.words import Saying, say

MOST_SHOWN = 6


def name_findings(job: Job) -> Iterator[Finding]:
    """Boxes, devices and needs that name a class or a use which is not in its table; one finding for each.

    Each proposes the names that come nearest. **Source**: the fact tables `equipment`,
    `access_point_radios`, `client_radios` and `room_needs`.
    """
    boxes = {*equipment(), *(name for name, _ in access_point_radios())}
    for box in job.boxes:
        if box.equipment not in boxes:
            yield Finding(
                code="equipment-unknown",
                severity=Severity.SERIOUS,
                where=(box.id,),
                sentence=say("findings.equipment_unknown", name=box.name, equipment=box.equipment),
                proposed_fix=_instead(box.equipment, boxes),
            )
    clients = {name for name, _ in client_radios()}
    named = [(device.id, device.name, device.client) for device in job.devices]
    named += [
        (need.id, say("findings.device_of_need", need=called(job, need.id)), need.client)
        for need in job.needs
        if need.client
    ]
    for thing, who, client in named:
        if client not in clients:
            yield Finding(
                code="client-unknown",
                severity=Severity.SERIOUS,
                where=(thing,),
                sentence=say("findings.client_unknown", who=who, client=client),
                proposed_fix=_instead(client, clients),
            )
    for need in job.needs:
        for use in need.uses:
            if use not in room_needs():
                yield Finding(
                    code="use-unknown",
                    severity=Severity.SERIOUS,
                    where=(need.id,),
                    sentence=say("findings.use_unknown", need=called(job, need.id), use=use),
                    proposed_fix=_instead(use, room_needs()),
                )


def _instead(name: str, known: Iterable[str]) -> Saying:
    """The nearest name, or the first few."""
    near = difflib.get_close_matches(name, sorted(known), cutoff=0.5)
    if near:
        return say("fixes.write_the_nearest", nearest=near[0])
    return say("fixes.name_of_the_table", some=sorted(known)[:MOST_SHOWN])
