"""What a choice comes to once it is built: network, channels, and what the rooms then get."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rehaul.design.after import graph_after
from rehaul.design.channels import channel_plan, with_widths
from rehaul.design.choosing import Chosen
from rehaul.design.devices import with_new_radios
from rehaul.design.results import ChannelPlan, Choice, RoomChance, SetBox
from rehaul.design.serving import wired_as
from rehaul.design.settings import wider_only
from rehaul.house import Job
from rehaul.network import Graph
from rehaul.planning.survey import Survey
from rehaul.predict import Coverage, Radiator


@dataclass(frozen=True, eq=False)
class Outcome:
    """What follows from what is chosen, whatever its reasons."""

    graph: Graph  # the network from the street to every box, as the choice makes it
    channels: ChannelPlan
    radiators: tuple[Radiator, ...]  # every box that radiates then, at its widths
    after: Coverage  # what the house will get
    chances: tuple[RoomChance, ...]  # of rooms as a whole, where they are judged so
    set_afresh: tuple[SetBox, ...]  # boxes whose radio is set anew, with what that changes

    def seen_by(self, choice: Choice) -> Choice:
        """The choice with what is known of it now that the channels are."""
        return choice.model_copy(update={"set_afresh": self.set_afresh, "room_chances": self.chances})


def outcome_of(survey: Survey, chosen: Chosen) -> Outcome:
    """What a choice comes to.

    Parameters: `chosen`, of `choose` or of another point of its front, with or without reasons.

    **Validity**: one pass: channels follow from the sites and do not change them (docs/choosing.md).
    """
    job, choice, kept = survey.job, chosen.choice, survey.kept
    radiators = chosen_radiators(job, chosen)
    hears = tuple(replace(radiator, wire=()) for radiator in radiators)  # all that a channel depends on
    channels = kept.step(
        "channels",
        (survey.scene, hears, job.heard, job.country, job.choices.dfs),
        lambda: channel_plan(job, radiators, survey.scene),
    )
    radiators = with_widths(radiators, channels, boxes=_set_in(choice, radiators))
    then = with_new_radios(job, choice.devices)
    chances = survey.chances(then, radiators)
    return Outcome(
        graph=graph_after(job, chosen),
        channels=channels,
        radiators=radiators,
        after=survey.gets(then, radiators, chances),
        chances=chances,
        set_afresh=wider_only(job, choice, channels),
    )


def chosen_radiators(job: Job, chosen: Chosen) -> tuple[Radiator, ...]:
    """Every box that radiates once the choice is built: new ones under their own ids and names first.

    Parameters: `chosen`, of `choose` or `chosen_at`. Each hangs on the links that the choice gives it.

    **Validity**: at the widths of its class; those of the plan of channels are set afterwards
    (`with_widths`).
    """
    rows = dict(
        zip((o.id for o in chosen.placing.offering.options), chosen.placing.served.radiators, strict=True)
    )
    points = {point.way: point for point in chosen.choice.access_points}
    fresh = {row.box for row in chosen.choice.set_afresh}
    found = []
    options = {option.id: option for option in chosen.options}
    for way in (*points, *(name for name in options if name not in points)):
        radiator = rows[way]
        if radiator is not None and (radiator.id not in fresh or options[way].afresh_of):
            radiator = wired_as(job, options[way], radiator)
            point = points.get(way)
            found.append(replace(radiator, id=point.id, name=point.name) if point else radiator)
    return tuple(found)


def _set_in(choice: Choice, radiators: Sequence[Radiator]) -> set[str]:
    """Boxes whose channels are set in the work: all where an access point comes, else those set afresh."""
    if choice.access_points:
        return {radiator.id for radiator in radiators}
    return {row.box for row in choice.set_afresh}
