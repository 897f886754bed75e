"""The one family of refusals: what is wrong, where, and what to do about it.

Everything else that is raised is a bug and may crash loudly. Faces turn a `Refusal` into one
sentence and exit code 2; they never print a traceback for one.
"""

from __future__ import annotations

from collections.abc import Mapping

from rehaul.words import again, printably, say


class Refusal(Exception):
    """Input that cannot be understood or a request that cannot be met.

    Parameters
    ----------
    problem : what is wrong, in one clause; a saying (`say`), so that every face can say it to its reader
    where : file, line or field path; empty where there is none
    remedy : what the person should do now
    source : document that sets the limit, where there is one
    code : short stable name, the same in CLI and JSON
    """

    code = "refused"

    def __init__(
        self, problem: str, *, where: str = "", remedy: str = "", source: str = "", code: str = ""
    ) -> None:
        self.problem = printably(problem)  # what it quotes from a stranger's file stays on one line
        self.where = printably(where)
        self.remedy = printably(remedy)
        super().__init__(self.problem)
        self.source = source
        if code:
            self.code = code

    def __str__(self) -> str:
        """The refusal in one line, in the language of the present reader."""
        where, problem, remedy = again((self.where, self.problem, self.remedy))
        parts = [_sentence(f"{where}: {problem}" if where else problem)]
        if remedy:
            parts.append(_sentence(remedy))
        if self.source:
            parts.append(f"({self.source})")
        return " ".join(parts)

    def as_dict(self) -> Mapping[str, str]:
        """The refusal as plain data, for JSON: code, problem, where, remedy, source; each is a text.

        What is not known is empty, never left out. Sayings stay sayings: `again` says them to whoever reads.
        """
        return {
            "code": self.code,
            "problem": self.problem,
            "where": self.where,
            "remedy": self.remedy,
            "source": self.source,
        }


class BadInput(Refusal):
    """A file, field or argument that cannot be understood."""

    code = "bad-input"


class OutOfRange(Refusal):
    """A value outside the range in which a formula or table is valid; edges are inside."""

    code = "out-of-range"


class CannotSave(Refusal):
    """The disk or database would not take it; what was saved before is still whole."""

    code = "cannot-save"


class Damaged(Refusal):
    """What is on the disk is not what was put there: nothing is read from it, or written over it."""

    code = "damaged"


class Held(Refusal):
    """A step that an obligation holds back until somebody signs for it."""

    code = "held"


def _sentence(text: str) -> str:
    text = text.strip()
    return text if text.endswith((".", "?", "!")) else text + "."


def require_range(value: float, low: float, high: float, *, name: str, source: str = "") -> float:
    """Return `value` if low <= value <= high, else refuse and name the range. NaN is refused.

    `name` is what the value is called where it came from, `source` the document that sets the range. Raises
    OutOfRange.

    >>> require_range(20.0, -40.0, 90.0, name="temperature_c")
    20.0
    """
    if not (low <= value <= high):
        raise OutOfRange(
            say("refused_common.outside", value=value, low=low, high=high),
            where=name,
            remedy=say("refused_common.give_from_to", low=low, high=high),
            source=source,
        )
    return value
