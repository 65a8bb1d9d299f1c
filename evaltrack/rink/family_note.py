"""A family's note: what the coach changed of the page as it was drafted, and what was agreed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, slots=True)
class Agreed:
    """One thing that was agreed: what will be tried, who helps, and on which day it is looked at again."""

    what: str
    who_helps: str = ""
    look_again: date | None = None


@dataclass(frozen=True, slots=True)
class NoteEdits:
    """What the coach changed of a drafted page; the empty one changes nothing.

    Attributes
    ----------
    strengths, next_skills : keys of the skills that the coach picked, in the order of the page; None leaves
        them as drafted, an empty tuple leaves none.
    words : the key of a sentence to the coach's own words for it; an empty text leaves the sentence out.
    coach_words : the coach's own paragraphs; a line end starts a new one.
    agreed : what was agreed at the meeting.
    meeting : the day of the meeting.
    coach : the coach's name as it stands on the page.
    language : of the page, as in ``en``.
    """

    strengths: tuple[str, ...] | None = None
    next_skills: tuple[str, ...] | None = None
    words: Mapping[str, str] = field(default_factory=dict)
    coach_words: str = ""
    agreed: tuple[Agreed, ...] = ()
    meeting: date | None = None
    coach: str = ""
    language: str = "en"
