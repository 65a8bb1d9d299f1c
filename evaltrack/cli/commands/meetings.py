"""The command that makes an evening of meetings with the families, and all that is printed for it."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path
from uuid import UUID, uuid4

import click

from evaltrack.cli.asking import as_of, command, one_paper, option, season_file
from evaltrack.cli.kinds import FILE, Breaks, Clock, Day, Moment, NumberAsWorn, Numbers
from evaltrack.cli.telling import say, tell, warn
from evaltrack.cli.working import PAPERS, noted, opened, refuse_unknown, worked_out
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.words.wording import counted

NOTES = ("together", "apart", "none")
_EXAMPLE = """\b
Example:  evaltrack meetings lanterns.db --start '2026-01-20 18:00' --minutes 12 --tables 2 --out evening
          evaltrack meetings lanterns.db --start '2026-01-20 18:00' --wishes wishes.csv --breaks 19:00-19:10
          evaltrack meetings lanterns.db --swap 4 11 --out evening
"""


@command(epilog=_EXAMPLE)
@season_file
@option("--start", type=Moment(), metavar="'DATE TIME'", help="Else the evening that was kept last.")
@option("--day", type=Day(), metavar="DATE", help="The kept evening of this day.")
@option("--minutes", type=click.IntRange(5, 60), help="Of one meeting; 12 if it is not said.")
@option("--tables", type=click.IntRange(1, 8), help="At which meetings are held; 1 if it is not said.")
@option("--breaks", type=Breaks(), metavar="TIMES", help="Of the whole staff, as 19:00-19:10.")
@option("--until", type=Clock(), metavar="TIME", help="When all must be over; else as long as it takes.")
@option("--place", help="Where it is; stands in the list and the calendar.")
@option("--wishes", type=FILE, metavar="CSV", help="player,wish,value; replaces those that were kept.")
@option("--swap", type=NumberAsWorn(), nargs=2, metavar="A B", help="Two families change places.")
@option("--lock", type=Numbers(), metavar="NUMBERS", help="Families who stay where they are, as 4,11.")
@option("--free", type=Numbers(), metavar="NUMBERS", help="Families who may move again, as 4,11.")
@option("--came", type=Numbers(), metavar="NUMBERS", help="Families who came, as 4,11.")
@option("--missed", type=Numbers(), metavar="NUMBERS", help="Families who did not come after all.")
@option("--out", "folder", type=FILE, metavar="DIR", help="Where list, calendar, cards and notes go.")
@option("--notes", type=click.Choice(NOTES), default=NOTES[0], show_default=True, help="To print.")
@option("--names", is_flag=True, help="First names in the calendar's titles, beside the numbers.")
@option("--format", "form", type=click.Choice(["table", "json"]), default="table", show_default=True)
@as_of
@one_paper
def meetings(season_file: Path, folder: Path | None, form: str, notes: str, **asked) -> None:
    """Make an evening of meetings: families in slots as they wish, the list, calendar, cue cards and notes.

    A wish is: not before, not after or at a time; table; sibling or not with another player's number; not
    coming. The evening is kept with the season; made again for the same day it keeps who is locked.
    """
    from evaltrack.device.backup_places import note_pages

    with opened(season_file, of_children=True) as season:
        found = _evening(season, asked)
        players = {player.id: player for player in season.people.everyone()}
        came = season.meetings.who_came(found.evening.key)
        written = _files(season, found.evening, folder, notes, asked) if folder else []
        if written:
            note_pages(season.ident, folder)
    from evaltrack.paper.tables.meetings import as_json, as_table
    from evaltrack.words.meetings import remarks_of

    if form == "json":
        for remark in remarks_of(found, {ident: player.number for ident, player in players.items()}):
            warn(remark)
        tell(as_json(found, players, came), end="")
        return
    tell(as_table(found, players, came), end="")
    for line in written:
        tell(line)


def _evening(season, asked: dict):
    """Return the evening as it is asked for, and keep it, and who came."""
    from evaltrack.rink.placed_evening import PlacedEvening

    before = _kept(season, asked)
    changing = any(
        asked[name] is not None for name in ("start", "minutes", "tables", "breaks", "until", "wishes")
    )
    wanted = _wanted(season, before, asked)
    found = _worked_out(season, wanted) if changing else PlacedEvening(wanted)
    if found.evening != before:
        season.meetings.add(found.evening)
    for numbers, came in ((asked["came"], True), (asked["missed"], False)):
        for player in _of(season, found.evening, numbers or ()):
            season.meetings.note_came(found.evening.key, player, came)
    return found


def _kept(season, asked: dict):
    """Return the evening of the day that is asked for, else the one that was kept last; None without one."""
    start, day = asked["start"], asked["day"]
    if start or day:
        wanted = start.date() if start else day
        found = next((one for one in season.meetings.all() if one.day == wanted), None)
    else:
        found = season.meetings.last()
    if start is None and found is None:
        if day:
            raise EvaltrackError(
                tr(
                    "there is no evening on {day} yet; say when one begins, as in --start '2026-01-20 18:00'",
                    day=day,
                )
            )
        raise EvaltrackError(
            tr("there is no evening yet; say when one begins, as in --start '2026-01-20 18:00'")
        )
    return found


def _wanted(season, before, asked: dict):
    """Return the evening before it is worked out: as it was kept, with what is asked for changed."""
    from evaltrack.rink.meeting_evening import Evening, place_words
    from evaltrack.rink.placed_evening import locked, swapped

    start: datetime | None = asked["start"]
    evening = before or Evening(uuid4().hex, start.date(), start.time())
    changes = {
        name: asked[name] for name in ("minutes", "tables", "breaks", "until") if asked[name] is not None
    }
    if asked["place"] is not None:
        changes["place"] = place_words(asked["place"])
    if start:
        changes["start"] = start.time()
    if "until" in changes:
        changes["until"] = changes["until"].replace(second=0, microsecond=0)
    evening = replace(evening, **changes)
    if asked["wishes"]:
        evening = replace(evening, wishes=_wishes(season, evening, asked["wishes"]))
    if asked["swap"]:
        evening = swapped(evening, *_of(season, evening, asked["swap"]))
    for names, lock in ((asked["lock"], True), (asked["free"], False)):
        for player in _of(season, evening, names or ()):
            evening = locked(evening, player) if evening.slots[player].locked != lock else evening
    return evening


def _worked_out(season, evening):
    from evaltrack.analysis.meetings.placing import placed
    from evaltrack.rink.player import by_number

    say(tr("working out the evening ..."))
    return placed(evening, [player.id for player in sorted(season.people.players(), key=by_number)])


def _wishes(season, evening, path: Path) -> tuple:
    from evaltrack.intake.meeting_wishes import read_meeting_wishes
    from evaltrack.rink.meeting_times import starts_of

    return tuple(read_meeting_wishes(path, season.people.players(), evening.tables, starts_of(evening)))


def _of(season, evening, numbers) -> list[UUID]:
    """Return the players with these numbers who have a meeting at an evening."""
    own = {player.number: player.id for player in season.people.players() if player.id in evening.slots}
    for number in numbers:
        refuse_unknown("meeting of player", number, list(own))
    return [own[number] for number in numbers]


def _files(season, evening, folder: Path, notes: str, asked: dict) -> list[str]:
    """Write what is printed for an evening, and say what was written."""
    from evaltrack.intake.saving import new_folder
    from evaltrack.paper.meetings.evening_files import write_evening

    standings = worked_out(season, asked["as_of"])
    say(tr("printing ..."))
    how = asked["paper"], asked["names"], asked["as_of"]
    with new_folder(folder):
        files = write_evening(season, evening, standings, folder, *how)
    for problem in files.problems:
        warn(problem)
    lines = [f"{path}" for path in files.written]
    return lines if notes == "none" else [*lines, *_notes(season, evening, standings, folder, notes, asked)]


def _notes(season, evening, standings, folder: Path, notes: str, asked: dict) -> list[str]:
    """Write the families' notes in the order of the meetings: apart, or as one PDF for the printer too."""
    from evaltrack.paper.note.batch import write_batch
    from evaltrack.paper.note.forms import Wanted

    players = {player.id: player for player in season.people.everyone()}
    ordered = [players[player] for player, _ in evening.in_order()]
    wanted = Wanted(paper=PAPERS[asked["paper"]])
    written = noted(season, standings, folder / "notes", ordered, asked["as_of"], wanted, evening.day)
    for note in written:
        if note.problem:
            who = f"{note.player.number} {note.player.name}"
            warn(tr("{name}: {what}", name=who, what=note.problem))
    made = {note.player.id: note.path for note in written if note.path}
    lines = (
        [
            tr(
                "{folder}: {pages}; read each before you give it away",
                folder=folder / "notes",
                pages=counted(len(made), "page"),
            )
        ]
        if made
        else []
    )
    batch = write_batch(evening, written, folder, asked["paper"]) if notes == "together" else None
    return (
        [
            *lines,
            tr("{batch}: the notes in the order of the meetings, each on sheets of its own", batch=batch),
        ]
        if batch
        else lines
    )
