"""At how many practices a player was seen, and since when."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from evaltrack.rink.practice import Practice

LATE_AFTER = 3


@dataclass(frozen=True, slots=True)
class Presence:
    """``seen`` of ``held`` practices; ``since`` of them were held from the day ``first`` on.

    ``first`` and ``last`` are the days on which the player was first and last seen.
    """

    seen: int
    held: int
    first: date
    last: date
    since: int

    @property
    def joined_late(self) -> bool:
        """Say whether the team had held several practices before the player was first seen."""
        return self.held - self.since >= LATE_AFTER


def read_attended(season, as_of: date | None = None) -> list[tuple[Practice, list[UUID]]]:
    """Return the practices up to and with a date, in order of date, with who was there.

    One at which nobody was noted as here is left out: it says nothing of anyone.
    """
    past = (p for p in season.practices.all() if as_of is None or p.held_on <= as_of)
    attended = ((p, [a.player for a in season.practices.attendance(p.key) if a.here]) for p in past)
    return [(practice, players) for practice, players in attended if players]


def presences(attended: Sequence[tuple[Practice, list[UUID]]]) -> dict[UUID, Presence]:
    """Return the presence of each player who was seen at one of these practices, given in order of date."""
    practices = [practice for practice, _ in attended]
    at: dict[UUID, list[int]] = {}
    for place, (_, players) in enumerate(attended):
        for player in players:
            at.setdefault(player, []).append(place)
    return {player: _presence(practices, places) for player, places in at.items()}


def _presence(practices: list[Practice], places: list[int]) -> Presence:
    first, last = practices[places[0]].held_on, practices[places[-1]].held_on
    return Presence(len(places), len(practices), first, last, len(practices) - places[0])
