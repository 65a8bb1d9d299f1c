"""Drills as the fields of the tables in which a TOML file has them."""

from typing import Any

from evaltrack.intake.catalogue import OUT
from evaltrack.rink.drill import Drill, Slot, Step


def drill_fields(drill: Drill) -> dict[str, Any]:
    """Return the fields of a drill; steps and slots are lists of tables below it."""
    return {"key": drill.key, "name": drill.name, "step": [_step(step) for step in drill.steps]}


def _step(step: Step) -> dict[str, Any]:
    slots = [_slot(slot) for slot in step.slots]
    more = {} if step.contact is None else {"contact": step.contact}
    return {"key": step.key, "name": step.name, "surface": str(step.surface), **more, "slot": slots}


def _slot(slot: Slot) -> dict[str, Any]:
    more = {"against": slot.against} if slot.against else {}
    more |= {"spot": list(slot.spot)} if slot.spot else {}
    return {
        "key": slot.key,
        "name": slot.name,
        "position": str(slot.position),
        "next": slot.next or OUT,
        **more,
        "skills": list(slot.skills),
    }
