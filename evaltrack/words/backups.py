"""What is said of backups: when each was made and why, and what bringing one back would take away."""

from collections.abc import Mapping
from datetime import date

from evaltrack.device.backup_places import Backup, Why
from evaltrack.rink.days import in_full

_WHY = {
    Why.PRACTICE: "made after a practice",
    Why.JOIN: "made before tallies were joined",
    Why.ERASURE: "made after a player was erased",
    Why.RESTORE: "what lay there when a backup was brought back",
    Why.ASKED: "made because somebody asked for it",
    Why.DAMAGED: "a damaged file, kept as it lay there",
}
# what one of it and several of it would be, in the order in which it is told
_LOST = {
    "tallies": ("1 tally is newer and would be gone.", "{} tallies are newer and would be gone."),
    "practices": ("1 practice is newer and would be gone.", "{} practices are newer and would be gone."),
    "comments": ("1 comment is newer and would be gone.", "{} comments are newer and would be gone."),
    "players": ("1 player is newer and would be gone.", "{} players are newer and would be gone."),
    "erased players": (
        "1 player who was erased since would be back: erase them again.",
        "{} players who were erased since would be back: erase them again.",
    ),
    "plans": ("1 plan of a practice would be gone.", "{} plans of practices would be gone."),
    "ice times": ("1 entry of the calendar would be gone.", "{} entries of the calendar would be gone."),
    "changes of families' pages": (
        "1 change of a family's page would be gone.",
        "{} changes of families' pages would be gone.",
    ),
    "evenings of meetings": (
        "1 change of an evening of meetings would be gone.",
        "{} changes of evenings of meetings would be gone.",
    ),
    "changes of the roster": (
        "1 change of the roster would be gone.",
        "{} changes of the roster would be gone.",
    ),
    "changes of skills and drills": (
        "1 change of skills and drills would be gone.",
        "{} changes of skills and drills would be gone.",
    ),
    "comments on players": (
        "1 comment on a player would be gone.",
        "{} comments on players would be gone.",
    ),
    "changes of how long names are kept": (
        "1 change of how long names are kept would be gone.",
        "{} changes of how long names are kept would be gone.",
    ),
    "corrections of tallies": (
        "1 correction of tallies would be gone.",
        "{} corrections of tallies would be gone.",
    ),
    "corrections of practices": (
        "1 correction of a practice would be gone.",
        "{} corrections of practices would be gone.",
    ),
    "withdrawals": (
        "1 tally that was undone since would count again.",
        "{} tallies that were undone since would count again.",
    ),
}
NOTHING_LOST = "Nothing in the season file is newer than the backup."
CANNOT_TELL = (
    "The season file there now is damaged: nobody can say what would be gone. It is kept as it lies."
)


def when_words(backup: Backup) -> str:
    """Return when a backup was made, by the clock of the tablet."""
    return f"{in_full(backup.day)}, {backup.clock}"


def why_words(why: Why) -> str:
    """Return what a backup was made for."""
    return _WHY[why]


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
        return [CANNOT_TELL]
    told = [
        one if lost[kind] == 1 else several.format(f"{lost[kind]:,}")
        for kind, (one, several) in _LOST.items()
        if lost.get(kind)
    ]
    return told or [NOTHING_LOST]
