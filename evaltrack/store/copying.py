"""Whole copies of a season file, while it is open and written to, and what is in one."""

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from evaltrack.device.system_words import FULL, is_full, system_reason
from evaltrack.errors import SeasonFileError
from evaltrack.language import mark, tr
from evaltrack.store.connection import FileConnection, reading, reason
from evaltrack.store.on_disk.drafts import draft_beside, remove, sweep

# what only grows, in words for a coach; an edit of a player or a skill is a row in its history
GROWING = {
    "tallies": "SELECT id FROM tally",
    "withdrawals": "SELECT tally FROM withdrawal",
    "practices": "SELECT key FROM practice",
    "comments": "SELECT nth, tablet FROM practice_comment",
    "corrections of tallies": "SELECT nth, tablet FROM tally_correction",
    "taken back": "SELECT nth, tablet FROM correction_force",
    "corrections of practices": "SELECT tablet, nth FROM correction",
    "players": "SELECT id FROM player WHERE name <> ''",  # who was erased and left tries is nobody
    "erased players": "SELECT player FROM erased",
    "changes of the roster": "SELECT tablet, nth FROM roster_change",
    "changes of skills and drills": "SELECT tablet, nth FROM catalogue_change",
    "plans": "SELECT nth, tablet FROM practice_plan",
    "changes of families' pages": "SELECT nth, tablet FROM note_fact",
    "taken back on families' pages": "SELECT nth, tablet FROM note_force",
    "evenings of meetings": "SELECT nth, tablet FROM meeting_evening",
    "marks of who came": "SELECT nth, tablet FROM meeting_came",
    "ice times": "SELECT nth, tablet FROM ice_time",
    "reps": "SELECT id FROM rep",
    "comments on players": "SELECT nth, tablet FROM player_comment",
    "changes of how long names are kept": "SELECT nth, tablet FROM season_fact",
}
NO_BACKUP = mark('the backup "{target}" cannot be made: {why}')
# of both, a practice that has ended since makes another state though no row is new
_STATE = "SELECT count(*) FROM practice WHERE ended_at IS NOT NULL"
# a copy has an epoch of its own, or the journal of the file that it was made of would be played into it
_FRESH_EPOCH = "UPDATE epoch SET epoch = randomblob(16), before = zeroblob(16)"


class Copies:
    """Makes copies of an open season file."""

    def __init__(self, connection: FileConnection):
        self._connection = connection

    def write(self, target: Path, refusal: str = NO_BACKUP) -> None:
        """Write a whole copy for its owner alone; under its name there is only ever a whole one.

        The copy has no free pages: what was deleted is not in it. ``refusal`` says that it cannot be made.

        Raises
        ------
        SeasonFileError : the file cannot be read to its end, or the copy cannot be written.
        """
        sweep(target)
        draft = draft_beside(target)
        try:
            draft.touch(mode=0o600, exist_ok=False)
            self._write(draft)
            put_on_disk(draft)
            draft.replace(target)
            put_on_disk(target.parent)
        except (OSError, ValueError, sqlite3.Error) as error:
            raise SeasonFileError(tr(refusal, target=target, why=_why(error))) from error
        except SeasonFileError as error:  # a full disk is that of the copy: the season is only read
            if not is_full(error):
                raise
            raise SeasonFileError(tr(refusal, target=target, why=tr(FULL))) from error
        finally:
            remove(draft)

    @reading()
    def facts(self) -> dict[str, set[tuple]]:
        """Return the keys of all that only grows, by what it is."""
        return {what: set(self._connection.execute(select)) for what, select in GROWING.items()}

    @reading()
    def state(self) -> list[int]:
        """Return how much there is of all that only grows, and how many practices have ended."""
        return state_in(self._connection)

    @reading()
    def amount(self) -> list[int]:
        """Return how much there is of all that only grows, by kind."""
        return state_in(self._connection)[:-1]

    @reading()
    def _write(self, draft: Path) -> None:
        self._connection.execute("VACUUM INTO ?", (str(draft.absolute()),))
        with closing(sqlite3.connect(draft)) as copy:
            if copy.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
                raise SeasonFileError(
                    tr("the copy is not sound, the disk may be failing: write it to another one")
                )
            copy.execute(_FRESH_EPOCH)
            copy.commit()


def state_in(connection: sqlite3.Connection) -> list[int]:
    """Return how much there is of all that only grows, and how many practices have ended."""
    counts = [f"SELECT count(*) FROM ({select})" for select in GROWING.values()]
    return [connection.execute(select).fetchone()[0] for select in (*counts, _STATE)]


def _why(error: OSError | ValueError | sqlite3.Error) -> str:
    if isinstance(error, sqlite3.Error):
        return reason(error)
    return system_reason(error) or str(error)


def put_on_disk(path: Path) -> None:
    """Wait until a file, or the names in a folder, would be there after a power cut."""
    is_folder = path.is_dir()
    if is_folder and os.name == "nt":
        return
    descriptor = os.open(path, os.O_RDONLY if is_folder else os.O_RDWR)
    try:
        if is_folder:
            with suppress(OSError):  # a disk that cannot do that for folders
                os.fsync(descriptor)
        else:
            os.fsync(descriptor)
    finally:
        os.close(descriptor)
