"""The life of a family's page: each thing done to it is a fact, and what is in force follows from them."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import cached_property
from typing import NamedTuple
from uuid import UUID

from evaltrack.rink.family_note import Agreed, NoteEdits


class NoteKey(NamedTuple):
    """Which page: of whom, and up to which day it counts. Another day is another page."""

    player: UUID
    as_of: date


class NoteField(StrEnum):
    """What of a page a fact is about."""

    DRAFTED = "drafted"
    WORDS = "words"  # of one sentence
    STRENGTHS = "strengths"
    NEXT_SKILLS = "next_skills"
    COACH_WORDS = "coach_words"
    AGREED = "agreed"  # what; of one thing, as the next two
    WHO_HELPS = "who_helps"
    LOOK_AGAIN = "look_again"
    MEETING = "meeting"
    COACH = "coach"
    LANGUAGE = "language"
    READ = "read"
    PRINTED = "printed"
    DISCUSSED = "discussed"
    LOOKED_BACK = "looked_back"  # at one thing that was agreed


STAYS = (NoteField.DRAFTED, NoteField.PRINTED)  # what has happened on paper is not taken back
AS_DRAFT = "draft"  # of what was printed
OF_THINGS = (NoteField.AGREED, NoteField.WHO_HELPS, NoteField.LOOK_AGAIN)


@dataclass(frozen=True, slots=True)
class NoteFact:
    """One thing that was done to a page. The last one in force of a field, and of what it is about, holds.

    Attributes
    ----------
    value : as text, empty for none: days as 2026-01-20, keys separated by blanks. None puts back what was
        drafted. Of ``read`` it is the marks of what was read (see `ReadMark`), of ``printed`` the form and
        the paper, with a word more of a draft, of ``looked_back`` the day for which it was agreed.
    about : the key of the sentence, or of the thing that was agreed; empty where a page has one only.
    nth : one more than the last one that the file had.
    """

    note: NoteKey
    field: NoteField
    value: str | None = ""
    about: str = ""
    at: int = 0
    tablet: str = ""
    nth: int = 0
    in_force: bool = True

    @property
    def may_go(self) -> bool:
        """Say whether it can be taken back."""
        return self.field not in STAYS


class ReadMark(NamedTuple):
    """What was read: ``page`` stands for all that the page said, ``drafted`` for it before any edit."""

    page: str
    drafted: str

    def __str__(self) -> str:
        return " ".join(self)


class Stage(StrEnum):
    """How far a page has come. ``DUE``: something that was agreed is to be looked at again by now."""

    DRAFT = "draft"
    READ = "read"
    PRINTED = "printed"
    DISCUSSED = "discussed"
    DUE = "due"


class Since(StrEnum):
    """What has become of a page since it was read."""

    NEVER_READ = "never read"
    AS_READ = "as read"
    EDITED = "edited"
    SEASON_CHANGED = "season changed"  # counts were corrected, or a name, or words of ours


@dataclass(frozen=True)
class NoteLife:
    """A page and all that was done to it, in the order in which it was written."""

    key: NoteKey
    facts: tuple[NoteFact, ...] = ()

    @cached_property
    def in_force(self) -> Mapping[tuple[NoteField, str], NoteFact]:
        """Return the fact that holds of each field and what it is about."""
        return {(one.field, one.about): one for one in self.facts if one.in_force}

    def value(self, field: NoteField, about: str = "") -> str | None:
        """Return what holds, None where nothing was said or what was drafted was put back."""
        fact = self.in_force.get((field, about))
        return fact.value if fact else None

    @cached_property
    def things(self) -> dict[str, Agreed]:
        """Return what was agreed, by key, in the order in which it was first said."""
        said = sorted(about for field, about in self.in_force if field is NoteField.AGREED)
        return {about: self._thing(about) for about in said if self.value(NoteField.AGREED, about)}

    def _thing(self, about: str) -> Agreed:
        what, who, again = (self.value(field, about) or "" for field in OF_THINGS)
        return Agreed(what, who, _day(again))

    @cached_property
    def edits(self) -> NoteEdits:
        """Return what the coach changed of the page as it was drafted."""
        words = {
            about: one.value
            for (field, about), one in self.in_force.items()
            if field is NoteField.WORDS and one.value is not None
        }
        return NoteEdits(
            strengths=_keys(self.value(NoteField.STRENGTHS)),
            next_skills=_keys(self.value(NoteField.NEXT_SKILLS)),
            words=words,
            coach_words=self.value(NoteField.COACH_WORDS) or "",
            agreed=tuple(self.things.values()),
            meeting=_day(self.value(NoteField.MEETING)),
            coach=self.value(NoteField.COACH) or "",
            language=self.value(NoteField.LANGUAGE) or "en",
        )

    @property
    def read_mark(self) -> ReadMark | None:
        """Return what was read last, None when that was taken back or never happened."""
        text = self.value(NoteField.READ)
        return ReadMark(*text.split()) if text else None

    def since(self, mark: ReadMark) -> Since:
        """Say what has become of the page since it was read, by the marks of what it says now."""
        read = self.read_mark
        if read is None:
            return Since.NEVER_READ
        if read.page == mark.page:
            return Since.AS_READ
        return Since.SEASON_CHANGED if read.drafted != mark.drafted else Since.EDITED

    @property
    def printed(self) -> tuple[NoteFact, ...]:
        """Return each time that it was printed."""
        return tuple(one for one in self.facts if one.field is NoteField.PRINTED)

    @property
    def discussed(self) -> date | None:
        """Return the day on which it was talked over with the family."""
        return _day(self.value(NoteField.DISCUSSED))

    def looked_at(self, about: str) -> bool:
        """Say whether a thing that was agreed was looked at again, for the day that holds now."""
        looked = self.value(NoteField.LOOKED_BACK, about)
        return looked is not None and looked == (self.value(NoteField.LOOK_AGAIN, about) or "")

    def due(self, today: date) -> list[str]:
        """Return the keys of what was agreed and is to be looked at again by now."""
        open_ones = {about: one.look_again for about, one in self.things.items() if one.look_again}
        return [about for about, day in open_ones.items() if day <= today and not self.looked_at(about)]

    def next_look(self) -> date | None:
        """Return the first day on which something that was agreed is still to be looked at again."""
        days = (one.look_again for about, one in self.things.items() if not self.looked_at(about))
        return min(filter(None, days), default=None)

    def stage(self, mark: ReadMark, today: date) -> Stage:
        """Return how far the page has come, by the marks of what it says now."""
        if self.due(today):
            return Stage.DUE
        if self.discussed:
            return Stage.DISCUSSED
        if self.since(mark) is not Since.AS_READ:
            return Stage.DRAFT
        read = self.in_force[NoteField.READ, ""]
        given = (one for one in self.printed if AS_DRAFT not in one.value.split())
        later = any((one.nth, one.tablet) > (read.nth, read.tablet) for one in given)
        return Stage.PRINTED if later else Stage.READ


def lives_of(facts: tuple[NoteFact, ...] | list[NoteFact]) -> dict[NoteKey, NoteLife]:
    """Return the pages that facts are about, each with its own, in the order given."""
    found: dict[NoteKey, list[NoteFact]] = {}
    for one in facts:
        found.setdefault(one.note, []).append(one)
    return {key: NoteLife(key, tuple(own)) for key, own in found.items()}


def _keys(text: str | None) -> tuple[str, ...] | None:
    return None if text is None else tuple(text.split())


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
