"""Spoil files of every kind that is read and see what the readers make of them (Linux).

    python tools/fuzz_readers.py 60                 seconds for each reader
    python tools/fuzz_readers.py 60 dxf ifc         these alone
    python tools/fuzz_readers.py 60 --keep out/fuzz what was not survived, to look at

Figures are those of the readers themselves, inside the door. Through it a traceback or a crash is one
sentence, and what takes longer or more memory than it may is ended.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
from fuzzed_readers import READERS
from fuzzing import Tally, fuzz


def main() -> None:
    said = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    said.add_argument("seconds", type=float)
    said.add_argument("readers", nargs="*", help=f"of {', '.join(READERS)}; all by default")
    said.add_argument("--seed", type=int, default=int(time.time()))
    said.add_argument("--keep", type=Path)
    asked = said.parse_args()
    print(f"seed {asked.seed}")
    for reader in asked.readers or READERS:
        tally = fuzz(reader, seconds=asked.seconds, seed=asked.seed)
        print(f"{reader}: {tally.row()}", flush=True)
        for what, count in tally.outcomes.most_common():
            if what.split(":")[0] not in ("read", "refused"):
                print(f"    {count} x {what}")
        if asked.keep:
            keep(asked.keep, reader, tally)


def keep(folder: Path, reader: str, tally: Tally) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for number, (what, data) in enumerate(tally.kept):
        (folder / f"{reader}-{number}.bin").write_bytes(data)
        print(f"    {reader}-{number}.bin: {what}")


if __name__ == "__main__":
    main()
