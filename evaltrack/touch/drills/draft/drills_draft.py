"""All drills as they are being changed: nothing is saved before all is whole, each change can be undone."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from evaltrack.intake.drafted_drills import Fault, Reading, read_drafted
from evaltrack.language import mark, tr
from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.player import Position
from evaltrack.rink.skill import Skill
from evaltrack.touch.drills.draft import edits
from evaltrack.touch.drills.draft.drill_keys import keyed, new_key
from evaltrack.touch.drills.draft.edits import Path

_NEW = (mark("a new drill"), mark("a new step"), mark("a new slot"))


class DrillsDraft:
    """The drills of a season, changed.

    Parameters
    ----------
    saved : the drills in use, as the season has them.
    every : these, and those that are not in use any more, with all their steps.
    skills : the skills in use, by key.
    """

    def __init__(self, saved: Iterable[Drill], every: Iterable[Drill], skills: Mapping[str, Skill]):
        self._saved = tuple(saved)
        self._every = tuple(every)
        self.skills = skills
        self._before: list[tuple[str, tuple[Drill, ...]]] = []
        self._put(self._saved)

    def _put(self, drills: tuple[Drill, ...]) -> None:
        self.drills = drills
        vars(self).pop("reading", None)

    def watch(self, skills: Mapping[str, Skill]) -> None:
        """Hold the drills against other skills, which were changed meanwhile."""
        self.skills = skills
        self._put(self.drills)

    @property
    def is_changed(self) -> bool:
        """Say whether the drills differ from those of the season."""
        return self.drills != self._saved

    @property
    def undoes(self) -> str:
        """Return what `undo` would take back, empty when there is nothing."""
        return tr(self._before[-1][0].partition(":")[0]) if self._before else ""

    @cached_property
    def reading(self) -> Reading:
        """Return the drills as they would be saved, and what is wrong with them."""
        return read_drafted(keyed(self.drills, self._every), self.skills.values())

    def at(self, path: Path) -> Drill | Step | Slot | None:
        """Return what has this path, or None."""
        return edits.at(self.drills, path)

    def faults(self, path: Path) -> list[Fault]:
        """Return what is wrong with something, or with a part of it."""
        place = self._place(path)
        return [fault for fault in self.reading.faults if fault.place[: len(place)] == place]

    def own_faults(self, path: Path) -> list[Fault]:
        """Return what is wrong with something itself, and not with a part of it."""
        place = self._place(path)
        return [fault for fault in self.reading.faults if fault.place == place]

    def _place(self, path: Path) -> tuple[int, ...]:
        place = ()
        for depth, key in enumerate(path, 1):
            keys = [part.key for part in edits.beside(self.drills, path[:depth])]
            place = (*place, keys.index(key))
        return place

    def out_of_use(self, above: Path = ()) -> Sequence[Drill | Step]:
        """Return the drills that are not in use any more, or the steps of a drill."""
        there = {part.key for part in (edits.below(self.at(above)) if above else self.drills)}
        known = edits.at(self._every, above) if above else None
        parts = edits.below(known) if known else () if above else self._every
        return [part for part in parts if part.key not in there]

    def add(self, above: Path = ()) -> Path:
        """Add a drill, a step to a drill, or a slot to a step, at the end, and return its path."""
        parts = edits.below(self.at(above)) if above else self.drills
        gone = self.out_of_use(above) if len(above) < len(_NEW) - 1 else ()
        key = new_key([part.key for part in (*parts, *gone)])
        slot = Slot("new_1", "", Position.FORWARD, None, ())
        step = Step("new_1", "", (slot,))
        part = (Drill(key, "", (step,)), replace(step, key=key), replace(slot, key=key))[len(above)]
        self._edit(
            _NEW[len(above)],
            edits.with_parts(self.drills, above, [*parts, part]),
        )
        return (*above, key)

    def copy(self, path: Path) -> Path:
        """Put a copy of a step after it, under a name of its own, and return its path."""
        steps = list(edits.beside(self.drills, path))
        number = next(i for i, step in enumerate(steps) if step.key == path[-1])
        key = new_key([step.key for step in (*steps, *self.out_of_use(path[:-1]))])
        steps.insert(number + 1, replace(steps[number], key=key, name=""))
        self._edit(mark("the copy"), edits.with_parts(self.drills, path[:-1], steps))
        return (*path[:-1], key)

    def bring_back(self, path: Path) -> None:
        """Put a drill or a step that is not in use into use again, at the end."""
        part = edits.at(self._saved, path) or edits.at(self._every, path)
        parts = [*edits.beside(self.drills, path), part]
        self._edit(mark("bringing back"), edits.with_parts(self.drills, path[:-1], parts))

    def take_out(self, path: Path) -> None:
        """Take a drill, a step or a slot out; the last one of a list stays."""
        if len(edits.beside(self.drills, path)) > 1:
            self._edit(mark("taking out"), edits.without(self.drills, path))

    def move(self, path: Path, by: int) -> None:
        """Move something up or down in its list."""
        self._edit(mark("the move"), edits.moved(self.drills, path, by))

    def change(self, path: Path, what: str, **fields) -> None:
        """Change fields of something; changes of the same ``what`` of it that follow one another are one."""
        self._edit(f"{what}:{path}", edits.changed(self.drills, path, **fields))

    def undo(self) -> None:
        """Take the last change back."""
        if self._before:
            self._put(self._before.pop()[1])

    def _edit(self, what: str, drills: tuple[Drill, ...]) -> None:
        if drills == self.drills:
            return
        going_on = ":" in what and self._before and self._before[-1][0] == what
        if not going_on:
            self._before.append((what, self.drills))
        self._put(drills)
