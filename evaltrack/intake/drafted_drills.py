"""Drills that are still being written: read as a file with them would be, every fault at its place."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from evaltrack.intake.catalogue import drills_of
from evaltrack.intake.catalogue_fields import drill_fields
from evaltrack.intake.toml_entries import Entry
from evaltrack.language import mark, tr
from evaltrack.rink.drill import Drill
from evaltrack.rink.skill import Skill

# as a file is complained of, and as a screen shows it
_AS_SEEN = {
    "`name`": mark("the name"),
    mark("the skill's `for`"): mark("who is watched in it"),
    "`next`": mark("the way on"),
    "`against`": mark("the choice under Against"),
    "`spot`": mark("its place on the plan"),
}


class Fault(NamedTuple):
    """One complaint, in the words in which a file is complained of, with names in place of keys.

    ``place`` has the numbers of the drill, the step and the slot, as far as it lies in one; ``field`` is
    empty where no field is to blame.
    """

    place: tuple[int, ...]
    field: str
    text: str


class Reading(NamedTuple):
    """Drills as they are read, and what is wrong; drills with faults are not to be used."""

    drills: list[Drill]
    faults: list[Fault]


def read_drafted(drills: Iterable[Drill], skills: Iterable[Skill]) -> Reading:
    """Read drills as those of a drills.toml: names are folded, and all that is refused there is told."""
    skills, drills = tuple(skills), tuple(drills)
    found = _Faults(drills, skills)
    whole = Entry({"drill": [drill_fields(drill) for drill in drills]}, (), _Everywhere(), found)
    return Reading(drills_of(whole.entries("drill"), skills), found.told)


class _Everywhere:
    """Where the fields stand: each at its own path, since there are no lines."""

    def __contains__(self, path: tuple) -> bool:
        return True

    def __getitem__(self, path: tuple) -> tuple:
        return path


class _Faults:
    """Takes complaints as those of a file are taken, with the names on screens for what a file calls so."""

    def __init__(self, drills: Sequence[Drill], skills: Iterable[Skill]):
        self._drills = drills
        self._seen = {tr(written): tr(seen) for written, seen in _AS_SEEN.items()}
        self._skills = {f"`{skill.key}`": skill.name for skill in skills}
        self.told: list[Fault] = []

    def add(self, path: tuple, text: str, about: str = "") -> None:
        """Note a fault at the path of a field; a sentence that does not name its entry is about all of it."""
        *above, field = path
        place = tuple(part for part in above if isinstance(part, int))
        names = self._skills if field == "skills" else self._slots(place)
        said = text
        for written, seen in (self._seen | names).items():
            said = said.replace(written, seen)
        self.told.append(Fault(place, field or "", said[:1].upper() + said[1:] + "."))

    def _slots(self, place: tuple[int, ...]) -> dict[str, str]:
        """Return the names of the slots of the step in which a place lies; the key of one without a name."""
        slots = self._drills[place[0]].steps[place[1]].slots if len(place) > 1 else ()
        return {f"`{slot.key}`": slot.name or slot.key for slot in slots}
