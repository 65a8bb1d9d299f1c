"""How drills that are being changed read: what is in them, and what is wrong at which place."""

from collections.abc import Collection, Iterable, Mapping

from evaltrack.language import mark, tr
from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.player import Position
from evaltrack.rink.skill import Skill
from evaltrack.touch.drills.draft.drills_draft import DrillsDraft
from evaltrack.touch.drills.draft.edits import Path, below
from evaltrack.words.wording import counted

_NAMELESS = {
    Drill: mark("A drill without a name"),
    Step: mark("A step without a name"),
    Slot: mark("A slot without a name"),
}


def title_of(part: Drill | Step | Slot) -> str:
    """Return the name of something, or that it has none."""
    return part.name.strip() or tr(_NAMELESS[type(part)])


def drill_words(drill: Drill) -> str:
    """Return the steps of a drill."""
    return _with_names(counted(len(drill.steps), "step"), map(title_of, drill.steps))


def step_words(step: Step) -> str:
    """Return the slots of a step."""
    return _with_names(counted(len(step.slots), "slot"), map(title_of, step.slots))


def _with_names(what: str, names: Iterable[str]) -> str:
    return tr("{what}: {more}", what=what, more=", ".join(names))


def slot_words(slot: Slot, step: Step, skills: Mapping[str, Skill], groups: Collection[Position]) -> str:
    """Return who fills a slot, what is watched there, where it leads, and whom it meets.

    Parameters
    ----------
    groups : the position groups of the roster; a slot of another one stays empty, which is said.
    """
    names = {other.key: title_of(other) for other in step.slots}
    watched = ", ".join(skills[key].name if key in skills else key for key in slot.skills)
    said = {"who": slot.position.word, "onward": leads_to(slot, names)}
    said |= {"watched": watched or tr("nothing is watched")}
    if slot.against:
        met = names.get(slot.against, slot.against)
        words = tr("{who}, then {onward}; against {met}; {watched}", met=met, **said)
    else:
        words = tr("{who}, then {onward}; {watched}", **said)
    return words if slot.position in groups else f"{words}. {nobody(slot.position)}"


def leads_to(slot: Slot, names: Mapping[str, str]) -> str:
    """Return where the player of a slot goes next."""
    return names.get(slot.next, slot.next) if slot.next else tr("to the end of the line")


def nobody(position: Position) -> str:
    """Return that the roster has nobody for a slot."""
    return tr("No {position} is on the roster: it stays empty.", position=position.word)


def fault_words(draft: DrillsDraft, path: Path) -> str:
    """Return the first thing that is wrong with something, and how many more there are; empty for nothing."""
    faults = draft.faults(path)
    if not faults:
        return ""
    part, names = draft.at(path), []
    for number in faults[0].place[len(path) :]:
        part = below(part)[number]
        names.append(title_of(part))
    said = _with_names(", ".join(names), [faults[0].text]) if names else faults[0].text
    return said if len(faults) == 1 else f"{said} {tr('And {number} more.', number=len(faults) - 1)}"
