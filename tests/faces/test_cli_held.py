"""Verbs that compute end with a sentence, whatever ends them."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from plans_once import made_plan
from rehaul.apart import MEMORY_BY_NAME
from rehaul.apart.limits import TooMuchMemory
from rehaul.cli import held
from rehaul.jobs import demo_job, save_job
from rehaul.sheets import handover_files, papers


def rehaul(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "rehaul", *words], capture_output=True, text=True, check=False
    )


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    save_job(tmp_path / "demo.rehaul.json", demo_job())
    return tmp_path / "demo.rehaul.json"


WORDS = {
    "accept": ["--option", "Good", "--by", "A. Miller", "--date", "2026-12-01"],
    "next": ["--plan"],
}


# Verbs one after another as copies of one process that has read what they stand on: most of a start.
COPIES = """
import json, os, sys
import rehaul.planning
from rehaul.cli.main import main

for words in json.loads(sys.argv[1]):
    heard, out = os.pipe()
    if os.fork() == 0:
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        os.dup2(out, 2)
        sys.argv = ["rehaul", *words]
        sys.exit(main())
    os.close(out)
    code = os.waitstatus_to_exitcode(os.wait()[1])
    print(json.dumps([code, os.read(heard, 60_000).decode()]), flush=True)
"""


def far_flung(job_file: Path) -> bytes:
    """A job that takes more memory than there may be; the bytes of its file."""
    job = demo_job()
    far = job.house.walls[0].model_copy(
        update={"id": "stray", "start": (300.0, 300.0), "end": (301.0, 300.0)}
    )
    house = job.house.model_copy(update={"walls": (*job.house.walls, far)})
    save_job(job_file, job.model_copy(update={"house": house}))
    return job_file.read_bytes()


def asked(verb: str, job_file: Path) -> list[str]:
    more = ["--out", str(job_file.parent / "papers")] if verb == "papers" else WORDS.get(verb, [])
    return [verb, str(job_file), *more, "--memory", "1"]


def is_refused(code: int, err: str) -> None:
    assert code == 2
    assert "GB of memory, and 1 GB are given. Wall stray reaches" in err
    assert "Traceback" not in err


def test_what_does_not_fit_is_refused_before_it_begins(job_file: Path) -> None:
    was = far_flung(job_file)
    done = rehaul(*asked("plan", job_file))
    is_refused(done.returncode, done.stderr)
    assert job_file.read_bytes() == was


@pytest.mark.skipif(sys.platform != "linux", reason="processes are copied on Linux only")
def test_so_it_is_by_every_verb_that_plans(job_file: Path) -> None:
    was = far_flung(job_file)
    verbs = [asked(verb, job_file) for verb in ("accept", "map", "next", "papers", "work")]
    done = subprocess.run(
        [sys.executable, "-c", COPIES, json.dumps(verbs)], capture_output=True, text=True, check=True
    )
    rows = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(rows) == len(verbs)
    for code, err in rows:
        is_refused(code, err)
    assert job_file.read_bytes() == was


@pytest.mark.parametrize("make", [papers, handover_files])
def test_papers_that_do_not_fit_are_refused_by_the_function_too(
    make: Callable[..., object], monkeypatch: pytest.MonkeyPatch
) -> None:
    made = made_plan(demo_job())
    monkeypatch.setenv(MEMORY_BY_NAME, "800000000")
    with pytest.raises(TooMuchMemory, match="800 MB are given"):
        make(made)


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux holds it")
@pytest.mark.parametrize("verb", held.HELD)
def test_every_verb_that_computes_has_the_limit(verb: str) -> None:
    code = (
        f"import sys, resource; sys.argv = ['rehaul', {verb!r}, '--memory', '3', '--help'];"
        "from rehaul.cli import main as m;"
        "m.gc.set_threshold = lambda *_: print('held to', resource.getrlimit(resource.RLIMIT_AS)[0]);"
        "m.main()"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stdout.startswith("held to 3000000000\n") and "--memory" in done.stdout
    assert done.returncode == 0


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere it is started anew")
def test_what_is_sent_to_the_one_that_waits_reaches_the_other() -> None:
    code = (
        "import sys, time; sys.argv = ['rehaul', 'plan', 'x'];"
        "from rehaul.cli import main as m;"
        "m.gc.set_threshold = lambda *_: (print('here', flush=True), time.sleep(60));"
        "m.main()"
    )
    process = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None and process.stdout.readline() == "here\n"
    process.terminate()
    assert process.wait(10) == 128 + 15
    assert process.stdout.read() == ""  # the other is gone too, or its end would still be open


def test_what_fits_is_answered_and_its_exit_code_kept(job_file: Path) -> None:
    done = rehaul("map", str(job_file), "--json")
    assert done.returncode == 0
    assert json.loads(done.stdout)["rooms"]
    assert rehaul("map", "nowhere.json").returncode == 2
    assert rehaul("plan", str(job_file), "--memory", "much").returncode == 2
    assert rehaul("compare", str(job_file), "--memory", "1").returncode in (0, 2)


@pytest.mark.skipif(sys.platform == "win32", reason="ends by signals are of POSIX")
@pytest.mark.parametrize("how", ["os.abort()", "os.kill(os.getpid(), 11)", "os.kill(os.getpid(), 9)"])
@pytest.mark.parametrize("anew", [False, True])
def test_a_crash_is_one_sentence(how: str, anew: bool) -> None:
    code = (
        "import os, sys; from rehaul.cli import held;"
        f"held.CODE = 'import os; {how}'; held.begin = lambda _: {how};"
        f"sys.platform = 'elsewhere' if {anew} else sys.platform;"
        "sys.exit(held.run_held(['plan', 'x.json']))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert done.stderr.startswith("rehaul: the plan stopped") and "--memory" in done.stderr


def test_the_usual_is_said_in_both_spellings() -> None:
    assert held.memory_said_bytes(["plan", "x"]) == 2_000_000_000
    assert held.memory_said_bytes(["plan", "--memory", "3"]) == 3_000_000_000
    assert held.memory_said_bytes(["plan", "--memory=1.5", "x"]) == 1_500_000_000
    assert held.memory_said_bytes(["plan", "--memory", "nan"]) == 2_000_000_000
