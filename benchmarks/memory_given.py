"""Memory that plans are estimated to take over what they took, on the bundled houses and on drawn ones.

    python benchmarks/memory_given.py [drawn houses, 10 by default]

What a process took is its address space at its largest (Linux), which is what `--memory` limits.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))
PLAN = """
import json, sys
from pathlib import Path
from rehaul.apart import hold_memory
hold_memory(int(sys.argv[2]))
from rehaul.jobs import open_job
from rehaul.planning import plan
from rehaul.predict.size import size_of
job = open_job(Path(sys.argv[1]))
plan(job)
status = dict(line.split(":") for line in open("/proc/self/status"))
peak = {name: int(status[name].split()[0]) * 1024 for name in ("VmPeak", "VmHWM")}
print(json.dumps({"estimate": size_of(job).plan_bytes, **peak}))
"""


def jobs(drawn: int, folder: Path) -> list[Path]:
    """Job files: the bundled ones, the demo, one far too long, and houses drawn by chance."""
    from drawn_houses import drawn_job
    from rehaul.house import Job
    from rehaul.jobs import demo_job, save_job

    def kept(name: str, job: Job) -> Path:
        save_job(folder / f"{name}.rehaul.json", job)
        return folder / f"{name}.rehaul.json"

    found = sorted((ROOT / "examples").glob("*.rehaul.json"))
    found.append(kept("demo", demo_job()))
    for far_m in (100, 300):
        job = demo_job()
        far = job.house.walls[0].model_copy(update={"id": "far", "start": (far_m, 0), "end": (far_m, 1)})
        house = job.house.model_copy(update={"walls": (*job.house.walls, far)})
        found.append(kept(f"demo with a wall at {far_m} m", job.model_copy(update={"house": house})))
    return found + [kept(f"drawn {seed}", drawn_job(seed)) for seed in range(drawn)]


def main() -> None:
    import tempfile

    drawn = int(sys.argv[1]) if len(sys.argv) > 1 else 10
    ratios = []
    with tempfile.TemporaryDirectory() as folder:
        for job in jobs(drawn, Path(folder)):
            command = [sys.executable, "-c", PLAN, str(job), str(4_000_000_000)]
            done = subprocess.run(command, capture_output=True, text=True, env=os.environ, check=False)
            if done.returncode:
                print(f"{job.stem}: no plan ({done.stderr.strip().splitlines()[-1][:80]})")
                continue
            row = json.loads(done.stdout.splitlines()[-1])
            ratios.append(row["estimate"] / row["VmPeak"])
            print(
                f"{job.name.removesuffix('.rehaul.json')}: estimate {row['estimate'] / 1e6:.0f} MB, took "
                f"{row['VmPeak'] / 1e6:.0f} MB ({row['VmHWM'] / 1e6:.0f} MB resident), {ratios[-1]:.2f}",
                flush=True,
            )
    print(
        f"estimate over peak: {min(ratios):.2f} to {max(ratios):.2f}, median {statistics.median(ratios):.2f}"
    )


if __name__ == "__main__":
    main()
