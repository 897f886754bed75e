"""Inputs that nobody means: real job documents, tables and lists, broken by a seeded hand."""

from __future__ import annotations

import contextlib
import copy
import io
import json
import random
import re
import time
import traceback
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from nonsense import nonsense
from rehaul.cli.main import main
from rehaul.house import dump_job
from rehaul.jobs import current_job, demo_job, open_job

STEERING = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069]")
NASTY_TEXTS = [
    *("", " ", "\0", "a\0b", "\x1b[2J", "\x9b1m", "\u202egnp", "\ud800", "a\nb", "a\rb", "x" * 3000),
    *("'", '"', ",", ";", "../../etc", "%s%n", "=1+1", "\u2028", "٣", "１２", "NaN", "null", "½", "\ufeff"),
    *("--json", "-", "\\", "<svg>"),
]
NASTY_NUMBERS = [
    *(
        "0",
        "-0",
        "-1",
        "-50",
        "5000",
        "+5,000",
        "1,000",
        "1.000",
        "1e5",
        "1e400",
        "-1e400",
        "NaN",
        "Infinity",
    ),
    *(
        "-Infinity",
        "1e-400",
        "9" * 20,
        "9999999-01-01",
        "9" * 400,
        "9" * 5000,
        "0x10",
        "1_000",
        "1 000",
        "1'000",
        "3.5.5",
        "--3",
    ),
    *("500", "1e308", "2.7"),
]
WALK = """room,device,down,signal (dBm),band,note
Parlour,Phone,120,-61,5,"one, two"
Kitchen,Phone,80.5,-70,2.4,
"""
COMMAS = """room;down;up;delay_ms
Parlour;118,5;20;12
Kitchen;1.200,5;3;0,5
"""
PLACES = """x_m	y_m	storey	down_mbps	height_m	repeats	wired	stage
2	3	0	55	1.1	3	no	before
4	1	1	60	1	1	yes	after
"""
LINKS = """room,link_mbps,loaded_delay_ms,time,doors
Kitchen,433,80,2026-01-01T10:00,open
"""
DEEP = "nested "
TABLES = [WALK, COMMAS, PLACES, LINKS]
MILL = """house Mill
outer 0.30
inner brick 12 cm
storey Ground, height 2.5
Hall 2 x 4
Kitchen 3.10 x 4.20 right of Hall
door Hall to Kitchen, 0.8 along
storey Upper, height 2.4, at 2.8
Bed 3 x 4 over Hall
window Bed outside, sill 0.9
"""
FEET = """units feet
Hall 12' 6" x 10'
Den 10 x 9' left of Hall
gap Hall - Den 2'
"""
ROWS = """storey,room,width,length,place,height
Ground,Hall,2,4,,2.5
Ground,Kitchen,3.1,4.2,right of Hall,
Upper,Bed,3,4,over Hall,2.4
"""
LISTS = [MILL, FEET, ROWS]
ADDED = [
    *(
        "down_mbps=77",
        "room=Kitchen",
        "device=Phone",
        "power_dbm=-61",
        "x_m=2",
        "y_m=3",
        "storey=0",
        "band=5",
    ),
    *(
        "repeats=3",
        "time=2026-01-01",
        "note=by hand",
        "stage=after",
        "doors=shut",
        "wired=no",
        "height_m=1.1",
    ),
]


@dataclass
class Tally:
    """What came of the inputs of one reader."""

    inputs: int = 0
    accepted: int = 0
    slowest_s: float = 0.0  # of processor time
    faults: list[str] = field(default_factory=list)


class Bench:
    """A folder with one job, and the readers that inputs are given to."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.job = folder / "job.rehaul.json"
        self.out = folder / "out.rehaul.json"
        self.given = folder / "given"
        self.text = dump_job(demo_job().model_copy(update={"readings": demo_job().readings[:3]}))
        self.data = json.loads(self.text)
        self.tally: dict[str, Tally] = {}
        self.readers: dict[str, Callable[[random.Random], list[str]]] = {
            "documents": self._document,
            "documents read into a job": self._read_into,
            "tables": self._table,
            "lists": self._list,
            "typed readings": self._typed,
            "typed jobs and checks": self._told,
            "kept files": self._kept,
        }

    def run(self, number: int) -> None:
        """One input; what is wrong with its answer is noted."""
        hand = random.Random(number)
        name = list(self.readers)[number % len(self.readers)]
        tally = self.tally.setdefault(name, Tally())
        for old in self.folder.iterdir():
            old.unlink()
        self.job.write_text(self.text, encoding="utf-8")
        words = self.readers[name](hand)
        before = self.job.read_bytes()
        out, err = io.StringIO(), io.StringIO()
        began = time.process_time()
        try:
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                main(words)
            code = 0
        except SystemExit as stop:
            code = int(stop.code or 0)
        except BaseException:
            code = 1
            err.write(traceback.format_exc()[-600:])
        tally.slowest_s = max(tally.slowest_s, time.process_time() - began)
        tally.inputs += 1
        tally.accepted += code == 0
        for fault in self._faults(code, before, out.getvalue(), err.getvalue()):
            tally.faults.append(f"input {number} ({name}, {words[0]}): {fault}")

    def _faults(self, code: int, before: bytes, out: str, err: str) -> Iterator[str]:
        if code not in (0, 2):
            yield f"exit code {code}: {err}"
            return
        if code == 2 and (not err.startswith("rehaul: ") or err.count("\n") != 1 or len(err) > 2500):
            yield f"not one sentence: {err[:300]!r}"
        if STEERING.search(out + err):
            yield "the terminal was steered"
        if code == 2 and self.job.read_bytes() != before:
            yield "refused, and written all the same"
        if code == 0:
            for path in (self.job, self.out):
                if path.exists() and (path == self.out or path.read_bytes() != before):
                    yield from stored_nonsense(path)

    def _document(self, hand: random.Random) -> list[str]:
        self.given.write_bytes(broken_document(hand, self.data, self.text))
        return [hand.choice(["check", "cables"]), str(self.given), *hand.choice([[], ["--json"]])]

    def _read_into(self, hand: random.Random) -> list[str]:
        self.given.write_bytes(broken_document(hand, self.data, self.text))
        place = ["--into", str(self.job)] if hand.random() < 0.5 else ["--out", str(self.out)]
        return ["read", str(self.given), *place]

    def _table(self, hand: random.Random) -> list[str]:
        self.given.write_bytes(broken_text(hand, hand.choice(TABLES)))
        heading, meaning = hand.choice(["down", "note", "x"]), hand.choice(["up_mbps", "room", "colour"])
        said = ["--column", f"{heading}={meaning}"] if hand.random() < 0.2 else []
        return ["readings", str(self.job), "--from", str(self.given), *said]

    def _list(self, hand: random.Random) -> list[str]:
        self.given.write_bytes(broken_text(hand, hand.choice(LISTS)))
        place = ["--out", str(self.out)] if hand.random() < 0.7 else ["--into", str(self.job)]
        return ["read", str(self.given), *place]

    def _typed(self, hand: random.Random) -> list[str]:
        self.given.write_text("room,down\n")  # a table of no rows: what is typed comes in, nothing is listed
        words = ["readings", str(self.job), "--from", str(self.given)]
        for pair in dict.fromkeys([ADDED[0], *hand.sample(ADDED, hand.randint(0, 6))]):
            name, _, value = pair.partition("=")
            if hand.random() < 0.4:
                value = hand.choice(NASTY_NUMBERS + NASTY_TEXTS)
            if hand.random() < 0.05:
                name = hand.choice(NASTY_TEXTS)
            words += ["--add", f"{name}={value}"]
        return words

    def _told(self, hand: random.Random) -> list[str]:
        def odd(plain: str) -> str:
            return hand.choice(NASTY_TEXTS + NASTY_NUMBERS) if hand.random() < 0.3 else plain

        check = ["trace", str(self.job), "--check"]
        by = ["--by", odd("Ann")]
        return hand.choice(
            [
                ["new", odd("Mill"), "--country", odd("GB"), "--down", odd("160"), "--out", str(self.out)],
                ["new", odd("Mill"), "--up", odd("20"), "--units", odd("metric"), "--out", str(self.out)],
                [*check, "voltage", "--dc", odd("48"), "--ac", odd("0"), "--note", odd("quiet"), *by],
                [*check, "who", "--nobody", "--run", odd("C01"), "--at", odd("MP1"), *by],
                [*check, "withdrawn", "--other", odd("LC01"), *by],
                ["wires", odd("12345678")],
                ["why", str(self.job), odd("Ballroom"), "--stage", odd("before")],
                [odd("check"), odd(str(self.job)), odd("--json")],
            ]
        )

    def _kept(self, hand: random.Random) -> list[str]:
        if hand.random() < 0.5:
            term = {"term": "brick-solid", "shift_db": 2.0, "sd_db": 1.0, "houses": 3, "readings": 20}
            learnt = {"date": "2026-01-01", "houses": 3, "readings": 20, "terms": [term]}
            self.given.write_bytes(broken_document(hand, learnt, json.dumps(learnt)))
            return ["learn", str(self.given), "--into", str(self.job)]
        columns = {"Sig": "power_dbm", "Ort": "room"}
        memory = self.folder / "job.rehaul-columns.json"
        memory.write_bytes(broken_document(hand, columns, json.dumps(columns)))
        self.given.write_text("Ort,Sig\nKitchen,-60\n")
        return ["readings", str(self.job), "--from", str(self.given)]


def broken_text(hand: random.Random, text: str) -> bytes:
    """A table or a list, broken in one to three ways."""
    for _ in range(hand.randint(0, 3)):
        way = hand.randrange(8)
        lines = text.split("\n")
        at = hand.randrange(len(lines))
        if way == 0:
            cells = re.split(r"([,;\t ])", lines[at])
            cells[hand.randrange(len(cells))] = hand.choice(NASTY_NUMBERS + NASTY_TEXTS)
            lines[at] = "".join(cells)
        elif way == 1:
            lines[at] = re.sub(r"[0-9.,]+", lambda found: hand.choice([*NASTY_NUMBERS, found[0]]), lines[at])
        elif way == 2:
            lines.insert(at, lines[hand.randrange(len(lines))])
        elif way == 3:
            del lines[at]
        elif way == 4:
            lines[at] = lines[at][: hand.randrange(len(lines[at]) + 1)]
        elif way == 5:
            lines[at] += hand.choice([",", ";", '"', "\t"]) * hand.choice([1, 3, 200])
        elif way == 6:
            spot = hand.randrange(len(lines[at]) + 1)
            lines[at] = lines[at][:spot] + hand.choice(NASTY_TEXTS) + lines[at][spot:]
        text = hand.choice(["\n", "\n", "\n", "\r", "\r\n"]).join(lines) if way < 7 else text.swapcase()
    return broken_bytes(hand, text.encode("utf-8", "surrogatepass"))


def broken_document(hand: random.Random, data: dict[str, Any], text: str) -> bytes:
    """A document, broken as a tree, as text or as bytes."""
    if hand.random() < 0.75:
        tree = copy.deepcopy(data)
        for _ in range(hand.randint(1, 3)):
            _break_tree(hand, tree)
        text = json.dumps(tree)  # half letters and the like as escapes
        text = re.sub(rf'"{DEEP}([0-9]+)"', lambda found: _nest(hand, int(found[1])), text)
        if hand.random() < 0.3:
            numbers = list(re.finditer(r"(?<=[ \[:])-?[0-9.]+(?=[,\]\s}])", text))
            if numbers:
                found = hand.choice(numbers)
                text = text[: found.start()] + hand.choice(NASTY_NUMBERS) + text[found.end() :]
    return broken_bytes(hand, text.encode())


def _nest(hand: random.Random, deep: int) -> str:
    pairs = [hand.choice([("[", "]"), ('{"a": ', "}")]) for _ in range(deep)]
    return "".join(left for left, _ in pairs) + "1" + "".join(right for _, right in reversed(pairs))


def _break_tree(hand: random.Random, tree: Any) -> None:
    node: Any = tree
    while True:
        keys = list(node) if isinstance(node, dict) else list(range(len(node)))
        if not keys:
            return
        key = hand.choice(keys)
        if isinstance(node[key], dict | list) and node[key] and hand.random() < 0.85:
            node = node[key]
            continue
        break
    way = hand.randrange(7)
    if way == 0:
        del node[key]
    elif way == 1:
        node[key] = hand.choice(NASTY_TEXTS)
    elif way == 2:
        node[key] = hand.choice(
            [0, -1, 1e9, -1e9, 10**30, float("nan"), float("inf"), 3, 0.001, True, False, None]
        )
    elif way == 3:
        node[key] = f"{DEEP}{hand.choice([2, 50, 900])}"
    elif way == 4 and isinstance(node, dict):
        node[hand.choice(NASTY_TEXTS)] = node[key]
    elif way == 5 and isinstance(node, list):
        node.insert(hand.randrange(len(node) + 1), copy.deepcopy(node[key]))
    else:
        node[key] = hand.choice([[], {}, [[]], [1, 2, 3], {"id": "x"}, ""])


def broken_bytes(hand: random.Random, data: bytes) -> bytes:
    """Mostly the same; else cut, flipped, with a mark before it, or in another encoding."""
    way = hand.randrange(20)
    if way == 0:
        return data[: hand.randrange(len(data) + 1)]
    if way == 1 and data:
        at = hand.randrange(len(data))
        return data[:at] + bytes([hand.randrange(256)]) + data[at + 1 :]
    if way == 2:
        return b"\xef\xbb\xbf" + data
    if way == 3:
        return data.decode("utf-8", "replace").encode(hand.choice(["utf-16", "latin-1", "utf-32"]), "replace")
    if way == 4:
        return hand.randbytes(hand.randrange(200))
    return data


def stored_nonsense(path: Path) -> Iterator[str]:
    """What a job that was stored must not hold."""
    try:
        job = open_job(path)
        assert current_job(path) == job
    except Exception as fault:
        yield f"{path.name} does not open again: {fault}"
        return
    yield from (f"{fault} was stored" for fault in nonsense(job))
