"""Everything that one family's page says, as plain data. Whatever prints or shows it decides nothing."""

from dataclasses import dataclass
from datetime import date

from evaltrack.analysis.standings.standing import PathPoint, Seen
from evaltrack.rink.family_note import Agreed
from evaltrack.rink.player import Position
from evaltrack.words.date_axis import DateAxis

SEEN, GOING_WELL, NEXT, AT_HOME, COACH, AGREED = "seen", "going_well", "next", "at_home", "coach", "agreed"
PARTS = (SEEN, GOING_WELL, NEXT, AT_HOME, COACH, AGREED)  # in the order of the page


@dataclass(frozen=True, slots=True)
class Sentence:
    """One or more whole sentences that are edited together.

    Attributes
    ----------
    key : the same for the same thing in every draft, as in ``going_well.outlet_pass``.
    skill : the key of the skill that it speaks of, if it speaks of one.
    own : whether these are the coach's words.
    lead : the beginning of the text that may be set in heavier type; empty where it does not begin
        with the name of its skill.
    """

    key: str
    text: str
    skill: str = ""
    own: bool = False
    lead: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the page: its key is one of ``PARTS``. With ``to_write`` there is room to write after it.

    A part with neither sentences nor room to write is left out of the page.
    """

    key: str
    heading: str
    sentences: tuple[Sentence, ...] = ()
    to_write: bool = False


@dataclass(frozen=True, slots=True)
class SkillRow:
    """One skill with its count, words and chart.

    ``level`` says where it is solid, and how often it could work now: the first is so with ``is_solid``, the
    second with ``is_ranged``. ``path`` runs only over the days for
    which the player was seen in this skill, and is empty when the estimate does not stand: then there is no
    chart. ``chart_words`` is the chart in words.
    """

    name: str
    looks_like: str
    count: str
    share: str
    direction: str
    level: str
    chart_words: str
    path: tuple[PathPoint, ...]
    seen: tuple[Seen, ...]
    is_solid: bool = False
    is_ranged: bool = False

    @property
    def drawn(self) -> bool:
        """Whether the row has a chart."""
        return bool(self.path)


@dataclass(frozen=True, slots=True)
class FamilySheet:
    """One family's page.

    Attributes
    ----------
    position, plays : in words, as in ``defender and forward``, and the groups that these name.
    axis : the days that all charts share.
    meeting, coach : the day of the meeting and the coach's name; None and empty when they are not known.
    parts : all six, in the order of the page; the rows of skills stand between the second and the third.
    rows : one for each skill with enough tries.
    how_to_read : explains what is on this page and nothing else.
    thin : of which skills there is too little yet, and what it takes; empty when there are none.
    footers : what stands on every page, whatever the counts.
    is_draft : whether the page must carry the word.
    language : a BCP 47 tag, as in ``fr-CA``.
    doubts : for the coach and never printed: what does not stand, and what of the edits finds no place.
    agreed : what the part ``agreed`` says, for pages that set it as a table.
    """

    team: str
    number: str
    name: str
    position: str
    axis: DateAxis
    meeting: date | None
    coach: str
    parts: tuple[Part, ...]
    rows: tuple[SkillRow, ...]
    how_to_read: str
    thin: str
    footers: tuple[str, ...]
    is_draft: bool = True
    language: str = "en"
    doubts: tuple[str, ...] = ()
    agreed: tuple[Agreed, ...] = ()
    plays: tuple[Position, ...] = ()

    def part(self, key: str) -> Part:
        """Return the part with this key."""
        return next(part for part in self.parts if part.key == key)
