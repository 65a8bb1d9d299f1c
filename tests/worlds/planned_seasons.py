"""Seasons of invented players from which a practice is planned, without a file, and the sums of a plan."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from uuid import UUID

import numpy as np
from seasons import FIRST

from evaltrack.analysis.planning.group_rules import sizes
from evaltrack.analysis.planning.known_season import KnownSeason
from evaltrack.analysis.season.cells import cells_frame
from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.plan import Part, Plan
from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.practice import Practice, Surface
from evaltrack.rink.skill import Definition, Skill
from evaltrack.rink.tally import Outcome, Tally

D, F, G = Position.DEFENCE, Position.FORWARD, Position.GOALIE
SKILLS = {"outlet": D, "gap": D, "lane": F, "wall": F, "shot": F, "rebound": G}
# a drill's steps, and the skills of their slots by position; * goes at somebody
DRILLS = {
    "rush": {"two": "D:outlet D*:gap F:lane F:shot", "three": "D:outlet F:lane F*:wall F:shot G:rebound"},
    "corner": {"calm": "D:outlet F:wall", "rough": "D*:outlet F*:wall"},
    "shots": {"still": "F:shot G:rebound", "moving": "F:shot,lane D:gap G:rebound"},
    "laps": {"easy": "D:gap F:lane", "hard": "D:gap F:lane"},
}


def drills() -> list[Drill]:
    """Return the drills of ``DRILLS``."""
    return [
        Drill(key, key.title(), tuple(_step(one, slots, key) for one, slots in steps.items()))
        for key, steps in DRILLS.items()
    ]


def _step(key: str, slots: str, drill: str) -> Step:
    ice = Surface.HALF if drill == "rush" else Surface.CROSS
    return Step(key, key.title(), tuple(_slot(n, one) for n, one in enumerate(slots.split())), ice)


def _slot(number: int, text: str) -> Slot:
    where, keys = text.split(":")
    return Slot(f"s{number}", f"Slot {number}", Position(where[0]), None, tuple(keys.split(",")),
                "s0" if where.endswith("*") else None)  # fmt: skip


def skills() -> list[Skill]:
    """Return the skills of ``SKILLS``, all with the target .6."""
    return [
        Skill(key, key.title(), (position,), "", Definition("", "", "", ""), "")
        for key, position in SKILLS.items()
    ]


def team(lineup: str) -> list[Player]:
    """Return players numbered from 1 of these positions; one in small letters takes no contact."""
    return [
        Player(
            str(n),
            f"Player {n}",
            Position(one.upper()),
            status=Status.LIMITED if one.islower() else Status.FULL,
        )
        for n, one in enumerate(lineup, start=1)
    ]


def known(players: Sequence[Player], tallies: Sequence[Tally] = (), weeks: int = 0, reps=()) -> KnownSeason:
    """Return what is known of a season in which these tallies were made, at practices a week apart."""
    practices = [_practice(week) for week in range(weeks)]
    counts: dict[tuple, list[int]] = {}
    for one in tallies:
        key = (one.player.bytes, one.skill, one.practice, one.practice, one.drill, one.step, 0, one.observer)
        tried = counts.setdefault(key, [0, 0])
        tried[0] += 1
        tried[1] += one.outcome is Outcome.DONE
    cells = cells_frame([(*key, *tried) for key, tried in counts.items()])
    return KnownSeason(players, players, skills(), drills(), cells, tallies, reps, practices)


def _practice(week: int) -> Practice:
    day = FIRST + timedelta(weeks=week)
    return Practice(day.isoformat(), day)


def tallied(
    players: Sequence[Player], shares: dict[str, float], weeks: int = 8, each: int = 5, seed: int = 1
) -> list[Tally]:
    """Return tallies in which each skill comes off with its share in everybody, at one step of each skill.

    A tally is made every ten seconds; skills that are not named were not watched.
    """
    rng = np.random.default_rng(seed)
    steps = _where()
    found = []
    for week in range(weeks):
        day = FIRST + timedelta(weeks=week)
        clock = datetime.combine(day, time(18))
        for skill, share in shares.items():
            for who in [p for p in players if p.position is SKILLS[skill]] * each:
                clock += timedelta(seconds=10)
                drill, step = steps[skill][week % len(steps[skill])]
                outcome = Outcome.DONE if rng.random() < share else Outcome.MISSED
                found.append(_tally(day.isoformat(), who.id, skill, outcome, drill, step, clock))
    return found


def _tally(practice: str, player: UUID, skill: str, outcome, drill: str, step: str, clock: datetime) -> Tally:
    made = Tally(practice, player, skill, outcome, drill, step, "Ines", tablet="t")
    return replace(made, at=round(1000 * clock.timestamp()))


def _where() -> dict[str, list[tuple[str, str]]]:
    """Return the first two steps that show each skill."""
    found: dict[str, list[tuple[str, str]]] = {key: [] for key in SKILLS}
    for drill in drills():
        for step in drill.steps:
            for key in step.skills:
                found[key] = [*found[key], (drill.key, step.key)][:2]
    return found


def assert_adds_up(plan: Plan, here: Sequence[str]) -> None:
    """Minutes, players, stations, tries: nothing is lost and nothing stands twice."""
    assert sum(block.minutes for block in plan.blocks) == plan.asked.minutes
    assert all(block.minutes >= 1 for block in plan.blocks)
    placed = [number for group in plan.groups for number in group.players]
    assert sorted(placed) == sorted(here)
    fewest, most = sizes(len(here), len(plan.groups))
    assert all(fewest <= len(group.players) <= most for group in plan.groups)
    assert [group.station for group in plan.groups] == [*range(len(plan.starts))]
    stations = [block for block in plan.blocks if block.part is Part.STATION]
    assert len(stations) in (0, len(plan.starts))
    assert sum(b.minutes for b in plan.blocks if b.part is Part.BOARD) <= 5
    for block in plan.blocks:
        tried = {one.player for one in block.tries}
        assert tried <= set(here) - set(block.stand_aside)
        assert all(0 < one.tries <= 2 * block.minutes + 1e-9 for one in block.tries)
        assert {one.skill for one in block.tries} <= set(block.skills)
    looks = [(look.player, look.skill) for watch in plan.watch for look in watch.looks]
    assert len(set(looks)) == len(looks)
    assert {player for player, _ in looks} <= set(here)
    assert plan.optimal
