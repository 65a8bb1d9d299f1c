"""Drills with one thing changed. A path has the keys of a drill, of its step, and of a slot in that."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from evaltrack.rink.drill import Drill, Slot, Step

Path = tuple[str, ...]
Part = TypeVar("Part", Drill, Step, Slot)


def at(drills: Sequence[Drill], path: Path) -> Drill | Step | Slot | None:
    """Return what has this path, or None."""
    found, parts = None, drills
    for key in path:
        found = next((part for part in parts if part.key == key), None)
        if found is None:
            return None
        parts = below(found)
    return found


def below(part: Drill | Step | Slot) -> Sequence[Drill | Step | Slot]:
    """Return the steps of a drill, the slots of a step; a slot has nothing below it."""
    return part.steps if isinstance(part, Drill) else part.slots if isinstance(part, Step) else ()


def beside(drills: Sequence[Drill], path: Path) -> Sequence[Drill | Step | Slot]:
    """Return what stands in the same list as what has this path, itself too."""
    return below(at(drills, path[:-1])) if path[:-1] else drills


def with_parts(drills: Sequence[Drill], above: Path, parts: Sequence[Part]) -> tuple[Drill, ...]:
    """Return the drills with other parts below a path: steps of a drill, slots of a step."""
    return tuple(_with_parts(drills, above, parts))


def _with_parts(every: Sequence[Part], above: Path, parts: Sequence[Part]) -> list[Part]:
    if not above:
        return list(parts)
    return [
        _with_below(part, _with_parts(below(part), above[1:], parts)) if part.key == above[0] else part
        for part in every
    ]


def _with_below(part: Drill | Step, parts: Sequence[Part]) -> Drill | Step:
    name = "steps" if isinstance(part, Drill) else "slots"
    return replace(part, **{name: tuple(parts)})


def changed(drills: Sequence[Drill], path: Path, **fields) -> tuple[Drill, ...]:
    """Return the drills with other fields of what has this path."""
    parts = [replace(part, **fields) if part.key == path[-1] else part for part in beside(drills, path)]
    return with_parts(drills, path[:-1], parts)


def moved(drills: Sequence[Drill], path: Path, by: int) -> tuple[Drill, ...]:
    """Return the drills with what has this path one or more places on, as far as there are any."""
    parts = list(beside(drills, path))
    old = next(number for number, part in enumerate(parts) if part.key == path[-1])
    parts.insert(max(0, min(len(parts) - 1, old + by)), parts.pop(old))
    return with_parts(drills, path[:-1], parts)


def without(drills: Sequence[Drill], path: Path) -> tuple[Drill, ...]:
    """Return the drills without what has this path.

    Who went to a slot that is gone goes on to where it led, and nobody stands against it.
    """
    gone = at(drills, path)
    parts = [part for part in beside(drills, path) if part.key != path[-1]]
    if isinstance(gone, Slot):
        parts = [_past(slot, gone) for slot in parts]
    return with_parts(drills, path[:-1], parts)


def _past(slot: Slot, gone: Slot) -> Slot:
    onward = gone.next if slot.next == gone.key else slot.next
    met = None if slot.against == gone.key else slot.against
    return replace(slot, next=None if onward == slot.key else onward, against=met)
