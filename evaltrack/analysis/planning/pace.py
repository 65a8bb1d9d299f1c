"""How many reps a minute this team makes of each step, by its own reps, or by the times of its tallies.

A tally is a try that was noted, and a player has one place in a rep, so a step makes at least as many reps a
minute as a skill has tallies, over the slots that show it. Where neither is known a default stands in.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import pairwise

from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.plan import Basis, Pace
from evaltrack.rink.practice import Rep
from evaltrack.rink.tally import Tally
from evaltrack.rink.tally_choice import time_of

PAUSE = 120.0  # seconds: after a longer one the step was interrupted
LEAST_REPS, LEAST_TALLIES = 5, 10  # from one to the next: fewer tell no pace
LEAST_MINUTES = 1.0
USUAL = Pace(2.0, Basis.USUAL)  # a rep in half a minute: common practice, not measured

Key = tuple[str, str]


def paces(reps: Iterable[Rep], tallies: Iterable[Tally], drills: Iterable[Drill]) -> dict[Key, Pace]:
    """Return the pace of every step, by drill and step."""
    by_reps = _by_reps(reps)
    by_tallies = _streams(tallies)
    return {
        (drill.key, step.key): by_reps.get((drill.key, step.key))
        or _by_tallies(step, by_tallies.get((drill.key, step.key), {}))
        or USUAL
        for drill in drills
        for step in drill.steps
    }


def _by_reps(reps: Iterable[Rep]) -> dict[Key, Pace]:
    moments: dict[Key, dict] = defaultdict(lambda: defaultdict(list))
    for rep in reps:
        moments[rep.drill, rep.step][rep.practice, rep.tablet].append(rep.at / 1000)
    found = {key: _counted(by.values(), LEAST_REPS) for key, by in moments.items()}
    return {key: Pace(count / minutes, Basis.REPS, count) for key, (count, minutes) in found.items() if count}


def _streams(tallies: Iterable[Tally]) -> dict[Key, dict[str, dict]]:
    """Return the times of tallies by step, skill, and who noted them at which practice."""
    found: dict[Key, dict] = defaultdict(lambda: defaultdict(lambda: defaultdict(list)))
    for tally in tallies:
        if (moment := time_of(tally)) is not None:
            whose = tally.practice, tally.observer
            found[tally.drill, tally.step][tally.skill][whose].append(moment.timestamp())
    return found


def _by_tallies(step: Step, streams: dict[str, dict]) -> Pace | None:
    found = []
    for skill, by in streams.items():
        slots = sum(skill in slot.skills for slot in step.slots)
        count, minutes = _counted(by.values(), LEAST_TALLIES)
        if slots and count:
            found.append(Pace(count / minutes / slots, Basis.TALLIES, count))
    return max(found, key=lambda pace: pace.reps, default=None)


def _counted(moments: Iterable[Sequence[float]], least: int) -> tuple[int, float]:
    """Return how often one followed another without a pause, and in how many minutes; 0 for too few."""
    gaps = [gap for each in moments for one, two in pairwise(sorted(each)) if (gap := two - one) <= PAUSE]
    minutes = sum(gaps) / 60
    return (len(gaps), minutes) if len(gaps) >= least and minutes >= LEAST_MINUTES else (0, 0.0)
