"""Drills as the fields of the tables in which a TOML file has them."""

from typing import Any

from evaltrack.intake.catalogue import OUT
from evaltrack.rink.drill import Drill, Slot


def drill_fields(drill: Drill) -> dict[str, Any]:
    """Return the fields of a drill; steps and slots are lists of tables below it."""
    steps = [
        {"key": step.key, "name": step.name, "slot": [_slot(slot) for slot in step.slots]}
        for step in drill.steps
    ]
    return {"key": drill.key, "name": drill.name, "step": steps}


def _slot(slot: Slot) -> dict[str, Any]:
    met = {"against": slot.against} if slot.against else {}
    return {
        "key": slot.key,
        "name": slot.name,
        "position": str(slot.position),
        "next": slot.next or OUT,
        **met,
        "skills": list(slot.skills),
    }
