"""Which target a skill had when, from the changes of the catalogue."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from evaltrack.rink.catalogue_change import CatalogueChange, Kind
from evaltrack.rink.skill import Skill


@dataclass(frozen=True, slots=True)
class Goal:
    """The targets of a skill: the one in force on its first day at practice, and each since with its day."""

    skill: str
    first: float
    since: tuple[tuple[date, float], ...] = ()

    @property
    def today(self) -> float:
        """The target in force now."""
        return self.since[-1][1] if self.since else self.first


def goal_of(skill: Skill, changes: Iterable[CatalogueChange], first: date) -> Goal:
    """Return the targets of a skill that was watched first on a day.

    A change of that day or before it was in force then. Days are those on which somebody made the change, by
    the clock of their tablet; their order is that in which they were made.
    """
    mine = [one for one in changes if (one.kind, one.key, one.field) == (Kind.SKILL, skill.key, "target")]
    days = [(datetime.fromtimestamp(one.at / 1000).date(), one) for one in mine]
    before = [one for day, one in days if day <= first]
    since = tuple((day, float(one.becomes)) for day, one in days if day > first)
    if before:
        return Goal(skill.key, float(before[-1].becomes), since)
    return Goal(skill.key, float(mine[0].was) if mine else skill.target, since)
