"""What the house is taken to be made of: the ground that every map stands on."""

from __future__ import annotations

from rehaul.facts.constructions import constructions
from rehaul.house import Layer, Wall
from rehaul.house.geometry import wall_length_m
from rehaul.planning import Plan
from rehaul.predict.kinds import guess_words
from rehaul.sheets import words
from rehaul.sheets.blocks import Prose, Rows, Section
from rehaul.sheets.table import Column, Table, table
from rehaul.sheets.walls import is_unknown, wall_thickness_m
from rehaul.words import again, say, term


def survey_section(plan: Plan) -> Section:
    """Walls and floors by construction."""
    blocks = (Prose((say("sheets.survey_said"),)), Rows(walls(plan)), Rows(floors(plan)))
    return Section("survey", say("sheets.survey"), blocks, "drawings")


def _construction_words(name: str, layers: tuple[Layer, ...]) -> str | None:
    """A construction in plain words: its layers where they were surveyed, else its label; None: not named."""
    if layers:
        return " + ".join(
            say("cells.layer", material=term(layer.material), thickness_mm=layer.thickness_m * 1000)
            for layer in layers
        )
    known = constructions().get(name)
    return term(known.label) if known else None


def walls(plan: Plan) -> Table:
    """Walls gathered by construction and thickness, those of most metres first, with room for what was seen.

    A wall that nobody knows shows what the country's houses of that year are guessed to have, and no
    thickness.
    """
    house = plan.job.house
    storeys = {storey.id: storey.name for storey in house.storeys}
    gathered: dict[tuple[str, int], list[Wall]] = {}
    for wall in house.walls:
        named = _construction_words(wall.construction, wall.layers)
        made_of = named or again(guess_words("wall", plan.job.country, house.built_year, wall.thickness_m))
        key = (made_of, round(wall_thickness_m(wall) * 1000))
        gathered.setdefault(key, []).append(wall)
    rows = sorted(gathered.items(), key=lambda item: (-sum(map(wall_length_m, item[1])), item[0]))
    return table(
        "walls",
        say("sheets.walls"),
        rows,
        (
            (Column("construction", say("heads_house.taken_to_be"), share=2), lambda r: r[0][0]),
            (
                Column("thickness_mm", say("heads_house.thick_mm"), "whole"),
                lambda r: None if is_unknown(r[1][0]) else r[0][1],
            ),
            (Column("count", say("heads_house.walls"), "whole"), lambda r: len(r[1])),
            (
                Column("length_m", say("heads_house.together_m"), "number", 1),
                lambda r: sum(map(wall_length_m, r[1])),
            ),
            (
                Column("storeys", say("heads_house.on_storeys"), share=1.5),
                lambda r: words.listed([n for i, n in storeys.items() if any(w.storey == i for w in r[1])]),
            ),
            (Column("seen", say("heads_house.seen_to_be"), "blank", share=1.5), lambda _: ""),
        ),
    )


def floors(plan: Plan) -> Table:
    """The floor of each storey, lowest first, with room for what was seen; guessed as walls are."""
    house = plan.job.house
    return table(
        "floors",
        say("sheets.floors"),
        sorted(house.storeys, key=lambda storey: storey.elevation_m),
        (
            (Column("storey", say("heads_house.floor_of"), share=1), lambda s: s.name),
            (
                Column("construction", say("heads_house.taken_to_be"), share=2),
                lambda s: (
                    _construction_words(s.floor.construction, s.floor.layers)
                    or again(guess_words("floor", plan.job.country, house.built_year, s.floor.thickness_m))
                ),
            ),
            (Column("elevation_m", say("heads_house.stands_at_m"), "number", 2), lambda s: s.elevation_m),
            (Column("height_m", say("heads_house.room_height_m"), "number", 2), lambda s: s.height_m),
            (Column("seen", say("heads_house.seen_to_be"), "blank", share=1.5), lambda _: ""),
        ),
    )
