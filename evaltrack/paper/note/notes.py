"""One page for each family, each its own file, so that nobody gets another child's page by mistake."""

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from pathlib import Path

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.intake.saving import make_folder, save
from evaltrack.paper.note.filenames import note_name, unique
from evaltrack.paper.note.mentions import full_names_in, parts_of_names_in
from evaltrack.paper.note.page import Ground, Page, make_page, read_ground
from evaltrack.rink.player import Player
from evaltrack.words.wording import ENOUGH

TOO_LITTLE = f"no page yet: no skill has {ENOUGH}"


@dataclass(frozen=True, slots=True)
class WrittenNote:
    """What became of one player's page.

    ``path`` is None and ``pages`` 0 when none was written; ``problem`` then says why. With a path,
    ``problem`` is what the coach must look at before giving the page away, or None.
    """

    player: Player
    path: Path | None
    pages: int
    problem: str | None = None


def write_notes(
    season,
    standings: Iterable[Standing],
    folder: str | os.PathLike,
    players: Iterable[Player] | None = None,
    as_of: date | None = None,
    paper: str = "us-letter",
    coach_words: Mapping[str, str] | None = None,
    on_written: Callable[[WrittenNote], None] | None = None,
) -> list[WrittenNote]:
    """Write the pages of these players, or of the whole roster, as one PDF each.

    Parameters
    ----------
    standings : of those wanted at least, as of the same day.
    folder : made when it is not there. The page of the same player as of the same day is replaced.
    as_of : the day up to which is counted; without one, the last practice.
    paper : ``us-letter`` or ``a4``.
    coach_words : jersey number to the coach's own words; without them the page has lines to write on.
    on_written : called with each note as soon as it is done, for showing progress.

    Returns
    -------
    One WrittenNote for each player, in the order given, also for those who have no page yet.

    Raises
    ------
    EvaltrackError : the folder cannot be made or a file cannot be written.
    """
    roster, team = season.people.everyone(), season.people.players()
    folder, ground = make_folder(folder), read_ground(season, as_of)
    own, words, taken = _by_player(standings), coach_words or {}, set()
    notes = []
    for player in team if players is None else players:
        target = ground and folder / f"{unique(note_name(player, ground.axis.last), taken)}.pdf"
        told = own.get(player.number, []), words.get(player.number, "")
        notes.append(_write(ground, player, *told, roster, target, paper))
        if on_written:
            on_written(notes[-1])
    return notes


def _write(
    ground: Ground | None,
    player: Player,
    standings: Sequence[Standing],
    text: str,
    roster: Sequence[Player],
    target: Path | None,
    paper: str,
) -> WrittenNote:
    if ground is None or target is None or all(s.call is Call.TOO_FEW for s in standings):
        return WrittenNote(player, None, 0, TOO_LITTLE)
    others = [p for p in roster if p.id != player.id]
    named = full_names_in(text, player, others)
    if named:
        names = ", ".join(p.name for p in named)
        return WrittenNote(player, None, 0, f"no page: the coach's words name another child ({names})")
    page = make_page(ground, player, standings, text)
    printed = _printed(page, paper)
    save(target, printed.content)
    problems = [*filter(None, [printed.problem, _maybe_named(text, player, others)]), *page.doubts]
    return WrittenNote(player, target, printed.pages, "; ".join(problems) or None)


def _printed(page: Page, paper: str):
    # imported when the first page is printed: they take half a second that a list of notes need not wait for
    from evaltrack.paper.charts import SkillCharts, chart_height
    from evaltrack.paper.note.pdf import print_note

    charts = SkillCharts(page.axis, chart_height(len(page.rows)))
    return print_note(page, [charts.svg(row.path, row.seen) if row.drawn else "" for row in page.rows], paper)


def _maybe_named(text: str, player: Player, others: Iterable[Player]) -> str | None:
    parts = parts_of_names_in(text, player, others)
    return f"do the coach's words name another child? ({', '.join(parts)})" if parts else None


def _by_player(standings: Iterable[Standing]) -> dict[str, list[Standing]]:
    ordered = sorted(standings, key=lambda s: s.player)
    return {number: list(own) for number, own in groupby(ordered, key=lambda s: s.player)}
