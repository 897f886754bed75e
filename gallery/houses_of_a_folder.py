"""Every job of a folder planned, several at once: what it costs and which rooms stay short."""

import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import rehaul


def line(file: Path) -> str:
    try:
        found = rehaul.plan(rehaul.load(file))
    except rehaul.Refusal as refusal:
        return f"{file.name}: {refusal}"
    short = [room.name for room in found.after.rooms if room.need_mbps and not room.met]
    price, sure = found.takeoff.quote.total, "proven" if found.choice.proven else "not proven"
    return f"{found.job.title}: {price:,.0f}, {sure}, short: {', '.join(short) or 'none'}"


if __name__ == "__main__":  # each process imports this file
    files = sorted(Path(sys.argv[1] if len(sys.argv) > 1 else "examples").glob("*.rehaul.json"))
    with ProcessPoolExecutor() as crew:
        for text in crew.map(line, files):
            print(text)
