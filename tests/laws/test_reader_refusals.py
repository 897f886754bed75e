"""Whatever is thrown at the text readers, they answer with a house or with a refusal, never with a crash."""

from __future__ import annotations

from pathlib import Path

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from counts import counted
from rehaul.errors import BadInput
from rehaul.house.readers import read_house, read_room_list

WORDS = st.sampled_from(
    [
        *("Living", "Kitchen", "storey", "outer", "inner", "floor", "units feet", "house", "door", "window"),
        *("gap", "open", "right of", "left of", "above", "below", "over", "at 1 / 2", "start", "end", "void"),
        *("4 x 5", "3.10 x 4.20", "12' 6\" x 10'", "0 x 0", "-1 x 2", "1e9 x 3", "0.5 along", "through 0.4"),
        *(
            ",",
            ", ",
            " - ",
            "outside",
            "left",
            "sill 0.9",
            "height 2.5",
            "at -3",
            "brick",
            "unknown",
            "#",
            "½",
        ),
    ]
)
lines = st.lists(st.lists(WORDS, min_size=1, max_size=8).map(" ".join), min_size=1, max_size=8).map("\n".join)
tables = st.lists(
    st.lists(st.one_of(WORDS, st.text(max_size=4)), min_size=3, max_size=6).map(",".join), max_size=6
).map(lambda rows: "\n".join(["storey,room,width,length,place", *rows]))


@given(st.one_of(lines, tables, st.text(max_size=200)))
@example("ROOM,WIDTH,LENGTH\r0")
@settings(max_examples=counted(160, 400), deadline=None)
def test_any_list_gives_a_house_or_a_refusal(text: str) -> None:
    try:
        report = read_room_list(text)
    except BadInput as refusal:
        assert refusal.problem and refusal.where and refusal.remedy
    else:
        assert report.counts.rooms >= 1


@given(st.one_of(st.binary(max_size=300), st.text(max_size=300).map(str.encode), lines.map(str.encode)))
@settings(
    max_examples=counted(60, 150), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_any_file_gives_a_house_or_a_refusal(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "anything"
    path.write_bytes(content)
    try:
        read_house(path)
    except BadInput as refusal:
        assert refusal.problem and refusal.where and refusal.remedy
