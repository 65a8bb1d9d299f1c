"""What is said of backups: when each was made and why, and what bringing one back would take away."""

from collections.abc import Mapping
from datetime import date, time

from evaltrack.device.backup_places import Backup, Why
from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.days import in_full
from evaltrack.words.wording import clock_time

_WHY = {
    Why.PRACTICE: mark("made after a practice"),
    Why.JOIN: mark("made before tallies were joined"),
    Why.ERASURE: mark("made after a player was erased"),
    Why.RESTORE: mark("what lay there when a backup was brought back"),
    Why.ASKED: mark("made because somebody asked for it"),
    Why.DAMAGED: mark("a damaged file, kept as it lay there"),
}
# how many of each would be gone or come back, in the order in which it is told
_LOST = {
    "tallies": lambda number: tr_many(
        "{number} tally is newer and would be gone.",
        "{number} tallies are newer and would be gone.",
        number,
    ),
    "practices": lambda number: tr_many(
        "{number} practice is newer and would be gone.",
        "{number} practices are newer and would be gone.",
        number,
    ),
    "comments": lambda number: tr_many(
        "{number} comment is newer and would be gone.",
        "{number} comments are newer and would be gone.",
        number,
    ),
    "players": lambda number: tr_many(
        "{number} player is newer and would be gone.",
        "{number} players are newer and would be gone.",
        number,
    ),
    "erased players": lambda number: tr_many(
        "{number} player who was erased since would be back: erase them again.",
        "{number} players who were erased since would be back: erase them again.",
        number,
    ),
    "comments on players": lambda number: tr_many(
        "{number} comment on a player would be gone.",
        "{number} comments on players would be gone.",
        number,
    ),
    "changes of how long names are kept": lambda number: tr_many(
        "{number} change of how long names are kept would be gone.",
        "{number} changes of how long names are kept would be gone.",
        number,
    ),
    "plans": lambda number: tr_many(
        "{number} plan of a practice would be gone.",
        "{number} plans of practices would be gone.",
        number,
    ),
    "ice times": lambda number: tr_many(
        "{number} entry of the calendar would be gone.",
        "{number} entries of the calendar would be gone.",
        number,
    ),
    "changes of families' pages": lambda number: tr_many(
        "{number} change of a family's page would be gone.",
        "{number} changes of families' pages would be gone.",
        number,
    ),
    "evenings of meetings": lambda number: tr_many(
        "{number} change of an evening of meetings would be gone.",
        "{number} changes of evenings of meetings would be gone.",
        number,
    ),
    "changes of the roster": lambda number: tr_many(
        "{number} change of the roster would be gone.",
        "{number} changes of the roster would be gone.",
        number,
    ),
    "changes of skills and drills": lambda number: tr_many(
        "{number} change of skills and drills would be gone.",
        "{number} changes of skills and drills would be gone.",
        number,
    ),
    "corrections of tallies": lambda number: tr_many(
        "{number} correction of tallies would be gone.",
        "{number} corrections of tallies would be gone.",
        number,
    ),
    "corrections of practices": lambda number: tr_many(
        "{number} correction of a practice would be gone.",
        "{number} corrections of practices would be gone.",
        number,
    ),
    "withdrawals": lambda number: tr_many(
        "{number} tally that was undone since would count again.",
        "{number} tallies that were undone since would count again.",
        number,
    ),
}
NOTHING_LOST = mark("Nothing in the season file is newer than the backup.")
CANNOT_TELL = mark(
    "The season file there now is damaged: nobody can say what would be gone. It is kept as it lies."
)


def when_words(backup: Backup) -> str:
    """Return when a backup was made, by the clock of the tablet."""
    return f"{in_full(backup.day)}, {clock_time(time(backup.hour, backup.minute))}"


def why_words(why: Why) -> str:
    """Return what a backup was made for."""
    return tr(_WHY[why])


def day_words(text: str) -> str:
    """Return a day in full; what is none as it is."""
    try:
        return in_full(date.fromisoformat(text))
    except ValueError:
        return text


def lost_words(lost: Mapping[str, int] | None) -> list[str]:
    """Return in sentences what bringing a backup back would take away.

    Parameters
    ----------
    lost : how much of each kind; None where that cannot be known.
    """
    if lost is None:
        return [tr(CANNOT_TELL)]
    told = [said(lost[kind]) for kind, said in _LOST.items() if lost.get(kind)]
    return told or [tr(NOTHING_LOST)]
