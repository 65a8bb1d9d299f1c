"""What differs between two states of the catalogue, field by field and as texts."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.ident import now_ms
from evaltrack.rink.practice import Surface
from evaltrack.rink.skill import Skill

DEFINITION = ("starts", "done", "missed", "not_counted")


class Kind(StrEnum):
    """What a change of the catalogue is about."""

    SKILL = "skill"
    DRILL = "drill"


@dataclass(frozen=True, slots=True)
class CatalogueChange:
    """One thing of a skill or a drill that became another.

    ``field`` is as in the TOML files; ``use`` becomes ``in use`` or ``retired``, and was nothing for what is
    new; ``series`` is the number of the definition; ``step KEY`` is a whole step in one text.
    """

    kind: Kind
    key: str
    field: str
    was: str
    becomes: str
    tablet: str = ""
    at: int = field(default_factory=now_ms)


IN_USE, RETIRED = "in use", "retired"


def skill_texts(skill: Skill) -> dict[str, str]:
    """Return every field of a skill as a text, without the number of its definition."""
    return {
        "name": skill.name,
        "for": "".join(skill.positions),
        "caption": skill.caption,
        **{part: getattr(skill.definition, part) for part in DEFINITION},
        "looks_like": skill.looks_like,
        "at_home": "\n".join(skill.at_home),
        "target": str(skill.target),
    }


def drill_texts(drill: Drill) -> dict[str, str]:
    """Return every field of a drill as a text; a step is one field."""
    return {
        "name": drill.name,
        "steps": " ".join(step.key for step in drill.steps),
        **{f"step {step.key}": _step_text(step) for step in drill.steps},
    }


def _step_text(step: Step) -> str:
    planned = f" on {step.surface} ice" if step.surface is not Surface.HALF else ""
    contact = {None: "", True: ", contact", False: ", no contact"}[step.contact]
    return "\n".join([step.name + planned + contact, *map(_slot_text, step.slots)])


def _slot_text(slot: Slot) -> str:
    met = f", against {slot.against}" if slot.against else ""
    spot = f", at {slot.spot[0]} {slot.spot[1]}" if slot.spot else ""
    where = f"{slot.key} ({slot.name}) {slot.position} to {slot.next or 'out'}{met}{spot}"
    return f"{where}: {' '.join(slot.skills)}"


def differences(
    kind: Kind, key: str, before: dict[str, str], after: dict[str, str], tablet: str = ""
) -> list[CatalogueChange]:
    """Return what makes one state another, in the order of the fields; what is not there is empty."""
    return [
        CatalogueChange(kind, key, part, before.get(part, ""), after.get(part, ""), tablet)
        for part in dict.fromkeys((*before, *after))
        if before.get(part, "") != after.get(part, "")
    ]


def rewritten(before: Sequence[Skill], after: Iterable[Skill]) -> dict[str, list[str]]:
    """Return, by key, the parts of their definitions in which skills differ from what they were."""
    were = {skill.key: skill.definition for skill in before}
    found = {
        skill.key: [
            part for part in DEFINITION if getattr(skill.definition, part) != getattr(were[skill.key], part)
        ]
        for skill in after
        if skill.key in were
    }
    return {key: parts for key, parts in found.items() if parts}
