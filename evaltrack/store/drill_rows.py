"""Drills, steps and slots as rows of the season file."""

from collections.abc import Container
from itertools import groupby

from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Surface
from evaltrack.store import sound


def drill_of(head, rows, skills: Container[str]) -> Drill:
    """Return a drill from its key and name, and a row for each of its slots with that of the step before it.

    Raises
    ------
    SeasonFileError : the rows are damaged.
    """
    steps = [_step(key, list(part), skills) for key, part in groupby(rows, key=lambda row: row[2:6])]
    key, name = sound.key(head[0], "the key of a drill"), sound.name(head[1], "the name of a drill")
    return Drill(key, name, steps=tuple(steps))


def _step(head, rows, skills: Container[str]) -> Step:
    slots = tuple(_slot(row[6:], skills) for row in rows if row[6] is not None)
    if len(slots) > sound.MOST_SLOTS or not is_way_out({slot.key: slot.next for slot in slots}):
        raise sound.unlike("the way through a step")
    keys = {slot.key for slot in slots}
    if any(slot.against not in {None, *keys} - {slot.key} for slot in slots):
        raise sound.unlike("the slot that another one meets")
    key, name = sound.key(head[0], "the key of a step"), sound.name(head[1], "the name of a step")
    contact = sound.maybe(sound.flag, head[3], "the contact of a step")
    return Step(key, name, slots, sound.word(Surface, head[2], "the surface of a step"), contact)


def _slot(row, skills: Container[str]) -> Slot:
    key, name, position, onward, watched, met, *spot = row
    return Slot(
        sound.key(key, "the key of a slot"),
        sound.name(name, "the name of a slot"),
        sound.word(Position, position, "the position of a slot"),
        sound.maybe(sound.key, onward, "the slot that follows"),
        tuple(sound.among(skills, skill, "a slot") for skill in sound.keys(watched, "the skills of a slot")),
        sound.maybe(sound.key, met, "the slot that another one meets"),
        _spot(spot),
    )


def _spot(values) -> tuple[int, int] | None:
    if values == [None, None]:
        return None
    along, across = (sound.whole(value, "the place of a slot", high=100) for value in values)
    return along, across


def slot_row(slot: Slot) -> tuple:
    """Return a slot as its row, from its key on."""
    watched = " ".join(slot.skills)
    spot = slot.spot or (None, None)
    return (slot.key, slot.name, slot.position, slot.next, watched, slot.against, *spot)


def is_way_out(onward: dict[str, str | None]) -> bool:
    """Say whether every slot leads to another one of the step, and in the end out."""
    sound_ones: set[str | None] = {None}
    for key in onward:
        route = []
        while key not in sound_ones:
            if key in route or key not in onward:
                return False
            route.append(key)
            key = onward[key]
        sound_ones.update(route)
    return True
