"""On how many days the team practised, and from when to when a player was here."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from uuid import UUID

LATE_AFTER = 3


@dataclass(frozen=True, slots=True)
class Presence:
    """When a player was here first and last, of ``held`` practice days in all and ``since`` from that first.

    A second ice time on one day is no second practice day.
    """

    held: int
    since: int
    first: date
    last: date

    @property
    def joined_late(self) -> bool:
        """Say whether the team had practised on several days before the player was first here."""
        return self.held - self.since >= LATE_AFTER


def read_attended(season, as_of: date | None = None) -> dict[date, set[UUID]]:
    """Return who was here on each practice day up to and with a date, in order of date.

    A practice at which nobody was noted as here is left out: it says nothing of anyone.
    """
    attended: dict[date, set[UUID]] = {}
    for practice in season.practices.all():
        here = {a.player for a in season.practices.attendance(practice.key) if a.here}
        if here and (as_of is None or practice.held_on <= as_of):
            attended.setdefault(practice.held_on, set()).update(here)
    return attended


def presences(attended: Mapping[date, set[UUID]]) -> dict[UUID, Presence]:
    """Return the presence of each player who was here on one of these days, given in order of date."""
    days = list(attended)
    places: dict[UUID, list[int]] = {}
    for place, players in enumerate(attended.values()):
        for player in players:
            places.setdefault(player, []).append(place)
    return {
        player: Presence(len(days), len(days) - own[0], days[own[0]], days[own[-1]])
        for player, own in places.items()
    }
