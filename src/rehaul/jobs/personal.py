"""What of a job is personal, field by field, and the job without it.

Whatever people type freely may name somebody, so every text of the document stands in one of the lists below;
one that stands in none is a fault that a test finds. What stays are numbers, choices from lists, ids, days,
and the names that the fact tables have.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from rehaul.house import AcceptedOffer, Job, Model, SignOff
from rehaul.jobs.chain import ERASED
from rehaul.jobs.state import Dropped, JobState, Touch

EMPTIED = frozenset(
    {
        "Job.notes", "Contacts.household", "Contacts.address", "Wall.note", "Outlet.note", "Outlet.old_label",
        "Run.note", "Obligation.who", "Reading.note", "TraceReading.reason", "LineCheck.note", "Tick.note",
        "Acceptance.note", "AcceptedOffer.offer", "AcceptedOffer.plan",
    }
)  # fmt: skip
REPLACED: Mapping[str, str] = {
    "Job.title": "Erased job",
    "House.name": "House",
    "SignOff.words": ERASED,
    "Tick.despite": ERASED,
}  # by what stands there then; an empty text stays empty
BY_ID = frozenset(
    {"Storey.name", "Room.name", "MeetingPoint.name", "Splitter.name", "Box.name", "Device.name"}
)
SIGNED = "SignOff.by"  # stays where it is the firm's
WHOSE = "Room.household"  # another household's rooms stay such
# Who worked, on which day, at what: stays, unless it names the household.
WORKED = frozenset(
    {
        "RunTest.by", "PlacedPlug.by", "TraceReading.by", "LineCheck.by", "Tick.by", "Contacts.technician",
        "Contacts.firm",
    }
)  # fmt: skip
SAFETY = frozenset(
    {"Hazard.where", "Run.sheath_print"}
)  # stays, unless a word of the household's name is in it
DAYS = frozenset(
    {
        "Job.date", "RunTest.date", "Reading.time", "Heard.time", "PlacedPlug.time", "TraceReading.time",
        "LineCheck.time", "Tick.time", "Learnt.date",
    }
)  # fmt: skip
LISTED = frozenset(
    {
        "Slab.construction", "Wall.construction", "Opening.construction", "Body.construction",
        "Layer.material", "Box.equipment", "Device.client", "Need.client", "Need.uses", "LearntTerm.term",
        "Tick.task", "AcceptedOffer.option",
    }
)  # fmt: skip
_DAY = re.compile(r"[0-9][0-9T:+.Z -]{0,39}")
_NO_NAMES = frozenset({"and", "the", "mrs", "miss", "family", "house", "household", ERASED})
SHORTEST_WORD = 3


@dataclass(frozen=True)
class Household:
    """By which names a household is known, and which are the firm's."""

    names: frozenset[str] = frozenset()  # folded
    firm: frozenset[str] = frozenset()

    def is_of_it(self, name: str) -> bool:
        """Whether a name is one of its people's: whole, or a part of one, or one with more about it.

        Case and the number of blanks do not count; parts count as whole words. The firm's own names never
        are.
        """
        text = _folded(name)
        if not text or text in self.firm:
            return False
        return any(_within(text, known) or _within(known, text) for known in self.names)

    def is_named_in(self, text: str) -> bool:
        """Whether a word of its names stands in a text, as a word.

        Words of less than three letters, and such as "family" or "house", do not count: they name nobody.
        **Source**: docs/security.md, "A household's data, erased for good".
        """
        said = _folded(text)
        words = {word for known in self.names for word in re.findall(r"\w+", known)}
        return any(
            len(word) >= SHORTEST_WORD and word not in _NO_NAMES and _within(word, said) for word in words
        )


@dataclass(frozen=True)
class PersonalText:
    """One personal text of a document."""

    at: str  # path of the field
    was: str
    becomes: str


@dataclass
class _Walk:
    household: Household
    keep_signer: bool
    others: dict[str, str] = field(default_factory=dict)  # what other households are called from now on
    found: list[PersonalText] = field(default_factory=list)


def household_of(job: Job, more: Iterable[str] = (), changes: Iterable[Mapping[str, Any]] = ()) -> Household:
    """The names by which a job, and changes of its log, name the household; `more` as said by a person.

    Who signed for something is not among them: that may be one of the crew, on whose tablet it was.
    **Source**: docs/security.md, "A household's data, erased for good".
    """
    data = job.model_dump(mode="json")
    found = {_folded(name) for name in (*more, job.contacts.household)}
    firm = {_folded(name) for name in (job.contacts.technician, job.contacts.firm)} - found - {""}
    for document in (data, *changes):
        found |= {_folded(name) for name in _names(document)}
    unnamed = {name for name in found if name == ERASED or _numbered(name)}
    return Household(frozenset(name for name in found - firm - unnamed if len(name) >= 2), frozenset(firm))


def _names(data: object) -> Iterable[str]:
    """What stands in plain data where a household is named."""
    if isinstance(data, Mapping):
        for name, value in data.items():
            if name == "household" and isinstance(value, str):
                yield value
            else:
                yield from _names(value)
    elif isinstance(data, list | tuple):
        for value in data:
            yield from _names(value)


def without_personal(
    state: JobState, household: Household, *, keep_signer: bool = False
) -> tuple[JobState, tuple[PersonalText, ...]]:
    """The state with nothing personal in it, and what was found.

    Parameters: `keep_signer`, the name of who accepted an offer stays.
    """
    walk = _Walk(household, keep_signer)
    walk.others |= {
        room.household: room.household for room in state.job.house.rooms if _numbered(room.household)
    }
    job = _without(state.job, "job", walk)
    assert isinstance(job, Job)
    dropped = {}
    for name, gone in state.dropped.items():
        entity = _without(gone.entity, f"taken away: {gone.kind} {name}", walk)
        dropped[name] = Dropped(gone.kind, entity, _touch(gone.touch, household))
    touched = {key: _touch(touch, household) for key, touch in state.touched.items()}
    return replace(state, job=job, dropped=dropped, touched=touched), tuple(walk.found)


def who_worked(job: Job) -> list[str]:
    """Names that stand where somebody measured, tested or ticked off, in order of the alphabet, each once.

    Without the firm's name, and what was erased.
    """
    found = set()

    def look(thing: Model) -> None:
        for name in type(thing).model_fields:
            value = getattr(thing, name)
            if isinstance(value, str) and value and f"{type(thing).__name__}.{name}" in WORKED:
                found.add(value)
            for one in value if isinstance(value, tuple) else (value,):
                if isinstance(one, Model):
                    look(one)

    look(job)
    return sorted(found - {ERASED, job.contacts.firm})


def _touch(touch: Touch, household: Household) -> Touch:
    return replace(touch, person=ERASED) if household.is_of_it(touch.person) else touch


def _without(thing: Model, at: str, walk: _Walk) -> Model:
    new: dict[str, Any] = {}
    for name in type(thing).model_fields:
        value = getattr(thing, name)
        path = f"{at}.{name}".removeprefix("job.")
        kept: Any
        if isinstance(value, str):
            kept = _text(thing, name, value, walk)
            if kept != value:
                walk.found.append(PersonalText(path, value, kept))
        elif isinstance(value, SignOff) and isinstance(thing, AcceptedOffer) and walk.keep_signer:
            words = ERASED if value.words else ""
            kept = value.model_copy(update={"words": words})
            if words != value.words:
                walk.found.append(PersonalText(f"{path}.words", value.words, words))
        elif isinstance(value, Model):
            kept = _without(value, path, walk)
        elif isinstance(value, tuple) and any(isinstance(one, Model) for one in value):
            kept = tuple(_without(one, f"{path}[{_name(one, i)}]", walk) for i, one in enumerate(value))
        else:
            continue
        new[name] = kept
    return thing.model_copy(update=new)


def _name(thing: Any, number: int) -> str:
    return str(getattr(thing, "id", number))


def _text(thing: Model, name: str, value: str, walk: _Walk) -> str:
    """What stands in a field afterwards."""
    at, household = f"{type(thing).__name__}.{name}", walk.household
    if not value or at in LISTED:
        return value
    if at in EMPTIED:
        return ""
    if at in REPLACED:
        return REPLACED[at]
    if at in BY_ID:
        return str(getattr(thing, "id"))  # noqa: B009
    if at == SIGNED:
        return value if _folded(value) in household.firm else ERASED
    if at == WHOSE:
        number = 1
        while (free := f"household {number}") in walk.others.values():
            number += 1
        return value if _numbered(value) else walk.others.setdefault(value.strip(), free)
    if at in WORKED:
        return ERASED if household.is_of_it(value) else value
    if at in SAFETY:
        return ERASED if household.is_named_in(value) else value
    if at in DAYS:
        return value if _DAY.fullmatch(value.strip()) else ""
    return value  # an id, or a code of a pattern


def _numbered(household: str) -> bool:
    return re.fullmatch(r"household [0-9]+", household) is not None


def _folded(text: str) -> str:
    return " ".join(text.split()).casefold()


def _within(part: str, whole: str) -> bool:
    """Whether words stand in a text as words."""
    return bool(part) and re.search(rf"(?<!\w){re.escape(part)}(?!\w)", whole) is not None
