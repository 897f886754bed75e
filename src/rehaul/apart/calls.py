"""The filter of system calls, as a program for the kernel: everything but what a reader has no use for."""

from __future__ import annotations

import struct
from collections.abc import Sequence
from dataclasses import dataclass

LOAD, EQUAL, AT_LEAST, ANY_BIT, RETURN = 0x20, 0x15, 0x35, 0x45, 0x06
ALLOW, KILL, REFUSE = 0x7FFF0000, 0x80000000, 0x00050000  # the last with the error's number
NOT_PERMITTED, NO_SUCH_CALL = 1, 38
NUMBER, ARCHITECTURE = 0, 4  # places in what the kernel shows of a call
OTHER_TABLE = 0x40000000  # calls of the 32-bit pointer table of x86-64 start here
THREAD = 0x00010000  # the flag of clone that makes a thread and not a process


def argument(index: int, *, high: bool = False) -> int:
    """Where half of an argument of a system call lies in what the kernel shows of it, in bytes.

    `index` counts arguments from 0; `high` asks for the upper 32 bits of 64. **Validity**: machines whose
    lower half comes first. **Source**: `struct seccomp_data` of the Linux kernel.

    >>> argument(0), argument(2, high=True)
    (16, 36)
    """
    return 16 + 8 * index + (4 if high else 0)


@dataclass(frozen=True)
class Calls:
    """Numbers of system calls on one architecture."""

    architecture: int
    refused: tuple[int, ...]
    clone: int
    clone3: int
    tgkill: int
    prlimit: int
    seccomp: int

    def program(self, pid: int) -> bytes:
        """The filter as the kernel takes it: rows of eight bytes.

        A rule ends in a verdict or falls through with the call's number loaded; what no rule names is
        allowed. `pid` is the process's own, which alone it may signal. **Source**: classic BPF as seccomp
        takes it.
        """
        no, unknown = REFUSE | NOT_PERMITTED, REFUSE | NO_SUCH_CALL
        rows = [_row(LOAD, ARCHITECTURE), _row(EQUAL, self.architecture, 1, 0), _row(RETURN, KILL)]
        rows += [_row(LOAD, NUMBER), _row(AT_LEAST, OTHER_TABLE, 0, 1), _row(RETURN, no)]
        for number in self.refused:
            rows += _when(number, [_row(RETURN, no)])
        rows += _when(self.clone3, [_row(RETURN, unknown)])  # its flags lie in memory: clone is tried then
        rows += _when(self.clone, [_row(LOAD, argument(0)), _row(ANY_BIT, THREAD, 1, 0), _row(RETURN, no),
                                   _row(RETURN, ALLOW)])  # fmt: skip
        rows += _when(self.tgkill, [_row(LOAD, argument(0)), _row(EQUAL, pid, 1, 0), _row(RETURN, no),
                                    _row(RETURN, ALLOW)])  # fmt: skip
        asks = [_row(LOAD, argument(2)), _row(EQUAL, 0, 1, 0), _row(RETURN, no)]
        asks += [_row(LOAD, argument(2, high=True)), _row(EQUAL, 0, 1, 0), _row(RETURN, no)]
        rows += _when(self.prlimit, [*asks, _row(RETURN, ALLOW)])  # asking for a limit, not setting one
        return b"".join([*rows, _row(RETURN, ALLOW)])


def _when(number: int, rows: Sequence[bytes]) -> list[bytes]:
    return [_row(EQUAL, number, 0, len(rows)), *rows]


def _row(code: int, value: int, on_true: int = 0, on_false: int = 0) -> bytes:
    return struct.pack("=HBBI", code, on_true, on_false, value)


# Rows of both say the same; what one has and the other lacks (fork, vfork, chmod) is missing there.
X86_64 = Calls(
    architecture=0xC000003E,
    refused=(
        *(41, 42, 43, 44, 49, 50, 53, 288),  # sockets: make, connect, accept, send, bind, listen, pair
        *(57, 58, 59, 322),  # fork, vfork, execve, execveat
        *(62, 129, 200, 297, 424, 434, 438),  # signals to others and handles on them
        *(101, 310, 311, 312),  # ptrace, other processes' memory, kcmp
        *(160, 90, 91, 92, 93, 94, 260, 268, 452, 132, 235, 261, 280),  # limits, modes, owners, times
        *(188, 189, 190, 197, 198, 199),  # extended attributes
        *(155, 161, 165, 166, 167, 168, 169, 175, 176, 246, 272, 304, 308, 313, 320),  # the system itself
        *(428, 429, 430, 431, 432, 433, 442),  # mounts
        *(248, 249, 250, 298, 319, 321, 323, 425, 426, 427),  # keys, counters, memory files, bpf, io_uring
    ),
    clone=56, clone3=435, tgkill=234, prlimit=302, seccomp=317,
)  # fmt: skip
ARM64 = Calls(
    architecture=0xC00000B7,
    refused=(
        *(198, 199, 200, 201, 202, 203, 206, 242),
        *(221, 281),
        *(129, 130, 138, 240, 424, 434, 438),
        *(117, 270, 271, 272),
        *(164, 52, 53, 54, 55, 452, 88),
        *(5, 6, 7, 14, 15, 16),
        *(39, 40, 41, 51, 97, 104, 105, 106, 142, 224, 225, 265, 268, 273, 294),
        *(428, 429, 430, 431, 432, 433, 442),
        *(217, 218, 219, 241, 279, 280, 282, 425, 426, 427),
    ),
    clone=220, clone3=435, tgkill=131, prlimit=261, seccomp=277,
)  # fmt: skip
ARCHITECTURES = {"x86_64": X86_64, "aarch64": ARM64}
