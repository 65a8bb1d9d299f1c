"""A family's page as it stands: drafted from the season, with the coach's edits, and whether it was read."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from uuid import UUID

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import Language, language
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.note_life import NoteKey, NoteLife, ReadMark, Since
from evaltrack.rink.player import Player
from evaltrack.words.family.drafting import draft_sheet, read_ground
from evaltrack.words.family.ground import Ground
from evaltrack.words.family.page_language import page_language
from evaltrack.words.family.read_mark import read_mark
from evaltrack.words.family.sheet import FamilySheet


def page_in_force(
    ground: Ground, player: Player, standings: Sequence[Standing], life: NoteLife | None
) -> tuple[FamilySheet, ReadMark | None]:
    """Return a page and the marks of what it says; without a life it is a draft, and has none.

    The mark of the page before any edit is that of its English words: its language is an edit like others.

    Parameters
    ----------
    standings : this player's, in the order of the catalogue, as of the ground's day.
    """
    if life is None:
        return draft_sheet(ground, player, standings), None
    edits = life.edits
    page = draft_sheet(ground, player, standings, edits)
    mark = read_mark(page, draft_sheet(ground, player, standings))
    return replace(page, is_draft=life.since(mark) is not Since.AS_READ), mark


@dataclass(frozen=True, slots=True)
class Kept:
    """What is kept of the pages of a day, by jersey number: what the coach changed, and who was read.

    ``languages`` has the one of the newest page of a family, of whichever day.
    """

    as_of: date | None = None
    edits: dict[str, NoteEdits] = field(default_factory=dict)
    read: set[str] = field(default_factory=set)
    languages: dict[str, str] = field(default_factory=dict)

    def edits_with(self, meeting: date | None, players: Iterable[Player]) -> dict[str, NoteEdits]:
        """Return what the coach changed of the pages of these players.

        Those of which nothing is kept have the day of the meeting, and the language of the family's last
        page, else the one in force.
        """
        usual = str(language())
        fresh = {
            player.number: NoteEdits(meeting=meeting, language=self.languages.get(player.number, usual))
            for player in players
        }
        return fresh | self.edits

    def in_language(self, wanted: Language | None) -> "Kept":
        """Return it with every page in one language, if one is wanted: read in another, it is a draft."""
        if wanted is None:
            return self
        other = {number for number, one in self.edits.items() if page_language(one.language) is not wanted}
        edits = {number: replace(one, language=str(wanted)) for number, one in self.edits.items()}
        return replace(
            self, edits=edits, read=self.read - other, languages=dict.fromkeys(self.languages, str(wanted))
        )


@dataclass(frozen=True, slots=True)
class Pages:
    """What the coach changed of the pages of one day, and what was agreed before it, by player."""

    edits: dict[UUID, NoteEdits] = field(default_factory=dict)
    agreed: dict[UUID, tuple[Agreed, ...]] = field(default_factory=dict)


def read_pages(season, ground: Ground | None, meeting: date | None = None) -> Pages:
    """Read what a card for a meeting needs of the families' pages.

    Parameters
    ----------
    ground : of the pages' day.
    meeting : the day of the meeting that the card is for; a page of that same day that was talked over
        earlier tells what was agreed before it.
    """
    pages, last = Pages(), ground.axis.last if ground else None
    for key, life in sorted(season.notes.all().items(), key=lambda one: one[0].as_of):
        if key.as_of == last:
            pages.edits[key.player] = life.edits
        if life.edits.agreed and _is_before(life, last, meeting):
            pages.agreed[key.player] = life.edits.agreed
    return pages


def _is_before(life: NoteLife, last: date | None, meeting: date | None) -> bool:
    """Say whether what stands on a page was agreed before the meeting where that of `last` is shown."""
    if last is None or life.key.as_of != last:
        return last is None or life.key.as_of < last
    day = life.discussed or life.edits.meeting
    return bool(day and meeting and day < meeting)


def read_kept(
    season, standings: Iterable[Standing], players: Iterable[Player], as_of: date | None = None
) -> Kept:
    """Read what is kept of these players' pages.

    Parameters
    ----------
    season : an open season file.
    standings : of those wanted at least, as of the same day.
    as_of : the day up to which the pages count; without one, the last practice.
    """
    lives, ground = season.notes.all(), read_ground(season, as_of)
    if not lives or ground is None:
        return Kept()
    kept, known, players = Kept(ground.axis.last), list(standings), list(players)
    newest = {key.player: life for key, life in sorted(lives.items(), key=lambda one: one[0].as_of)}
    for player in players:
        if player.id in newest:
            kept.languages[player.number] = newest[player.id].edits.language
        life = lives.get(NoteKey(player.id, ground.axis.last))
        if life is not None:
            own = [one for one in known if one.player == player.number]
            page, _ = page_in_force(ground, player, own, life)
            kept.edits[player.number] = life.edits
            if not page.is_draft:
                kept.read.add(player.number)
    return kept
