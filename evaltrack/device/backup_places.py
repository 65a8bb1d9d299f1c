"""Where this tablet keeps backups of a season, what they are called, and which of them it goes on keeping.

Backups go by a running number: clocks are wrong at a rink, and one that was set back must not make the newest
backup the oldest.
"""

import os
import re
from collections.abc import Callable, Hashable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path
from uuid import UUID

from evaltrack.device.settings_file import one_window_at_a_time, read_settings, write_settings
from evaltrack.device.tablet import tablet_folder
from evaltrack.language import tr

LAST, DAYS, WEEKS, DAMAGED = 5, 7, 8, 3  # how many are kept
_MOST_ELSEWHERE = 200  # copies that are remembered; their list stays below 64 kB
_NAME = re.compile(r"(\d{6,9})-(\d{4}-\d{2}-\d{2})-(\d{2})(\d{2})-([a-z]{1,20})\.db")


class Why(StrEnum):
    """What a backup was made for."""

    PRACTICE = "practice"
    JOIN = "join"
    ERASURE = "erasure"
    RESTORE = "restore"
    ASKED = "asked"
    DAMAGED = "damaged"  # a file that could not be read, as it lay there


@dataclass(frozen=True, slots=True, order=True)
class Backup:
    """A backup in the app's own folder.

    A higher ``number`` was made later; day and time are those of the clock then.
    """

    number: int
    day: date
    hour: int
    minute: int
    why: Why
    path: Path

    @property
    def clock(self) -> str:
        """Return the time of day as 18:04."""
        return f"{self.hour:02d}:{self.minute:02d}"


@dataclass(frozen=True, slots=True)
class CopyElsewhere:
    """A copy of the season that was written to a place of somebody's choice; ``day`` is of the clock then.

    With ``pages`` it is a folder of pages or tables, which may have a player's name and are no copy.
    """

    path: Path
    day: str
    sealed: bool
    pages: bool = False


def backups_folder(season: UUID | None = None) -> Path:
    """Return the folder of the app's own for the backups of a season, or for those of all."""
    folder = tablet_folder() / "backups"
    return folder / season.hex if season else folder


def backups_of(season: UUID) -> list[Backup]:
    """Return the backups in the app's folder, the newest first."""
    folder, found = backups_folder(season), []
    with suppress(OSError):
        found = [backup for name in os.listdir(folder) if (backup := _read_name(folder, name))]
    return sorted(found, reverse=True)


def next_place(season: UUID, why: Why, now: datetime) -> Path:
    """Return the place of the next backup."""
    newest = max((backup.number for backup in backups_of(season)), default=0)
    return backups_folder(season) / f"{newest + 1:06d}-{now:%Y-%m-%d-%H%M}-{why}.db"


def to_drop(backups: Iterable[Backup]) -> list[Backup]:
    """Return the backups that need not be kept any longer.

    Kept are the last five, the last one of each of seven days, and the last one of each of eight weeks; of
    damaged files as they lay there the last three.
    """
    ordered = sorted(backups, reverse=True)
    damaged = [backup for backup in ordered if backup.why is Why.DAMAGED]
    whole = [backup for backup in ordered if backup.why is not Why.DAMAGED]
    by_day = _last_of_each(whole, lambda backup: backup.day)
    by_week = _last_of_each(whole, lambda backup: backup.day.isocalendar()[:2])
    kept = {*damaged[:DAMAGED], *whole[:LAST], *by_day[:DAYS], *by_week[:WEEKS]}
    return [backup for backup in ordered if backup not in kept]


def drop(backups: Iterable[Backup]) -> list[Backup]:
    """Delete backups, and return those that are still there."""
    backups = list(backups)
    for backup in backups:
        for side in ("", "-wal", "-shm", "-journal"):
            with suppress(OSError):
                backup.path.with_name(f"{backup.path.name}{side}").unlink(missing_ok=True)
    return [backup for backup in backups if os.path.lexists(backup.path)]


def note_elsewhere(season: UUID, path: Path, sealed: bool, now: datetime) -> None:
    """Remember that a copy of the season was written to a place of somebody's choice.

    It is written already: where nothing can be remembered, it is only not listed.
    """
    _note(season, CopyElsewhere(path, now.date().isoformat(), sealed))


def note_pages(season: UUID, folder: Path) -> None:
    """Remember in the same way that pages or tables of the season were written into a folder just now."""
    _note(season, CopyElsewhere(folder.absolute(), date.today().isoformat(), False, pages=True))


def _note(season: UUID, written: CopyElsewhere) -> None:
    folder = backups_folder(season)
    with suppress(OSError):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        with one_window_at_a_time(folder):
            before = [one for one in given_away(season) if one.path != written.path]
            _write_list(season, [*before, written])


def forget_named(season: UUID, is_named: Callable[[str], bool]) -> None:
    """Let go of each place that is called after a child: whoever erased it was told of it."""
    before = given_away(season)
    kept = [one for one in before if not is_named(str(one.path))]
    if len(kept) < len(before):
        with one_window_at_a_time(backups_folder(season)):
            _write_list(season, kept)


def _write_list(season: UUID, written: Iterable[CopyElsewhere]) -> None:
    known = {str(one.path): [one.day, one.sealed, one.pages] for one in written}
    write_settings(_list(season), dict(list(known.items())[-_MOST_ELSEWHERE:]), {})


def note_handed_over(season: UUID, tablet: str, now: datetime) -> None:
    """Remember that another tablet got all of the season, so that it can be asked to forget a player."""
    ident = "".join(sign for sign in tablet if sign.isalnum())[:20]
    note_elsewhere(season, Path(tr("the season on the tablet {tablet}", tablet=ident)), False, now)


def copies_elsewhere(season: UUID) -> list[CopyElsewhere]:
    """Return the copies that were written to places of somebody's choice, the oldest first.

    Whether they still lie there is not asked: a stick may be in a drawer.
    """
    return [one for one in given_away(season) if not one.pages]


def given_away(season: UUID) -> list[CopyElsewhere]:
    """Return these copies, and the folders into which pages or tables were written."""
    known = read_settings(_list(season)).items()
    return [CopyElsewhere(Path(path), *value) for path, value in known if _is_noted(value)]


def _is_noted(value: object) -> bool:
    return isinstance(value, list) and [type(part) for part in value] in ([str, bool], [str, bool, bool])


def _list(season: UUID) -> Path:
    return backups_folder(season) / "elsewhere.json"


def _read_name(folder: Path, name: str) -> Backup | None:
    if not (found := _NAME.fullmatch(name)):
        return None
    number, day, hour, minute, why = found.groups()
    try:
        return Backup(int(number), date.fromisoformat(day), int(hour), int(minute), Why(why), folder / name)
    except ValueError:
        return None


def _last_of_each(backups: list[Backup], kind) -> list[Backup]:
    last: dict[Hashable, Backup] = {}
    for backup in backups:
        last.setdefault(kind(backup), backup)
    return list(last.values())
