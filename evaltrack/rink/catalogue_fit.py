"""Whether skills and drills fit each other, and which change of a definition must be asked about."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace

from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.skill import Skill


@dataclass(frozen=True, slots=True)
class Watched:
    """A place in the drills in which a skill is watched."""

    drill: Drill
    step: Step
    slot: Slot
    skill: str


def watched_in(drills: Iterable[Drill]) -> list[Watched]:
    """Return every place in which a skill is watched, in the order of the drills."""
    return [
        Watched(drill, step, slot, key)
        for drill in drills
        for step in drill.steps
        for slot in step.slots
        for key in slot.skills
    ]


def unfit(drills: Iterable[Drill], skills: Iterable[Skill]) -> list[Watched]:
    """Return where the drills watch what is not among the skills, or not for who stands there."""
    known = {skill.key: skill for skill in skills}
    return [
        one
        for one in watched_in(drills)
        if one.skill not in known or not known[one.skill].suits(one.slot.position)
    ]


def without_skill(drills: Iterable[Drill], key: str) -> list[Drill]:
    """Return the drills with a skill taken out of every slot; a step may have nothing to watch then."""
    return [replace(drill, steps=tuple(_without(step, key) for step in drill.steps)) for drill in drills]


def _without(step: Step, key: str) -> Step:
    slots = (replace(slot, skills=tuple(one for one in slot.skills if one != key)) for slot in step.slots)
    return replace(step, slots=tuple(slots))


def to_be_asked(rewritten: Iterable[str], tries: Mapping[str, int], answered: Collection[str]) -> list[str]:
    """Return the skills of which must be said whether another definition begins a new series.

    A skill without a try under the old words has no series that could be mixed.

    Parameters
    ----------
    rewritten : the keys of the skills with another definition.
    tries : how many tries each skill has under the definition in force.
    answered : the keys of those of which it was said.
    """
    return [key for key in rewritten if tries.get(key) and key not in answered]
