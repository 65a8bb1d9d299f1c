"""The season as a whole, as plain values: who was there, who noted how much, how the team goes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from uuid import UUID

from evaltrack.analysis.team.course import TeamCourse
from evaltrack.rink.drill import steps_by_drill
from evaltrack.rink.player import Player
from evaltrack.rink.practice import Practice
from evaltrack.rink.targets import Goal


class Part(StrEnum):
    """What the season as a whole is told in."""

    TEAM = "team"
    TARGETS = "targets"
    COSTS = "costs"
    ATTENDANCE = "attendance"
    TALLIES = "tallies"


@dataclass(frozen=True, slots=True)
class Turned:
    """A practice, who was there, and how many tallies each observer made, in order of name."""

    practice: Practice
    there: frozenset[UUID]
    tallies: tuple[tuple[str, int], ...] = ()

    @property
    def total(self) -> int:
        """How many tallies were made."""
        return sum(count for _, count in self.tallies)


@dataclass(frozen=True, slots=True)
class SeasonView:
    """The season so far.

    Attributes
    ----------
    players : the team in order of number, and ``joined`` on which day some of them came later.
    skill_names, step_names : how skills are called, by key, and steps with their drills, by ``drill/step``.
    practices : those that count, in order of date.
    skills : in the order of the catalogue, those of which somebody on the team has a try; ``goals`` are the
        targets of just these.
    """

    players: tuple[Player, ...] = ()
    practices: tuple[Turned, ...] = ()
    skills: tuple[TeamCourse, ...] = ()
    goals: tuple[Goal, ...] = ()
    joined: tuple[tuple[UUID, date], ...] = ()
    skill_names: Mapping[str, str] = field(default_factory=dict)
    step_names: Mapping[str, str] = field(default_factory=dict)

    @property
    def observers(self) -> list[str]:
        """Who made the tallies, most of them first, then by name."""
        count: dict[str, int] = {}
        for one in self.practices:
            for name, tallies in one.tallies:
                count[name] = count.get(name, 0) + tallies
        return sorted(count, key=lambda name: (-count[name], name))

    def attended(self, player: Player) -> tuple[int, int, date | None]:
        """Return at how many practices a player was, of how many, and since when where they came later."""
        since = dict(self.joined).get(player.id)
        could = [one for one in self.practices if since is None or one.practice.held_on >= since]
        there = [one for one in self.practices if player.id in one.there]
        return len(there), len({one.practice.key for one in (*could, *there)}), since


def read_season_view(season, as_of: date | None = None) -> SeasonView:
    """Return the season of a season file; nothing after ``as_of`` is used."""
    from evaltrack.analysis.team.courses import read_courses

    return season_view(season, *read_courses(season, as_of), as_of)


def season_view(
    season, skills: Sequence[TeamCourse], goals: Sequence[Goal], as_of: date | None = None
) -> SeasonView:
    """Return the season of a season file, given what can be said of the team in its skills."""
    players, catalogue = season.people.players(), season.catalogue
    mine = {player.id for player in players}
    joined = {c.player: c.day for c in season.people.changes() if c.joins and c.player in mine}
    return SeasonView(
        players=tuple(players),
        practices=_practices(season, as_of),
        skills=tuple(skills),
        goals=tuple(goals),
        joined=tuple(joined.items()),
        skill_names={one.key: one.name for one in catalogue.skills()},
        step_names=steps_by_drill(catalogue.drills(retired=True)),
    )


def _practices(season, as_of: date | None) -> tuple[Turned, ...]:
    there, made = season.turnout.there(), season.turnout.by_observer()
    held = [one for one in season.practices.all() if as_of is None or one.held_on <= as_of]
    return tuple(
        Turned(
            one,
            frozenset(there.get(one.key, ())),
            tuple(sorted((name, count) for (key, name), count in made.items() if key == one.key)),
        )
        for one in held
    )
