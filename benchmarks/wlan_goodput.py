"""Power maps to Mb/s: the looked-up ladder against the same rungs searched place by place.

python benchmarks/wlan_goodput.py
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

from rehaul.wlan import (
    Asks,
    Generation,
    RadioLink,
    chance_of_asks,
    goodput_mbps,
    goodput_range,
    rate_ladder,
    usual_share,
)

PLACES, BANDS = 20_000, 3


def best_s(work: Callable[[], object], repeats: int = 30) -> float:
    times = []
    for _ in range(repeats):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def main() -> None:
    link = RadioLink("5", Generation.HE, 80, 2)
    start = time.process_time()
    ladder = rate_ladder(link)
    first_s = time.process_time() - start
    power = np.random.default_rng(1).uniform(-100, -30, (BANDS, PLACES)).astype(np.float32)

    def plain() -> list[float]:
        rungs = list(zip(ladder.power_dbm.tolist(), ladder.rung_mbps.tolist(), strict=True))
        return [max((rate for need, rate in rungs if need <= p), default=0.0) for p in power.ravel().tolist()]

    fast = best_s(lambda: goodput_mbps(power, link))
    ranged = best_s(lambda: goodput_range(power, 6.0, link))
    chance = best_s(lambda: chance_of_asks(Asks(down_mbps=100.0), power, 6.0, link))
    share = usual_share("5")
    start = time.process_time()
    goodput_range(power[0], 6.0, link, delivered=share)
    table_s = time.process_time() - start
    given = best_s(lambda: goodput_range(power, 6.0, link, delivered=share))
    likely = best_s(lambda: chance_of_asks(Asks(down_mbps=100.0), power, 6.0, link, delivered=share))
    slow = best_s(plain, repeats=3)
    print(f"{PLACES} places × {BANDS} bands, one thread")
    print(f"ladder built once             {first_s * 1e3:8.2f} ms")
    print(
        f"goodput                       {fast * 1e3:8.3f} ms,"
        f" {slow / fast:.0f} times as fast as a plain search of the rungs"
    )
    print(f"low, median, high             {ranged * 1e3:8.3f} ms")
    print(f"chance of 100 Mb/s            {chance * 1e3:8.3f} ms")
    print(f"ranges of a share built once  {table_s * 1e3:8.2f} ms")
    print(f"low, median, high delivered   {given * 1e3:8.3f} ms")
    print(f"chance that it is delivered   {likely * 1e3:8.3f} ms")


if __name__ == "__main__":
    main()
