"""How changes of the roster read."""

from collections.abc import Iterable, Sequence
from uuid import UUID

from evaltrack.rink.days import in_full
from evaltrack.rink.player import Player, Status, status_in
from evaltrack.rink.roster_change import RosterChange, RosterField

STATUS_WORDS = {Status.LIMITED: "limited (no contact)", Status.AWAY: "away", Status.LEFT: "left"}
_STATUSES = {
    Status.FULL: "takes part in full",
    Status.LIMITED: f"is {STATUS_WORDS[Status.LIMITED]}",
    Status.AWAY: "is away",
}
_FIELDS = {
    RosterField.NUMBER: "number",
    RosterField.NAME: "written",
    RosterField.POSITION: "position",
    RosterField.BIRTH_YEAR: "year of birth",
}


def change_lines(
    changes: Sequence[RosterChange], before: Iterable[Player], after: Iterable[Player]
) -> list[str]:
    """Return one line for each player whom changes are about, in the order of the changes.

    Parameters
    ----------
    before, after : all players of the season before the changes, and those that were changed with them.
    """
    known = {player.id: player for player in (*after, *before)}  # as they were, where they were there
    said: dict[UUID, list[str]] = {}
    for change in changes:
        said.setdefault(change.player, []).append(_said(change))
    return [f"{_who(known[ident])}: {', '.join(words)}" for ident, words in said.items()]


def history_lines(changes: Iterable[RosterChange]) -> list[str]:
    """Return what was changed of one player, in order: ``number 8 until Tuesday 6 January 2026, then 12``."""
    return [_became(change) for change in changes if change.was != change.becomes]


def _became(change: RosterChange) -> str:
    day = in_full(change.day)
    if change.field is RosterField.STATUS:
        return (
            f"{_standing(change)}, {day}"
            if change.joins or change.leaves
            else f"{_standing(change)} from {day} on"
        )
    if not change.was:
        return f"{_FIELDS[change.field]} {change.becomes}, noted on {day}"
    return f"{_FIELDS[change.field]} {change.was} until {day}, then {change.becomes or 'none'}"


def _standing(change: RosterChange) -> str:
    if change.joins:
        return "joined the team"
    if change.leaves:
        return "left the team"
    status, until = status_in(change.becomes)
    return f"{status} until {in_full(until)}," if until else f"{status}"


def _who(player: Player) -> str:
    return f"{player.number} {player.name}"


def _said(change: RosterChange) -> str:
    """Return one change in words, after the player's name."""
    if change.joins:
        return f"joins the team{_not_in_full(change.becomes)}"
    if change.leaves:
        return f"has left the team, from {in_full(change.day)} on"
    if change.returns:
        return f"is back on the team{_not_in_full(change.becomes)}"
    if change.field is RosterField.NUMBER:
        return f"wears {change.becomes} from {in_full(change.day)} on"
    if change.field is RosterField.STATUS:
        status, until = status_in(change.becomes)
        return f"{_STATUSES[status]} until {in_full(until)}" if until else _STATUSES[status]
    if change.field is RosterField.NAME:
        return f"is written {change.becomes}"
    if change.field is RosterField.BIRTH_YEAR:
        return f"born {change.becomes}" if change.becomes else "year of birth is taken out"
    return f"plays {change.becomes} (was {change.was})"


def _not_in_full(status: str) -> str:
    return "" if status == Status.FULL else f", {status}"
