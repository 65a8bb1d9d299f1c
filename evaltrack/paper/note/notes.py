"""One page for each family, each its own file, so that nobody gets another child's page by mistake."""

import os
from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from pathlib import Path

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.intake.saving import new_folder, save
from evaltrack.language import language, mark, tr
from evaltrack.paper.note.concerns import concerns
from evaltrack.paper.note.filenames import note_name, unique
from evaltrack.paper.note.forms import SUFFIXES, Wanted, made
from evaltrack.rink.family_note import NoteEdits
from evaltrack.rink.player import Player
from evaltrack.words.family.drafting import draft_sheet, read_ground
from evaltrack.words.family.page_language import page_language
from evaltrack.words.family.sheet import FamilySheet
from evaltrack.words.wording import ENOUGH

TOO_LITTLE = mark("no page yet: no skill has {enough}")
NO_PRACTICE = mark("no page yet: no practice was held by then")


@dataclass(frozen=True, slots=True)
class WrittenNote:
    """What became of one player's page.

    ``path`` is None and ``pages`` 0 when none was written; ``problem`` then says why. With a path,
    ``problem`` is what the coach must look at before giving the page away, or None. ``page`` is what was
    written.
    """

    player: Player
    path: Path | None
    pages: int
    problem: str | None = None
    page: FamilySheet | None = None


def write_notes(
    season,
    standings: Iterable[Standing],
    folder: str | os.PathLike,
    players: Iterable[Player] | None = None,
    as_of: date | None = None,
    wanted: Wanted | None = None,
    edits: Mapping[str, NoteEdits] | None = None,
    read: Container[str] = (),
    on_written: Callable[[WrittenNote], None] | None = None,
) -> list[WrittenNote]:
    """Write the pages of these players, or of the whole roster, as one file each.

    Parameters
    ----------
    standings : of those wanted at least, as of the same day.
    folder : made when it is not there. The same page as of the same day is replaced; one in
        another language, on another paper or in another size is not: see ``Wanted.differs``.
    as_of : the day up to which is counted; without one, the last practice.
    wanted : the form, the paper and the like; None is a PDF on Letter.
    edits : jersey number to what the coach changed of the page; one that is not among them is in the
        language in force.
    read : jersey numbers of those whose page the coach has read; all others are drafts.
    on_written : called with each note as soon as it is done, for showing progress.

    Returns
    -------
    One WrittenNote for each player, in the order given, also for those who have no page yet.

    Raises
    ------
    EvaltrackError : the folder cannot be made or a file cannot be written.
    """
    roster, team = season.people.everyone(), season.people.players()
    folder, ground, wanted = Path(folder), read_ground(season, as_of), wanted or Wanted()
    own, edits, taken = _by_player(standings), edits or {}, set()
    notes = []
    with new_folder(folder):
        for player in team if players is None else players:
            told = own.get(player.number, [])
            if ground is None:
                notes.append(WrittenNote(player, None, 0, tr(NO_PRACTICE)))
            elif all(s.call is Call.TOO_FEW for s in told):
                notes.append(WrittenNote(player, None, 0, tr(TOO_LITTLE, enough=tr(ENOUGH))))
            else:
                changed = edits.get(player.number) or NoteEdits(language=str(language()))
                page = draft_sheet(ground, player, told, changed, player.number not in read)
                differs = wanted.differs(page_language(page.language))
                stem = unique(note_name(player, ground.axis.last, wanted.by_number, differs), taken)
                target = folder / (stem + SUFFIXES[wanted.form])
                notes.append(write_page(page, player, roster, target, wanted))
            if on_written:
                on_written(notes[-1])
    return notes


def write_page(
    page: FamilySheet, player: Player, roster: Sequence[Player], target: Path, wanted: Wanted | None = None
) -> WrittenNote:
    """Write one page, unless it names another child.

    Parameters
    ----------
    roster : everyone whom the page must not name, also who has left; the player may be among them.
    target : the file, which is replaced; its ending is that of the form.

    Raises
    ------
    EvaltrackError : the file cannot be written.
    """
    wanted = wanted or Wanted()
    found = concerns(page, player, roster, on_paper=wanted.form == "pdf")
    stopped = [concern.sentence for concern in found if concern.stops]
    if stopped:
        return WrittenNote(player, None, 0, "; ".join(stopped))
    result = made(page, wanted)
    save(target, result.content)
    told = any(concern.is_letter for concern in found)  # better than the printing could: with its place
    problems = [*(concern.sentence for concern in found), None if told else result.problem, *page.doubts]
    return WrittenNote(player, target, result.pages, "; ".join(filter(None, problems)) or None, page)


def _by_player(standings: Iterable[Standing]) -> dict[str, list[Standing]]:
    ordered = sorted(standings, key=lambda s: s.player)
    return {number: list(own) for number, own in groupby(ordered, key=lambda s: s.player)}
