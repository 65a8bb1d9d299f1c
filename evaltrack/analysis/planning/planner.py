"""The plan of the next practice, from all that is known of the season."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from evaltrack.analysis.planning.filled_blocks import Filling, filled
from evaltrack.analysis.planning.group_making import best_groups, is_limited, members_of, places_of
from evaltrack.analysis.planning.ice_time import Stretch, divided
from evaltrack.analysis.planning.known_season import KnownSeason, read_known
from evaltrack.analysis.planning.needs import SkillNeed, needs_of, proposed
from evaltrack.analysis.planning.plan_remarks import Circumstances, remarks_on
from evaltrack.analysis.planning.station_steps import Choosable, Wanted, choosable, chosen, for_all
from evaltrack.analysis.planning.step_choice import Asker, best_steps
from evaltrack.analysis.planning.watch_list import watch_list
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.plan import Asked, Block, Forecast, Group, Grouping, Plan
from evaltrack.rink.player import Player, Position, likely_present
from evaltrack.store.season_file import SeasonFile

LEAST_IN_GROUP = 2


def read_plan(season: SeasonFile, asked: Asked) -> Plan:
    """Return the plan of the next practice of a season file; EvaltrackError as ``plan_of``."""
    return plan_of(read_known(season), asked)


def plan_of(known: KnownSeason, asked: Asked) -> Plan:
    """Return the plan of the next practice.

    Raises
    ------
    EvaltrackError : a number is not on the roster, nobody is here, or there is no step to be trained.
    """
    return _Planner(known, asked).plan()


@dataclass(frozen=True)
class _Planner:
    known: KnownSeason
    asked: Asked

    def plan(self) -> Plan:
        """Return the plan."""
        places = places_of(self.stations)
        members = members_of(self.known, self.here, self.stations, self.needs, self._held)
        found, unmet = best_groups(members, places, self.asked)
        groups = tuple(
            Group(s, tuple(m.number for m, at in zip(members, found.station, strict=True) if at == s))
            for s in range(len(places))
        )
        blocks = filled(self._filling(groups))
        return Plan(
            asked=self.asked,
            blocks=blocks,
            groups=groups,
            starts=tuple((one.drill, one.step.key) for one in self.stations),
            needs=tuple(one.need for one in self.proposals),
            forecasts=tuple(f for one in self.proposals for f in self.forecasts.get(one.need.skill, ())),
            watch=watch_list(self.known, self.here, blocks),
            unmet=tuple(unmet),
            optimal=found.proven,
            gap=0.0 if found.proven else found.gap,
            remarks=tuple(remarks_on(self._circumstances(blocks))),
            limited=tuple(player.number for player in self.here if is_limited(player)),
        )

    @cached_property
    def here(self) -> list[Player]:
        """Who is meant."""
        roster = {player.number: player for player in self.known.roster}
        if self.asked.here is None:
            here = likely_present(self.known.roster)
        elif unknown := [number for number in self.asked.here if number not in roster]:
            raise EvaltrackError(_not_on_roster(unknown))
        else:
            here = [player for player in self.known.roster if player.number in self.asked.here]
        if not here:
            raise EvaltrackError(
                tr("nobody is here, so there is nobody to plan for; name the players who come")
            )
        return here

    @cached_property
    def positions(self) -> Counter[Position]:
        """How many are here who play in each position."""
        return Counter(position for player in self.here for position in player.positions)

    @cached_property
    def needs(self) -> list[SkillNeed]:
        """The need in each skill of which enough is known."""
        known = self.known
        return needs_of(self.here, known.skills, known.fits, known.standings, known.lately)

    @cached_property
    def proposals(self) -> list[SkillNeed]:
        """The skills that are proposed and that some step shows."""
        shown = {key for one in self.steps for key in one.step.skills}
        return proposed([one for one in self.needs if one.need.skill in shown])

    @cached_property
    def steps(self) -> list[Choosable]:
        """The steps that may be trained."""
        found = choosable(self.known.drills, self.known.paces, set(self.positions))
        if not found:
            raise EvaltrackError(
                tr(
                    "there is no drill with a step for the players who are here; give the season some by "
                    "evaltrack catalogue SEASON.db --drills drills.toml"
                )
            )
        return found

    @cached_property
    def forecasts(self) -> dict[str, list[Forecast]]:
        """How often each skill is predicted to come off in each step that shows it."""
        last = max((one.held_on for one in self.known.practices), default=None)
        askers = {}
        for one in self.needs:
            fit = self.known.fits[one.need.skill]
            rows = [fit.players.index(p.id.bytes) for p in self.here if p.number in one.short]
            askers[one.need.skill] = Asker(
                one.need.skill, fit, rows, np.repeat(fit.axis.at([last]), len(rows))
            )
        having = {key: [s.key for s in self.steps if key in s.step.skills] for key in askers}
        return {key: rows for key, rows in best_steps(askers, having, self.asked.band).items() if rows}

    @cached_property
    def count(self) -> int:
        """How many stations there are."""
        return max(1, min(self.asked.stations, len(self.here) // LEAST_IN_GROUP))

    @cached_property
    def stretches(self) -> list[Stretch]:
        """The parts of the ice time."""
        return divided(self.asked.minutes, self.count, self.asked.grouping is Grouping.NEED)

    @cached_property
    def wanted(self) -> Wanted:
        """What the steps are chosen by."""
        skaters = sum(player.position is not Position.GOALIE for player in self.here)
        calm = -(-self.count * sum(map(is_limited, self.here)) // len(self.here))  # where they all have room
        return Wanted(
            proposed=[one.need.skill for one in self.proposals],
            short={one.need.skill: sum(one.short.values()) for one in self.needs},
            forecasts=self.forecasts,
            group=skaters // self.count,
            contact=max(0, min(self.asked.coaches, self.count - calm)),
            suited=self.positions,
            ice=self.asked.surface,
            at_once=self.count,
        )

    @cached_property
    def sequence(self) -> list[Choosable]:
        """The steps that the parts of the ice time are for, by their numbers."""
        numbers = [one.station for one in self.stretches if one.station is not None]
        held = self._held_steps
        if self.count == 1:
            return chosen(self.steps, self.wanted, max(len(numbers), 1), held)
        found = chosen(self.steps, self.wanted, self.count, held)
        if self.asked.grouping is Grouping.ALIKE and not held:
            found.sort(key=self._easy, reverse=True)
        after = held.get(self.count)
        return found + ([after] if after else for_all(self.steps, found, self.wanted))

    @property
    def _held_steps(self) -> dict[int, Choosable]:
        """Return the steps that keep their places, as far as the season still has them."""
        by_key = {one.key: one for one in self.steps}
        wanted = {place: (drill, step) for place, drill, step in self.asked.held_steps}
        return {place: by_key[key] for place, key in wanted.items() if key in by_key}

    def _easy(self, one: Choosable) -> float:
        """Return how often the skills of a step are predicted to come off, on average."""
        key = one.key
        shares = [
            f.share.value for every in self.forecasts.values() for f in every if (f.drill, f.step) == key
        ]
        return float(np.mean(shares)) if shares else 1 - one.place / 10

    @cached_property
    def stations(self) -> list[Choosable]:
        """The steps of the stations."""
        return self.sequence[: self.count]

    @property
    def _held(self) -> dict[str, int]:
        """Return the station of each player who is held at one that there is."""
        return {number: station for number, station in self.asked.held_players if station < self.count}

    def _filling(self, groups: Sequence[Group]) -> Filling:
        return Filling(
            stretches=self.stretches,
            steps=self.sequence,
            stations=self.count,
            groups=groups,
            here=self.here,
            needs=[one.need for one in (*self.proposals, *self._others)],
            proposed=len(self.proposals),
            forecasts=self.forecasts,
            coaches=self.asked.coaches,
        )

    def _circumstances(self, blocks: Sequence[Block]) -> Circumstances:
        return Circumstances(
            asked=self.asked,
            tallied=bool(self.known.tallies),
            proposals=bool(self.proposals),
            stations=self.stations,
            steps=self.sequence,
            blocks=blocks,
            positions=self.positions,
            limited=any(map(is_limited, self.here)),
            on_surface=self.known.part_on(self.asked.surface),
        )

    @property
    def _others(self) -> list[SkillNeed]:
        left = [one for one in self.needs if one not in self.proposals]
        return sorted(left, key=lambda one: -float(one.drawn.mean()))


def _not_on_roster(unknown: Sequence[str]) -> str:
    if len(unknown) == 1:
        return tr(
            "number {number} is not on the roster; name players by the numbers that they wear",
            number=unknown[0],
        )
    listed = tr("{others} and {last}", others=", ".join(unknown[:-1]), last=unknown[-1])
    return tr(
        "the numbers {numbers} are not on the roster; name players by the numbers that they wear",
        numbers=listed,
    )
