"""A family's page as it stands: drafted from the season, with the coach's edits, and whether it was read."""

from collections.abc import Sequence
from dataclasses import replace

from evaltrack.analysis.standings.standing import Standing
from evaltrack.rink.family_note import NoteEdits
from evaltrack.rink.note_life import NoteLife, ReadMark, Since
from evaltrack.rink.player import Player
from evaltrack.words.family.drafting import draft_sheet
from evaltrack.words.family.ground import Ground
from evaltrack.words.family.read_mark import read_mark
from evaltrack.words.family.sheet import FamilySheet


def page_in_force(
    ground: Ground, player: Player, standings: Sequence[Standing], life: NoteLife | None
) -> tuple[FamilySheet, ReadMark | None]:
    """Return a page and the marks of what it says; without a life it is a draft, and has none.

    Parameters
    ----------
    standings : this player's, in the order of the catalogue, as of the ground's day.
    """
    if life is None:
        return draft_sheet(ground, player, standings), None
    edits = life.edits
    page = draft_sheet(ground, player, standings, edits)
    mark = read_mark(page, draft_sheet(ground, player, standings, NoteEdits(language=edits.language)))
    return replace(page, is_draft=life.since(mark) is not Since.AS_READ), mark
