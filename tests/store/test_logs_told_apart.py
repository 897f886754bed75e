"""Two job files in one folder never share a log, a lock or what their columns mean."""

from __future__ import annotations

from pathlib import Path

import pytest
from replica import small_job

from rehaul.errors import BadInput
from rehaul.jobs import LogBeside, current_job, edit_job, is_served, log_path, open_job, save_job, serving

NAMES = ["house.rehaul.json", "house.json", "house", "house.v2", "house.v2.json", "house.v2.rehaul.json"]


def titled(title: str, job_id: str = "job"):  # type: ignore[no-untyped-def]
    return small_job().model_copy(update={"title": title, "id": job_id})


def begun_before(folder: Path, title: str, job_id: str = "job") -> Path:
    """`house.json` with the log it was given before the two were told apart."""
    path = folder / "house.json"
    save_job(path, titled(title, job_id))
    shadow = folder / "house.rehaul.json"
    save_job(shadow, titled(title, job_id))
    LogBeside(shadow).close()
    shadow.unlink()
    return path


def test_no_two_names_share_a_log(tmp_path: Path) -> None:
    logs = [log_path(tmp_path / name) for name in NAMES]
    assert len(set(logs)) == len(NAMES)
    assert logs[0].name == "house.rehaul-log", "logs that are there already are found"


def test_editing_one_leaves_the_other(tmp_path: Path) -> None:
    one, other = tmp_path / "house.rehaul.json", tmp_path / "house.json"
    save_job(one, titled("One"))
    save_job(other, titled("Other"))
    for path in (one, other):
        LogBeside(path).close()
    edit_job(one, lambda job: job.model_copy(update={"notes": "mine"}))
    assert current_job(other).title == "Other" and current_job(other).notes == ""
    edit_job(other, lambda job: job.model_copy(update={"title": "Another"}))
    assert open_job(one).title == current_job(one).title == "One"
    assert open_job(one).notes == "mine"
    assert open_job(other).title == "Another"


def test_serving_one_does_not_hold_the_other(tmp_path: Path) -> None:
    one, other = tmp_path / "house.rehaul.json", tmp_path / "house.json"
    save_job(one, titled("One"))
    save_job(other, titled("Other"))
    with serving(one):
        assert is_served(one) and not is_served(other)
        with serving(other):
            assert is_served(other)


@pytest.mark.parametrize("id_of_the_other", ["job", "another"])
def test_a_log_begun_before_is_found_by_its_own_file(tmp_path: Path, id_of_the_other: str) -> None:
    path = begun_before(tmp_path, "Mine")
    assert log_path(path).name == "house.rehaul-log"
    edit_job(path, lambda job: job.model_copy(update={"notes": "by the old log"}))
    assert open_job(path).notes == current_job(path).notes == "by the old log"
    newcomer = tmp_path / "house.rehaul.json"
    save_job(newcomer, titled("Newcomer", id_of_the_other))
    assert log_path(path).name == "house.rehaul-log"
    assert current_job(path).title == "Mine"
    was = newcomer.read_bytes()
    with pytest.raises(BadInput, match=r"log house\.rehaul-log is of house\.json"):
        edit_job(newcomer, lambda job: job.model_copy(update={"notes": "x"}))
    assert newcomer.read_bytes() == was and current_job(path).title == "Mine"


def test_a_log_that_may_be_of_either_is_refused(tmp_path: Path) -> None:
    path = begun_before(tmp_path, "Mine")
    save_job(tmp_path / "house.rehaul.json", titled("Mine"))
    with pytest.raises(BadInput, match="may be of"):
        current_job(path)
    assert current_job(tmp_path / "house.rehaul.json").title == "Mine"


def test_a_log_of_another_job_is_left_alone(tmp_path: Path) -> None:
    one, other = tmp_path / "house.rehaul.json", tmp_path / "house.json"
    save_job(one, titled("One"))
    LogBeside(one).close()
    save_job(other, titled("Other", "other"))
    assert current_job(other).title == "Other"
    LogBeside(other).close()
    assert (tmp_path / "house.json.rehaul-log").exists()
    assert current_job(one).title == "One"
