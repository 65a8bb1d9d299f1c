"""How changes of the roster read."""

from collections.abc import Iterable, Sequence
from uuid import UUID

from evaltrack.language import mark, tr
from evaltrack.rink.days import in_full
from evaltrack.rink.player import Player, Status, status_in
from evaltrack.rink.roster_change import RosterChange, RosterField

STATUS_WORDS = {
    Status.LIMITED: mark("limited (no contact)"),
    Status.AWAY: mark("away"),
    Status.LEFT: mark("left"),
}
_STATUSES = {
    Status.FULL: mark("takes part in full"),
    Status.LIMITED: mark("is limited (no contact)"),
    Status.AWAY: mark("is away"),
}
_BECAME = {
    RosterField.NUMBER: mark("number {was} until {day}, then {becomes}"),
    RosterField.NAME: mark("written {was} until {day}, then {becomes}"),
    RosterField.POSITION: mark("position {was} until {day}, then {becomes}"),
    RosterField.BIRTH_YEAR: mark("year of birth {was} until {day}, then {becomes}"),
}
_NOTED = {
    RosterField.NUMBER: mark("number {becomes}, noted on {day}"),
    RosterField.NAME: mark("written {becomes}, noted on {day}"),
    RosterField.POSITION: mark("position {becomes}, noted on {day}"),
    RosterField.BIRTH_YEAR: mark("year of birth {becomes}, noted on {day}"),
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
    if change.joins:
        return tr("joined the team, {day}", day=day)
    if change.leaves:
        return tr("left the team, {day}", day=day)
    if change.field is RosterField.STATUS:
        return _status_from(change.becomes, day)
    if not change.was:
        return tr(_NOTED[change.field], becomes=change.becomes, day=day)
    return tr(_BECAME[change.field], was=change.was, becomes=change.becomes or tr("none"), day=day)


def _status_from(becomes: str, day: str) -> str:
    status, until = status_in(becomes)
    if status is Status.FULL:
        return tr("full from {day} on", day=day)
    if until:
        return tr("{status} until {until}, from {day} on", status=tr(status), until=in_full(until), day=day)
    return tr("{status} from {day} on", status=tr(status), day=day)


def _who(player: Player) -> str:
    return f"{player.number} {player.name}"


def _said(change: RosterChange) -> str:
    """Return one change in words, after the player's name."""
    if change.joins:
        return _with_status(tr("joins the team"), change.becomes)
    if change.leaves:
        return tr("has left the team, from {day} on", day=in_full(change.day))
    if change.returns:
        return _with_status(tr("is back on the team"), change.becomes)
    if change.field is RosterField.NUMBER:
        return tr("wears {number} from {day} on", number=change.becomes, day=in_full(change.day))
    if change.field is RosterField.STATUS:
        status, until = status_in(change.becomes)
        if not until:
            return tr(_STATUSES[status])
        return tr("{status} until {day}", status=tr(_STATUSES[status]), day=in_full(until))
    if change.field is RosterField.NAME:
        return tr("is written {name}", name=change.becomes)
    if change.field is RosterField.BIRTH_YEAR:
        if not change.becomes:
            return tr("year of birth is taken out")
        return tr("born {year}", year=change.becomes)
    return tr("plays {position} (was {former})", position=change.becomes, former=change.was)


def _with_status(said: str, status: str) -> str:
    return said if status == Status.FULL else f"{said}, {_text(status)}"


def _text(status: str) -> str:
    word, until = status_in(status)
    return tr("{status} until {day}", status=tr(word), day=until) if until else tr(word)
