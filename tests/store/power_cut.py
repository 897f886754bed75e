"""Disks as a power cut may leave them, from the recorded system calls of a writer.

What was flushed is there. Of what was not, any part may be there and any part not, writes torn at sectors;
names that were made, changed or taken away and not flushed are there up to some point. The disk does not lie
about flushing.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

SECTOR = 512
CALL = re.compile(r"^(?:\[pid\s+\d+\]\s|\d+\s+)?(\w+)\((.*)\)\s+=\s+(-?\d+)")
TEXT = re.compile(r'"((?:\\x[0-9a-f]{2})*)"')


@dataclass(frozen=True)
class Event:
    """One thing that a writer did to a disk, or acknowledged."""

    what: str  # write, truncate, sync, name, rename, link, unlink, acknowledge
    file: int = 0  # which file, whatever it is called
    name: str = ""
    to: str = ""
    at: int = 0
    data: bytes = b""


def recorded(trace: str, folder: Path) -> list[Event]:
    """Events of a trace (strace -f -xx) that touch a folder."""
    found: list[Event] = []
    files: dict[str, int] = {}
    handles: dict[int, tuple[int, str]] = {}
    places: dict[int, int] = {}
    count = 0
    for call, words, result in _calls(trace):
        texts = [bytes.fromhex(text.replace("\\x", "")) for text in TEXT.findall(words)]
        if result < 0:
            continue
        if call == "openat":
            path = texts[0].decode()
            if not path.startswith(str(folder)):
                handles.pop(result, None)
                continue
            if path == str(folder):
                handles[result], places[result] = (0, path), 0
                continue
            if path not in files:
                count += 1
                files[path] = count
                found.append(Event("name", files[path], path))
            if "O_TRUNC" in words:
                found.append(Event("truncate", files[path]))
            handles[result], places[result] = (files[path], path), 0
        elif call in ("rename", "renameat", "renameat2", "link", "linkat"):
            old, new = texts[0].decode(), texts[1].decode()
            if old in files:
                files[new] = files[old]
                if call.startswith("rename"):
                    del files[old]
                found.append(Event(call[:6] if call.startswith("rename") else "link", files[new], old, new))
        elif call in ("unlink", "unlinkat") and texts[0].decode() in files:
            found.append(Event("unlink", files.pop(texts[0].decode()), texts[0].decode()))
        elif call == "write" and words.startswith("1,"):
            said = texts[0].decode()
            if said.startswith("ack "):
                found.append(Event("acknowledge", at=int(said.split()[1])))
        elif (handle := re.match(r"(\d+)", words)) and int(handle[1]) in handles:
            number = int(handle[1])
            of, path = handles[number]
            if call == "pwrite64":
                at = int(words.rsplit(",", 1)[1])
                found.append(Event("write", of, path, at=at, data=texts[0][:result]))
            elif call == "write":
                found.append(Event("write", of, path, at=places[number], data=texts[0][:result]))
                places[number] += result
            elif call == "read":
                places[number] += result
            elif call == "lseek":
                places[number] = result
            elif call == "ftruncate":
                found.append(Event("truncate", of, path, at=int(words.split(",")[1])))
            elif call in ("fsync", "fdatasync"):
                found.append(Event("sync", of, path))
            elif call == "close":
                del handles[number]
    return found


def _calls(trace: str) -> Iterator[tuple[str, str, int]]:
    for line in trace.splitlines():
        if match := CALL.match(line):
            yield match[1], match[2], int(match[3])


@dataclass
class Disk:
    """What is on the disk for certain, and what may be."""

    contents: dict[int, bytearray] = field(default_factory=dict)
    names: dict[str, int] = field(default_factory=dict)
    pending: dict[int, list[Event]] = field(default_factory=dict)
    naming: list[Event] = field(default_factory=list)

    def take(self, event: Event) -> None:
        if event.what in ("write", "truncate"):
            self.pending.setdefault(event.file, []).append(event)
        elif event.what in ("name", "rename", "link", "unlink"):
            self.naming.append(event)
        elif event.what == "sync":
            # flushing a file brings its own name too, and flushing a folder all names in it
            for waiting in self.naming:
                _rename(self.names, waiting)
            self.naming.clear()
            for waiting in self.pending.pop(event.file, []):
                _put(self.contents.setdefault(event.file, bytearray()), waiting)

    def settle(self) -> None:
        """All of it is flushed."""
        for of in list(self.pending):
            self.take(Event("sync", of))
        self.take(Event("sync"))

    def left(self, random_: random.Random) -> dict[str, bytes]:
        """One of the states that a cut now may leave, by name."""
        names, contents = dict(self.names), {of: bytearray(data) for of, data in self.contents.items()}
        for waiting in self.naming[: random_.randint(0, len(self.naming))]:
            _rename(names, waiting)
        for of, events in self.pending.items():
            kept = random_.random()
            for event in events:
                if random_.random() > kept:
                    continue
                part = event
                if event.what == "write" and random_.random() < 0.3:  # torn
                    end = random_.randrange(0, len(event.data) + SECTOR, SECTOR)
                    part = Event("write", of, at=event.at, data=event.data[:end])
                _put(contents.setdefault(of, bytearray()), part)
        return {name: bytes(contents.get(of, b"")) for name, of in names.items()}


def _put(data: bytearray, event: Event) -> None:
    if event.what == "truncate":
        del data[event.at :]
        data.extend(bytes(event.at - len(data)))
        return
    if len(data) < event.at:
        data.extend(bytes(event.at - len(data)))
    data[event.at : event.at + len(event.data)] = event.data


def _rename(names: dict[str, int], event: Event) -> None:
    if event.what == "name":
        names[event.name] = event.file
    elif event.what == "link":
        names[event.to] = event.file
    elif event.what == "rename":
        names.pop(event.name, None)
        names[event.to] = event.file
    else:
        names.pop(event.name, None)
