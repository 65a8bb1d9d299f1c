"""Keys for what is new in the drills, made of its name when it is saved; what is known keeps its own."""

import re
import unicodedata
from collections.abc import Collection, Iterable
from dataclasses import replace

from evaltrack.intake.catalogue import OUT
from evaltrack.rink.drill import Drill, Slot, Step

_NEW = re.compile(r"new_\d+")  # until it has a name
_LONGEST = 30  # characters, so that a word fits before it and a number behind it


def new_key(taken: Collection[str]) -> str:
    """Return a key for something without a name."""
    number = 1
    while f"new_{number}" in taken:
        number += 1
    return f"new_{number}"


def key_of(name: str, kind: str, taken: Collection[str]) -> str:
    """Return a key made of a name, with a number where it is taken; of ``kind`` where it has no letters."""
    plain = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode()
    key = re.sub(r"[^a-z0-9]+", "_", plain).strip("_")[:_LONGEST].strip("_")
    if not key[:1].isalpha() or key == OUT:
        key = f"{kind}_{key}".strip("_")
    number, stem = 1, key
    while key in taken:
        number += 1
        key = f"{stem}_{number}"
    return key


def keyed(drills: Iterable[Drill], known: Iterable[Drill]) -> list[Drill]:
    """Return the drills with a key of its own for each new one, and for the new steps and slots.

    Parameters
    ----------
    known : the drills that the season has or had: no new one may take up the history of theirs.
    """
    were = {drill.key: drill for drill in known}
    drills = list(drills)
    taken = {*were, *(drill.key for drill in drills)}
    found = []
    for drill in drills:
        before = were.get(drill.key)
        key = drill.key
        if before is None and _NEW.fullmatch(key):
            key = key_of(drill.name, "drill", taken)
            taken.add(key)
        found.append(replace(drill, key=key, steps=_steps(drill, before)))
    return found


def _steps(drill: Drill, before: Drill | None) -> tuple[Step, ...]:
    were = {step.key: step for step in (before.steps if before else ())}
    taken = {*were, *(step.key for step in drill.steps)}
    like = {slot.name: slot.key for step in drill.steps for slot in step.slots if not _is_new(slot, {})}
    found = []
    for step in drill.steps:
        key = step.key
        if key not in were and _NEW.fullmatch(key):
            key = key_of(step.name, "step", taken)
            taken.add(key)
        old = {slot.key: slot for slot in (were[step.key].slots if step.key in were else ())}
        found.append(replace(step, key=key, slots=_slots(step, old, like)))
    return tuple(found)


def _is_new(slot: Slot, old: Collection[str]) -> bool:
    return slot.key not in old and bool(_NEW.fullmatch(slot.key))


def _slots(step: Step, old: Collection[str], like: dict[str, str]) -> tuple[Slot, ...]:
    """Return the slots of a step with their keys.

    One that is called as a slot of another step is the same slot: who is in it stays there when the step
    changes.
    """
    taken = {slot.key for slot in step.slots}
    keys: dict[str | None, str | None] = {}
    for slot in step.slots:
        if _is_new(slot, old):
            same = like.get(slot.name)
            key = same if same and same not in taken else key_of(slot.name, "slot", taken)
            taken.add(key)
            keys[slot.key] = key
    return tuple(
        replace(
            slot,
            key=keys.get(slot.key, slot.key),
            next=keys.get(slot.next, slot.next),
            against=keys.get(slot.against, slot.against),
        )
        for slot in step.slots
    )
