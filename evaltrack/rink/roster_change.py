"""What was changed in the roster, as facts; and who wore which number on a day."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from uuid import UUID

from evaltrack.rink.ident import now_ms
from evaltrack.rink.player import Player, Status


class RosterField(StrEnum):
    """What of a player a change is about."""

    NUMBER = "number"
    NAME = "name"
    POSITION = "position"
    BIRTH_YEAR = "birth_year"
    STATUS = "status"


@dataclass(frozen=True, slots=True)
class RosterChange:
    """One thing of one player that became another, from a day on.

    ``was`` and ``becomes`` are as a roster.csv has them, empty for none: a player who joins has the status
    nothing before.
    """

    player: UUID
    field: RosterField
    was: str
    becomes: str
    day: date
    tablet: str = ""
    at: int = field(default_factory=now_ms)

    @property
    def joins(self) -> bool:
        """Say whether a player came to the team by it."""
        return self.field is RosterField.STATUS and not self.was

    @property
    def leaves(self) -> bool:
        """Say whether a player left the team by it."""
        return self.field is RosterField.STATUS and self.becomes == Status.LEFT

    @property
    def returns(self) -> bool:
        """Say whether a player who had left came back by it."""
        return self.field is RosterField.STATUS and self.was == Status.LEFT


_AS_TEXT = {RosterField.STATUS: "status_text", RosterField.POSITION: "position_text"}


def changes_between(before: Player | None, after: Player, day: date, tablet: str = "") -> list[RosterChange]:
    """Return what makes one state of a player another; ``before`` is None for a player who joins."""
    if before is None:
        return [RosterChange(after.id, RosterField.STATUS, "", after.status_text, day, tablet)]
    values = ((part, _plain(before, part), _plain(after, part)) for part in RosterField)
    return [
        RosterChange(after.id, part, was, becomes, day, tablet)
        for part, was, becomes in values
        if was != becomes
    ]


def _plain(player: Player, part: RosterField) -> str:
    value = getattr(player, _AS_TEXT.get(part, part))
    return "" if value is None else str(value)


class NumbersWorn:
    """The jersey numbers of a season by day: a number may have been worn by several players in turn.

    Parameters
    ----------
    everyone : all players of the season, with the numbers that they wear now or wore last.
    changes : what was changed, in the order in which it was written. What was written last is believed.
    """

    def __init__(self, everyone: Iterable[Player], changes: Sequence[RosterChange]):
        self._players = {player.id: player for player in everyone}
        self._numbers = _by_player(changes, RosterField.NUMBER)
        self._statuses = _by_player(changes, RosterField.STATUS)

    def number(self, player: UUID, day: date) -> str:
        """Return the number that a player wore on a day."""
        return _on(self._numbers.get(player, ()), day, self._players[player].number)

    def wearers(self, day: date) -> dict[str, UUID]:
        """Return who wore each number on a day: who was on the team then, or else who joined it later."""
        then = {ident: self._status(ident, day) for ident in self._players}
        here = [ident for ident, status in then.items() if status != Status.LEFT]
        return {self.number(ident, day): ident for ident in sorted(here, key=lambda ident: then[ident] != "")}

    def _status(self, player: UUID, day: date) -> str:
        return _on(self._statuses.get(player, ()), day, self._players[player].status_text)


def _by_player(changes: Sequence[RosterChange], part: RosterField) -> dict[UUID, list[RosterChange]]:
    found: dict[UUID, list[RosterChange]] = {}
    for change in changes:
        if change.field is part:
            found.setdefault(change.player, []).append(change)
    return found


def _on(changes: Sequence[RosterChange], day: date, now: str) -> str:
    """Return what held on a day: of the changes up to then the one written last, or what was before all."""
    if not changes:
        return now
    return next((change.becomes for change in reversed(changes) if change.day <= day), changes[0].was)
