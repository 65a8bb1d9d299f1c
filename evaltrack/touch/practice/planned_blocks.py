"""The blocks of a plan that can be run on the bench."""

from collections.abc import Iterable
from typing import NamedTuple

from evaltrack.rink.drill import Drill
from evaltrack.rink.plan_card import PlanCard


class PlannedBlock(NamedTuple):
    """A block with a step: its name, its minutes on the clock, and what to watch by key."""

    name: str
    clock: str
    drill: str
    step: str
    watch: str


def blocks_to_run(card: PlanCard, drills: Iterable[Drill]) -> list[PlannedBlock]:
    """Return the blocks of which the season still has the step, in order of time."""
    names = {(drill.key, step.key): step.name for drill in drills for step in drill.steps}
    found = []
    for at, block in enumerate(card.blocks):
        if name := names.get((block.drill, block.step)):
            start = card.starts_at(at)
            clock = f"{start}–{start + block.minutes}"
            found.append(PlannedBlock(name, clock, block.drill, block.step, block.watch))
    return found
