"""Draw houses, plan each, audit each plan, and count what was found.

    python tools/audit_houses.py 200 --seed 0 --workers 2
    python tools/audit_houses.py 5000 --log houses.jsonl

A log holds one house a line: a run that was stopped goes on where it was, and seeds that stand in it are not
drawn again.
Prints findings by rule with examples, seeds that failed, rooms left unserved with the reasons that the plans
give, and how many houses had each feature. Ends with 1 where anything was found, refused or broken.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import re
import sys
import time
import traceback
from collections import Counter, defaultdict
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import asdict, dataclass
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]
LEAST_HOUSES = 10  # of every feature, in a run that is meant to show something
EXAMPLES = 3
ID = re.compile(r"\b[A-Z]{0,3}\d[\w.-]*|\b\d+([.,]\d+)?\b")


@dataclass(frozen=True)
class House:
    """What one drawn house came to."""

    seed: int
    features: frozenset[str]
    seconds: float
    findings: tuple[tuple[str, str], ...] = ()  # rule, sentence
    refused: str = ""
    broke: str = ""
    asked: int = 0
    unserved: tuple[tuple[str, str], ...] = ()  # room, reason


def audited(seed: int) -> House:
    """One house drawn, planned and audited."""
    from drawn_houses import drawn_job, features_of
    from rehaul.auditor import audit_plan
    from rehaul.errors import Refusal
    from rehaul.planning import plan, plan_data

    start = time.monotonic()
    job = drawn_job(seed)
    features = features_of(job)
    try:
        data = json.loads(json.dumps(plan_data(plan(job)), allow_nan=False))
        found = audit_plan(job, data)
    except Refusal as refusal:
        return House(seed, features, time.monotonic() - start, refused=str(refusal))
    except Exception:  # a bug is what this tool is there to find
        return House(seed, features, time.monotonic() - start, broke=traceback.format_exc(limit=-3))
    return House(
        seed,
        features,
        time.monotonic() - start,
        findings=tuple((each.rule, each.sentence) for each in found),
        asked=len({need.room for need in job.needs}),
        unserved=tuple(_unserved(data)),
    )


def _unserved(data: dict[str, object]) -> Iterator[tuple[str, str]]:
    choice = data["choice"]
    assert isinstance(choice, dict)
    for row in choice["shortfalls"]:
        fix = ID.sub("…", str(row.get("fix", "")))[:90]
        yield str(row["room"]), f"{row.get('kind', 'down')}: {fix}"


def all_audited(seeds: list[int], workers: int) -> Iterator[House]:
    """Every house, as it comes."""
    if workers <= 1:
        yield from map(audited, seeds)
        return
    with ProcessPoolExecutor(workers, mp_context=multiprocessing.get_context("spawn")) as pool:
        for done in as_completed([pool.submit(audited, seed) for seed in seeds]):
            yield done.result()


def logged(path: Path | None) -> dict[int, House]:
    """The houses that a log holds, by seed; a last line that was cut off is left out."""
    houses: dict[int, House] = {}
    for line in path.read_text(encoding="utf-8").splitlines() if path and path.exists() else ():
        try:
            row = json.loads(line)
        except ValueError:
            continue
        pairs = {name: tuple(map(tuple, row[name])) for name in ("findings", "unserved")}
        houses[row["seed"]] = House(**(row | pairs | {"features": frozenset(row["features"])}))
    return houses


def log(path: Path, house: House) -> None:
    """One house more in a log."""
    row = asdict(house) | {"features": sorted(house.features)}
    with path.open("a", encoding="utf-8") as lines:
        lines.write(json.dumps(row) + "\n")


def report(houses: list[House]) -> str:
    """What the run showed, for people."""
    houses = sorted(houses, key=lambda house: house.seed)
    seconds = [house.seconds for house in houses]
    sound = sum(not (house.findings or house.refused or house.broke) for house in houses)
    mean_s, most_s = sum(seconds) / len(houses), max(seconds)
    lines = [
        f"{len(houses)} houses, {sound} without a finding; {mean_s:.1f} s each, at most {most_s:.1f} s.",
        *_by_rule(houses),
        *_failed("refused", [(house.seed, house.refused) for house in houses if house.refused]),
        *_failed("broke", [(house.seed, house.broke) for house in houses if house.broke]),
        *_served(houses),
        *_features(houses),
    ]
    return "\n".join(lines)


def _by_rule(houses: list[House]) -> Iterator[str]:
    seeds: dict[str, list[int]] = defaultdict(list)
    words: dict[str, list[str]] = defaultdict(list)
    for house in houses:
        for rule, sentence in house.findings:
            seeds[rule].append(house.seed)
            words[rule].append(f"{house.seed}: {sentence}")
    total = sum(len(each) for each in seeds.values())
    yield f"\n{total} findings by {len(seeds)} rules."
    for rule, where in sorted(seeds.items(), key=lambda item: -len(set(item[1]))):
        shown = sorted(set(where))
        some = " ".join(map(str, shown[:12])) + (" …" if len(shown) > 12 else "")
        yield f"  {rule}: {len(where)} in {len(shown)} houses (seeds {some})"
        yield from (f"      {each}" for each in words[rule][:EXAMPLES])


def _failed(what: str, rows: list[tuple[int, str]]) -> Iterator[str]:
    if rows:
        yield f"\n{len(rows)} houses {what}: seeds {' '.join(str(seed) for seed, _ in rows)}"
        yield from (f"  {seed}: {words.strip()}" for seed, words in rows[: EXAMPLES * 2])


def _served(houses: list[House]) -> Iterator[str]:
    asked = sum(house.asked for house in houses)
    short = sum(len({room for room, _ in house.unserved}) for house in houses)
    reasons = Counter(reason for house in houses for _, reason in house.unserved)
    share = 100 * short / asked if asked else 0.0
    yield f"\n{short} of {asked} rooms that ask are left unserved ({share:.1f} %)."
    yield from (f"  {count:4d}  {reason}" for reason, count in reasons.most_common(20))


def _features(houses: list[House]) -> Iterator[str]:
    from drawn_houses import FEATURES

    counts = Counter(name for house in houses for name in house.features)
    rare = sorted(name for name in FEATURES if counts[name] < LEAST_HOUSES)
    yield f"\n{len(FEATURES)} features; {len(rare)} in fewer than {LEAST_HOUSES} houses" + (
        ": " + ", ".join(f"{name} ({counts[name]})" for name in rare) if rare else "."
    )
    yield "  " + ", ".join(f"{name} {counts[name]}" for name in sorted(FEATURES))


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n", maxsplit=1)[0])
    parser.add_argument("houses", type=int, help="how many houses")
    parser.add_argument("--seed", type=int, default=0, help="the first seed")
    parser.add_argument("--workers", type=int, default=1, help="processes")
    parser.add_argument("--log", type=Path, help="keeps each house, and goes on from what it holds")
    asked = parser.parse_args()
    if asked.houses < 1 or asked.workers < 1:
        parser.error("houses and workers start at 1")
    wanted = range(asked.seed, asked.seed + asked.houses)
    kept = logged(asked.log)
    found = [kept[seed] for seed in wanted if seed in kept]
    for house in all_audited([seed for seed in wanted if seed not in kept], asked.workers):
        found.append(house)
        if asked.log:
            log(asked.log, house)
        if sys.stderr.isatty():
            amiss = sum(bool(each.findings or each.refused or each.broke) for each in found)
            print(f"\r{len(found)} of {asked.houses} houses, {amiss} amiss ", end="", file=sys.stderr)
    if sys.stderr.isatty():
        print(file=sys.stderr)
    print(report(found))
    return int(any(house.findings or house.refused or house.broke for house in found))


if __name__ == "__main__":
    sys.exit(main())
