"""The names that a plan is told in."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from evaltrack.rink.drill import Drill
from evaltrack.rink.skill import Skill


@dataclass(frozen=True)
class PlanNames:
    """The names of skills by key, and of drill and step by both keys."""

    skills: Mapping[str, str]
    steps: Mapping[tuple[str, str], tuple[str, str]]

    def step(self, drill: str, step: str) -> str:
        """Return ``Breakout and attack, 2 against 1``."""
        return ", ".join(self.steps[drill, step])


def plan_names(skills: Iterable[Skill], drills: Iterable[Drill]) -> PlanNames:
    """Return the names that a plan is told in."""
    steps = {(drill.key, step.key): (drill.name, step.name) for drill in drills for step in drill.steps}
    return PlanNames({skill.key: skill.name for skill in skills}, steps)
