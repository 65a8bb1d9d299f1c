"""A drill, its steps from easy to hard, and the slots that players fill in each step."""

from collections.abc import Iterable
from dataclasses import dataclass

from evaltrack.rink.player import Position
from evaltrack.rink.practice import Surface


@dataclass(frozen=True, slots=True)
class Slot:
    """A role within one rep: who fills it, where its player goes next, and what is worth watching.

    ``next`` is the key of another slot of the step, or None for out to the end of the queue. ``against`` is
    the key of the slot whose player theirs meets in a rep, None where nobody in particular is met. ``spot``
    is where it stands on a plan of the ice: percent of the way up from the first goal, and percent across;
    None where that follows from the order of the slots.
    """

    key: str
    name: str
    position: Position
    next: str | None
    skills: tuple[str, ...]
    against: str | None = None
    spot: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a drill. ``name`` is short enough for a button; it needs the ice of its ``surface``.

    ``contact`` says whether players may touch in it; None is as its slots meet.
    """

    key: str
    name: str
    slots: tuple[Slot, ...]
    surface: Surface = Surface.HALF
    contact: bool | None = None

    @property
    def has_contact(self) -> bool:
        """Say whether players may touch in it: it says so, or else players of two slots meet."""
        return any(slot.against for slot in self.slots) if self.contact is None else self.contact

    @property
    def skills(self) -> tuple[str, ...]:
        """The keys of the skills worth watching in this step, each once, in the order of the slots."""
        return tuple(dict.fromkeys(key for slot in self.slots for key in slot.skills))


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill with its steps, easy to hard."""

    key: str
    name: str
    steps: tuple[Step, ...]

    def step(self, key: str) -> Step:
        """Return the step with this key; KeyError when the drill has none."""
        for step in self.steps:
            if step.key == key:
                return step
        raise KeyError(key)

    def after(self, key: str) -> Step | None:
        """Return the step that follows, None after the last one; KeyError when there is no such step."""
        following = self.steps[self.steps.index(self.step(key)) + 1 :]
        return following[0] if following else None


def drill_named(drills: Iterable[Drill], key: str) -> Drill:
    """Return the drill with this key; KeyError when there is none."""
    for drill in drills:
        if drill.key == key:
            return drill
    raise KeyError(key)


def steps_by_drill(drills: Iterable[Drill]) -> dict[str, str]:
    """Return how steps are called beside those of other drills, ``Drill, step``, by ``drill/step``."""
    pairs = [(drill, step) for drill in drills for step in drill.steps]
    return {f"{drill.key}/{step.key}": f"{drill.name}, {step.name}" for drill, step in pairs}
