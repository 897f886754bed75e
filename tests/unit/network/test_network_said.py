"""What old cables can do is said again in French, with its values in it."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.house import Job, parse_job
from rehaul.network import closer_looks
from rehaul.network.coaxtree import coax_trees
from rehaul.network.faults import FaultPlace
from rehaul.network.verdicts import BrokenLimit, ClassCheck
from rehaul.words import Reader, Saying, again

FRENCH = Reader("fr")
FEET = Reader("en", "imperial")
EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*.rehaul.json"))


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.name.removesuffix(".rehaul.json"))
def job(request: pytest.FixtureRequest) -> Job:
    return parse_job(request.param.read_bytes())


def test_every_verdict_on_a_cable_is_said_in_french(job: Job) -> None:
    for english in closer_looks(job):
        french = again(english, FRENCH)
        for said, in_french in [
            (english.sentence, french.sentence),
            *zip(english.closer, french.closer, strict=True),
        ]:
            assert isinstance(said, Saying), said
            assert in_french == said.to(FRENCH) != said
        assert (french.run, french.likely_mbps) == (english.run, english.likely_mbps)


def test_why_no_data_may_go_over_a_coax_is_said_in_french(job: Job) -> None:
    stops = [stop for tree in coax_trees(job) for stop in (tree.stop, *(j.stop for j in tree.joints)) if stop]
    for stop in stops:
        assert isinstance(stop, Saying), stop
        assert stop.to(FRENCH) != stop


def test_a_fault_is_so_far_from_an_end_in_the_reader_s_units() -> None:
    words = FaultPlace("M1", (6.4, 7.2, 8.1), "G-02", (9.2, 10.1, 11.2)).words
    assert words == "7.2 m (6.4 to 8.1) from M1, 10.1 m (9.2 to 11.2) from G-02"
    assert words.to(FRENCH) == "7,2 m (6,4 à 8,1) depuis M1, 10,1 m (9,2 à 11,2) depuis G-02"
    assert words.to(FEET) == "24 ft (21 to 27) from M1, 33 ft (30 to 37) from G-02"


def test_the_limits_that_a_cable_misses_are_said_in_french() -> None:
    check = ClassCheck(
        channel="class D",
        ethernet="1000BASE-T",
        broken=(BrokenLimit(quantity="insertion loss", by_db=3.2, at_mhz=62.5),),
        top_mhz=100.0,
        loss_allowed_db=24.0,
        loss_left_db=-1.0,
    )
    assert check.sentence == (
        "Class D, which settles 1000BASE-T: as noted it misses insertion loss by 3 dB at 62.5 MHz"
    )
    assert check.sentence.to(FRENCH) == (
        "Classe D, qui assure 1000BASE-T\u00a0: tel que noté, "
        "il manque affaiblissement d'insertion de 3 dB à 62,5 MHz"
    )
