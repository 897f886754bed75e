"""Signs of a cable by the order of the record: the last word on who depends on it, and what clears what."""

from __future__ import annotations

from rehaul.house import LineCheck, Run, SignOff
from rehaul.house.line_checks import (
    covers,
    line_signs,
    remedy_of,
    standing_checks,
    still_disconnected,
    words_of,
)

RUN = Run(id="C1", ends=("MP1", "1-01"), state="dead")
OWNER = SignOff(by="Owner", date="2026-11-20", words="dial tone heard")


def check(name: str, what: str, **fields: object) -> LineCheck:
    return LineCheck.model_validate({"id": name, "at": "MP1", "what": what, **fields})


def asked(name: str, nobody: bool, run: str | None = "C1") -> LineCheck:
    return check(name, "who depends", nobody=nobody, run=run)


def volts(name: str, dc_v: float, run: str | None = "C1", **more: object) -> LineCheck:
    return check(name, "voltage", dc_v=dc_v, ac_v=0.0, run=run, **more)


def sync(name: str, synchronises: bool) -> LineCheck:
    return check(name, "modem sync", synchronises=synchronises, run="C1")


def turned(name: str, what: str) -> LineCheck:
    return check(name, what, sign_off=OWNER, run="C1")


def ids(*found: LineCheck | None) -> list[str]:
    return [one.id if one else "" for one in found]


def test_the_last_answer_to_who_depends_on_a_cable_counts() -> None:
    somebody, nobody = asked("L1", False), asked("L2", True)
    assert line_signs(RUN, (somebody,)).unnamed == somebody
    assert line_signs(RUN, (somebody, nobody)).unnamed is None
    assert line_signs(RUN, (nobody, somebody)).unnamed == somebody
    again = asked("L3", False)
    assert line_signs(RUN, (somebody, again)).unnamed == again


def test_somebody_at_the_point_is_not_somebody_on_this_cable() -> None:
    of_all = asked("L1", False, run=None)
    assert line_signs(RUN, (of_all,)).unnamed is None
    assert line_signs(RUN, (of_all,)).unasked == ("voltage", "modem sync")
    assert line_signs(RUN, (asked("L1", False, run="C2"),)).unasked[0] == "who depends"


def test_live_by_volts_before_live_by_a_modem() -> None:
    checks = (sync("L1", True), volts("L2", 48))
    assert ids(line_signs(RUN, checks).live) == ["L2"]
    quiet_again = (*checks, volts("L3", 0))
    signs = line_signs(RUN, quiet_again)
    assert ids(signs.live, signs.once_live) == ["L1", "L2"]
    all_quiet = line_signs(RUN, (*quiet_again, sync("L4", False)))
    assert ids(all_quiet.live, all_quiet.once_live) == ["", "L2"]


def test_a_cable_is_cleared_where_all_that_was_live_was_measured_off() -> None:
    live, off = (volts("L1", 48), sync("L2", True)), turned("L3", "disconnected")
    both = (*live, off, volts("L4", 0), sync("L5", False))
    assert line_signs(RUN, both).cleared_off
    assert not line_signs(RUN, both[:-1]).cleared_off, "the modem still synchronises, as far as is known"
    volts_before = (live[0], volts("L4", 0), live[1], off, sync("L5", False))
    assert not line_signs(RUN, volts_before).cleared_off, "the volts went away before it was taken off"
    back = turned("L6", "reconnected")
    assert not line_signs(RUN, (volts("L1", 48), off, back, volts("L4", 0))).cleared_off, "it hangs again"
    assert not line_signs(RUN, (off, *live, volts("L4", 0), sync("L5", False))).cleared_off


def test_the_last_loud_and_the_last_quiet_are_held_against_each_other() -> None:
    signs = line_signs(RUN, (volts("L1", 48), volts("L2", 0), volts("L3", 9)))
    assert ids(signs.live, signs.once_live) == ["L3", ""]
    signs = line_signs(RUN, (volts("L1", 0), volts("L2", 48), volts("L3", 9), volts("L4", 0)))
    assert ids(signs.live, signs.once_live) == ["", "L3"]
    at_plate = line_signs(RUN, (volts("L1", 48), volts("L2", 0, run=None, outlet="1-01")))
    assert ids(at_plate.live) == ["L1"], "silence at a plate may be a cable that ends before it"


def test_silence_from_before_it_was_connected_again_clears_nothing() -> None:
    on = turned("L3", "reconnected")
    assert ids(line_signs(RUN, (volts("L1", 48), volts("L2", 0), on)).live) == ["L1"]
    assert ids(line_signs(RUN, (volts("L1", 48), on, volts("L2", 0))).once_live) == ["L1"]
    assert line_signs(RUN, (on, volts("L2", 0))).unasked == ("who depends", "modem sync")
    assert line_signs(RUN, (volts("L2", 0), on)).unasked == ("who depends", "voltage", "modem sync")


def test_volts_at_the_point_count_from_after_the_cable_was_measured_by_itself() -> None:
    by_itself, somewhere = volts("L1", 0), volts("L2", 48, run=None)
    assert ids(line_signs(RUN, (by_itself, somewhere)).live) == ["L2"]
    assert ids(line_signs(RUN, (somewhere, by_itself)).live) == [""]
    all_quiet = volts("L3", 0, run=None)
    signs = line_signs(RUN, (somewhere, all_quiet))
    assert ids(signs.live, signs.once_live) == ["", "L2"]


def test_which_cables_a_check_speaks_of() -> None:
    assert covers(volts("L1", 0), RUN) and not covers(volts("L1", 0, run="C2"), RUN)
    assert covers(volts("L1", 0, run=None), RUN)
    elsewhere = volts("L1", 0, run=None).model_copy(update={"at": "MP2"})
    assert not covers(elsewhere, RUN)
    assert covers(elsewhere.model_copy(update={"run": "C1"}), RUN), "by its name, wherever it was measured"
    assert covers(elsewhere.model_copy(update={"outlet": "1-01"}), RUN)
    assert not covers(volts("L1", 0, run=None, outlet="1-02"), RUN)


def test_what_is_withdrawn_and_the_withdrawal_are_both_left_out() -> None:
    first, second = volts("L1", 48), volts("L2", 9)
    assert standing_checks((first, second, check("L3", "withdrawn", other="L1"))) == (second,)


def test_a_reconnection_of_one_cable_leaves_the_others_off() -> None:
    offs = tuple(
        check(f"L{n}", "disconnected", sign_off=OWNER, run=run, at=at)
        for n, (run, at) in enumerate((("C1", "MP1"), ("C2", "MP1"), ("C3", "MP2")), 1)
    )
    one = check("L8", "reconnected", sign_off=OWNER, run="C1")
    every = check("L9", "reconnected", sign_off=OWNER)
    assert ids(*still_disconnected((*offs, one))) == ["L2", "L3"]
    assert ids(*still_disconnected((*offs, every))) == ["L3"]
    assert ids(*still_disconnected((every, *offs))) == ["L1", "L2", "L3"]


def test_what_was_found_live_is_said_with_both_currents() -> None:
    both = check("L1", "voltage", dc_v=48, ac_v=90, run="C1")
    said = str(words_of(both))
    assert said.index("48 V dc") < said.index("90 V ac")
    assert "V dc" not in str(words_of(check("L1", "voltage", dc_v=0.5, ac_v=90, run="C1")))
    assert str(words_of(volts("L1", 0))) == ""


def test_what_to_do_first_about_mains_and_about_volts_somewhere() -> None:
    mains = check("L1", "voltage", ac_v=230, run="C1")
    somewhere = check("L1", "voltage", ac_v=230)
    one, all_of_them = str(remedy_of(mains)), str(remedy_of(somewhere))
    assert one and all_of_them.startswith(one) and len(all_of_them) > len(one)
    assert str(remedy_of(sync("L1", True))) == ""
    at_plate = check("L1", "voltage", ac_v=230, outlet="1-01")
    assert str(remedy_of(at_plate)) == one
