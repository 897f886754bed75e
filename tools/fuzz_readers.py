"""Spoil files of every kind that is read and see what the readers make of them (Linux).

    python tools/fuzz_readers.py 60                 seconds for each reader
    python tools/fuzz_readers.py 60 dxf ifc         these alone
    python tools/fuzz_readers.py 60 --guided        led to lines not yet reached (needs atheris)
    python tools/fuzz_readers.py 60 --guided --grow ... and keep small files that reach new ones: tests/corpus
    python tools/fuzz_readers.py 60 --keep out/fuzz what was not survived, to look at

Figures are those of the readers themselves, inside the door. Through it a traceback or a crash is one
sentence, and what takes longer or more memory than it may is ended.
"""

from __future__ import annotations

import argparse
import hashlib
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
from fuzzed_readers import CORPUS, READERS, seeds
from fuzzing import Tally, fuzz
from guided import Guided, guided

LARGEST_KEPT = 6000


def main() -> None:
    said = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    said.add_argument("seconds", type=float)
    said.add_argument("readers", nargs="*", help=f"of {', '.join(READERS)}; all by default")
    said.add_argument("--seed", type=int, default=int(time.time()))
    said.add_argument("--keep", type=Path)
    said.add_argument("--guided", action="store_true")
    said.add_argument("--grow", action="store_true")
    asked = said.parse_args()
    print(f"seed {asked.seed}")
    for reader in asked.readers or READERS:
        feed = guided if asked.guided else fuzz
        tally = feed(reader, seconds=asked.seconds, seed=asked.seed)
        print(f"{reader}: {tally.row()}", flush=True)
        for what, count in tally.outcomes.most_common():
            if what.split(":")[0] not in ("read", "refused"):
                print(f"    {count} x {what}")
        if isinstance(tally, Guided):
            print(f"    places reached: {tally.first} by what is kept, {tally.reached} in all", flush=True)
        if asked.keep:
            keep(asked.keep, reader, tally)
        if asked.grow and isinstance(tally, Guided):
            grow(reader, tally)


def keep(folder: Path, reader: str, tally: Tally) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for number, (what, data) in enumerate(tally.kept):
        (folder / f"{reader}-{number}.bin").write_bytes(data)
        print(f"    {reader}-{number}.bin: {what}")


def grow(reader: str, tally: Guided) -> None:
    """Keep small files that reach lines of ours which the corpus does not."""
    from reached import new_and_small

    suffix = f".{READERS[reader][0]}"
    (CORPUS / "found").mkdir(exist_ok=True)
    for data, lines in new_and_small(suffix, [row[1] for row in seeds(reader)], tally.corpus, LARGEST_KEPT):
        name = f"{hashlib.sha256(data).hexdigest()[:8]}{suffix}"
        (CORPUS / "found" / name).write_bytes(data)
        print(f"    kept {name}: {len(data)} bytes, {lines} lines more", flush=True)


if __name__ == "__main__":
    main()
