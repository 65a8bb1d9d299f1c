"""The catalogue: skills with their definitions, drills with their steps and slots, from TOML files."""

from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from evaltrack.intake.text import meant, shown
from evaltrack.intake.toml_entries import Entry, read_entries
from evaltrack.language import tr
from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Surface
from evaltrack.rink.skill import DEFAULT_TARGET, Definition, Skill

CAPTION_LENGTH = 48
LOOKS_LIKE_LENGTH = 80
STEP_NAME_LENGTH = 16
NAME_LENGTH = 40
SPOTS_APART = 3  # percent along and across, in which two slots would stand on each other
OUT = "out"
_SKILL_FIELDS = (
    *("key", "name", "for", "caption", "starts", "done", "missed", "not_counted"),
    *("looks_like", "at_home", "target"),
)


def read_skills(path: str | Path) -> list[Skill]:
    """Return the skills of a skills.toml, in its order.

    Raises
    ------
    IntakeError : every fault of the file, each with its line where one is known.
    """
    entries, complaints = read_entries(path, "skill")
    skills: dict[str, Skill] = {}
    for entry in entries:
        skill = _skill(entry, skills)
        skills.setdefault(skill.key, skill)
    complaints.raise_any()
    return list(skills.values())


def read_drills(path: str | Path, skills: Iterable[Skill]) -> list[Drill]:
    """Return the drills of a drills.toml, in its order.

    Parameters
    ----------
    skills : the catalogue's skills, which the slots name by their keys.

    Raises
    ------
    IntakeError : every fault of the file, each with its line where one is known.
    """
    entries, complaints = read_entries(path, "drill")
    drills = drills_of(entries, skills)
    complaints.raise_any()
    return drills


def drills_of(entries: Iterable[Entry], skills: Iterable[Skill]) -> list[Drill]:
    """Return the drills of entries; what is wrong with them goes to the entries' complaints."""
    known = {skill.key: skill for skill in skills}
    drills: dict[str, Drill] = {}
    for entry in entries:
        drill = _drill(entry, drills, known)
        drills.setdefault(drill.key, drill)
    return list(drills.values())


def _skill(entry: Entry, taken: Iterable[str]) -> Skill:
    key = entry.key("skill", taken)
    entry.only(*_SKILL_FIELDS)
    return Skill(
        key=key,
        name=entry.text("name", NAME_LENGTH),
        positions=_positions(entry),
        caption=entry.text("caption", CAPTION_LENGTH),
        definition=Definition(*(entry.text(field) for field in ("starts", "done", "missed", "not_counted"))),
        looks_like=entry.text("looks_like", LOOKS_LIKE_LENGTH),
        at_home=entry.texts("at_home", required=False),
        target=entry.share("target", DEFAULT_TARGET),
    )


def _positions(entry: Entry) -> tuple[Position, ...]:
    named = entry.texts("for")
    if named == () or not all(letter in tuple(Position) for letter in named):
        entry.complain(tr('`for` must list who is watched: any of "D", "F", "G"'), "for")
        return ()
    return tuple(position for position in Position if position in named)


def _drill(entry: Entry, taken: Iterable[str], skills: dict[str, Skill]) -> Drill:
    key = entry.key("drill", taken)
    entry.only("key", "name", "step")
    name = entry.text("name", NAME_LENGTH)
    steps: dict[str, Step] = {}
    for below in entry.entries("step"):
        step = _step(below, steps, skills)
        steps.setdefault(step.key, step)
    return Drill(key, name, tuple(steps.values()))


def _step(entry: Entry, taken: Iterable[str], skills: dict[str, Skill]) -> Step:
    key = entry.key("step", taken)
    entry.only("key", "name", "surface", "contact", "slot")
    name, surface = entry.text("name", STEP_NAME_LENGTH), _surface(entry)
    slots: dict[str, Slot] = {}
    places: dict[str, Entry] = {}
    for below in entry.entries("slot"):
        slot = _slot(below, slots, skills)
        slots.setdefault(slot.key, slot)
        places.setdefault(slot.key, below)
    step = Step(key, name, tuple(slots.values()), surface, entry.yes_or_no("contact"))
    _check_rotation(slots, places)
    _check_met(slots, places)
    _check_spots(slots, places)
    if slots and not step.skills:
        entry.complain(tr("none of its slots names a skill; give at least one something to watch"))
    return step


def _slot(entry: Entry, taken: Iterable[str], skills: dict[str, Skill]) -> Slot:
    key = entry.key("slot", taken)
    entry.only("key", "name", "position", "next", "against", "spot", "skills")
    if key == OUT:
        entry.complain(tr('"out" means the end of the line; give the slot another key'), "key")
    name, position, onward = entry.text("name", NAME_LENGTH), _position(entry), entry.text("next")
    watched = tuple(dict.fromkeys(entry.texts("skills")))
    _check_watched(entry, watched, position, skills)
    met = entry.text("against", required=False) or None
    return Slot(
        key, name, position, None if onward == OUT else onward, watched, met, entry.percents("spot", 2)
    )


def _surface(entry: Entry) -> Surface:
    word = entry.text("surface", required=False)
    if not word or word in tuple(Surface):
        return Surface(word or Surface.HALF)
    entry.complain(tr('`surface` must be "full", "half" or "cross"'), "surface")
    return Surface.HALF


def _position(entry: Entry) -> Position | None:
    letter = entry.text("position")
    if letter in tuple(Position):
        return Position(letter)
    if letter:
        entry.complain(tr('`position` must be "D", "F" or "G"'), "position")
    return None


def _check_watched(
    entry: Entry, watched: tuple[str, ...], position: Position | None, skills: dict[str, Skill]
) -> None:
    for key in watched:
        if key not in skills:
            entry.complain(
                tr("there is no skill {text}{meant}", text=shown(key), meant=meant(key, skills)), "skills"
            )
        elif position and not skills[key].suits(position):
            entry.complain(
                tr(
                    "`{key}` is not for {position}; take it out, or change the skill's `for`",
                    key=key,
                    position=position,
                ),
                "skills",
            )


def _check_rotation(slots: dict[str, Slot], places: dict[str, Entry]) -> None:
    """Every slot leads to one of its own position group or out; no two to the same one, none in a circle."""
    led_to = Counter(slot.next for slot in slots.values())
    for slot in slots.values():
        entry, onward = places[slot.key], slots.get(slot.next)
        if not slot.next:
            continue
        if onward is None:
            entry.complain(
                tr(
                    "`next` names no slot, {text}{meant}",
                    text=shown(slot.next),
                    meant=meant(slot.next, [*slots, OUT]),
                ),
                "next",
            )
        elif onward.position != slot.position:
            entry.complain(
                tr(
                    "`next` leads to `{next}`, which is for another position group",
                    next=shown(slot.next).strip("`"),
                ),
                "next",
            )
        elif led_to[slot.next] > 1:
            entry.complain(
                tr(
                    "`next` leads to `{next}` as another slot does; only one can",
                    next=shown(slot.next).strip("`"),
                ),
                "next",
            )
        elif _leads_round(slots, slot):
            entry.complain(tr("`next` leads round in a circle; one of its slots must lead out"), "next")


def _check_met(slots: dict[str, Slot], places: dict[str, Entry]) -> None:
    """Whom a slot meets is another slot of the same step."""
    for slot in slots.values():
        entry = places[slot.key]
        if slot.against == slot.key:
            entry.complain(tr("`against` names the slot itself; name the one that it meets"), "against")
        elif slot.against and slot.against not in slots:
            near = meant(slot.against, [key for key in slots if key != slot.key])
            entry.complain(
                tr(
                    "`against` names no slot of this step, {text}{near}",
                    text=shown(slot.against),
                    near=near,
                ),
                "against",
            )


def _check_spots(slots: dict[str, Slot], places: dict[str, Entry]) -> None:
    """No slot stands where another one does."""
    there: list[Slot] = []
    for slot in slots.values():
        for other in there:
            if slot.spot and all(
                abs(x - y) < SPOTS_APART for x, y in zip(slot.spot, other.spot, strict=True)
            ):
                places[slot.key].complain(
                    tr("`spot` is that of `{key}`; move one of them", key=shown(other.key).strip("`")), "spot"
                )
                break
        there += [slot] if slot.spot else []


def _leads_round(slots: dict[str, Slot], slot: Slot) -> bool:
    """Say whether a player who starts in this slot comes back to it without going out."""
    onward = slot
    for _ in slots:
        onward = slots.get(onward.next)
        if onward is None or onward is slot:
            break
    return onward is slot
