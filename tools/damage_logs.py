"""Damage logs on purpose, thousands of times, and count what becomes of them.

    python tools/damage_logs.py --flips 2000 --cuts 500

Half of the logs are left as a killed program leaves them, half are closed. Ends with 1 where anything went
missing without a word.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests"), str(ROOT / "tests" / "store")]


def main() -> int:
    from damage import becomes, copy_of, files_of, flip, tear, worked_on

    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--flips", type=int, default=2000)
    words.add_argument("--cuts", type=int, default=500)
    words.add_argument("--seed", type=int, default=0)
    said = words.parse_args()
    random_ = random.Random(said.seed)
    found: Counter[tuple[str, str]] = Counter()
    with tempfile.TemporaryDirectory(prefix="rehaul-damage-") as place:
        kept = [
            worked_on(Path(place) / f"{hot}-{follows}", hot=hot, follows=follows)
            for hot in (False, True)
            for follows in (True, False)
        ]
        for number in range(said.flips + said.cuts):
            of = kept[number % len(kept)]
            folder = copy_of(of, Path(place) / "copy")
            parts = files_of(folder)
            if number < said.flips:
                part = random_.choices(parts, [each.stat().st_size for each in parts])[0]
                flip(part, random_)
            else:
                tear(random_.choice(parts), random_)
            found["bits turned" if number < said.flips else "cut or torn", becomes(of, folder)] += 1
    for (how, ends), count in sorted(found.items()):
        print(f"{how:12}  {count:5}  {ends}")
    return int(any("SILENT" in ends for _, ends in found))


if __name__ == "__main__":
    sys.exit(main())
