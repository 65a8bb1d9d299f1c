"""A player taken out of a season and of what this tablet made of them: what went, and what is still out."""

import os
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evaltrack.device.backup_places import CopyElsewhere, Why, forget_named, given_away
from evaltrack.device.files_with_name import NamedFile, files_with_name
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.errors import SeasonFileError
from evaltrack.rink.note_life import NoteField
from evaltrack.rink.player import Player
from evaltrack.rink.practice import local_day
from evaltrack.store.backups.keeping import keep_backup
from evaltrack.store.erasing.erasing import Erasure
from evaltrack.store.opening import open_season
from evaltrack.store.season_file import SeasonFile


@dataclass(frozen=True)
class Receipt:
    """What an erasure did, or would do.

    Parameters
    ----------
    elsewhere : copies, packs, loans, pages and tables that were written to places of somebody's choice.
    deleted : files of this tablet that went, or would, with their days; ``stuck`` could not be.
    files : other files that have the name, or may have it.
    printed : on which days pages of the family were printed.
    no_backup : why no backup of the season without the player could be kept; empty where one is.
    """

    erasure: Erasure
    elsewhere: Sequence[CopyElsewhere]
    deleted: Sequence[tuple[Path, date]]
    stuck: Sequence[Path]
    files: Sequence[NamedFile]
    printed: Sequence[date] = ()
    no_backup: str = ""


def erase_on_tablet(season: SeasonFile, player: Player, keep_counts: bool, rehearse: bool) -> Receipt:
    """Erase a player, and delete what this tablet made of them alone; the season file is closed then.

    What the app itself made of them goes first, then they go out of the file: so whatever stops the program,
    asked for again it is done. A backup of the season without the player is kept, since those that there were
    are gone. ``rehearse`` changes nothing.

    Raises
    ------
    SeasonFileError : another program uses the file, or it cannot be written; it is as it was.
    """
    path, ident, printed = season.path, season.ident, _printed(season, player)
    elsewhere = given_away(ident)
    others = [one.name for one in season.people.everyone() if one.id != player.id]
    done = season.erase(player.id, keep_counts, rehearse=True)
    named = files_with_name(path, done.names, others)
    found = [one for one in named if one.path not in done.copies]
    own, rest = [one for one in found if one.own], [one for one in found if not one.own]
    copies, stuck, no_backup = [(copy, _day(copy)) for copy in done.copies], [], ""
    if not rehearse:
        stuck = _deleted(own, player)
        with open_season(path) as again:
            done = again.erase(player.id, keep_counts)
        copies, stuck = [], [*done.stuck, *stuck]
        forget_named(ident, done.names.is_in)
        no_backup = keep_backup_after(path)
    deleted = [*copies, *((one.path, one.day) for one in own if one.path not in stuck)]
    return Receipt(done, elsewhere, deleted, stuck, rest, printed, no_backup)


def _printed(season: SeasonFile, player: Player) -> list[date]:
    lives = (life for key, life in season.notes.all().items() if key.player == player.id)
    days = {local_day(fact.at) for life in lives for fact in life.facts if fact.field is NoteField.PRINTED}
    return sorted(day for day in days if day)


def keep_backup_after(path: Path) -> str:
    """Keep a backup of a season as it is now that names went; return why it could not be: they are gone."""
    try:
        with open_season(path) as season:
            if not season.invented:
                keep_backup(season, Why.ERASURE)
    except SeasonFileError as error:
        return str(error)
    return ""


def _deleted(own: Sequence[NamedFile], player: Player) -> list[Path]:
    """Delete the app's own files of the player, and forget whom this tablet showed; return what is left."""
    tablet = load_tablet()
    if tablet.player.replace("-", "") == player.id.hex:
        keep_tablet(tablet, player="")
    for one in own:
        with suppress(OSError):
            one.path.unlink()
    return [one.path for one in own if os.path.lexists(one.path)]


def _day(path: Path) -> date:
    return date.fromtimestamp(path.stat().st_mtime)
