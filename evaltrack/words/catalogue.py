"""How changes of the catalogue read."""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from evaltrack.analysis.standings.targets import Below
from evaltrack.rink.catalogue_change import DEFINITION, IN_USE, CatalogueChange, Kind
from evaltrack.rink.catalogue_fit import Watched
from evaltrack.rink.drill import Drill
from evaltrack.rink.skill import Skill
from evaltrack.words.below import change_words
from evaltrack.words.wording import counted

_PLAIN = ("name", "for", "caption", "target")  # short enough to be told whole


def change_lines(
    changes: Sequence[CatalogueChange], tries: Mapping[str, int], below: Mapping[str, tuple[Below, Below]]
) -> list[str]:
    """Return one line for each skill and drill that changes, in the order of the changes.

    Parameters
    ----------
    tries : how many tries each skill has under the definition in force before the changes.
    below : of a skill with another target, how many players are below the old one and the new one.
    """
    lines = []
    for kind, key in dict.fromkeys((change.kind, change.key) for change in changes):
        own = {change.field: change for change in changes if (change.kind, change.key) == (kind, key)}
        told = _told(own, tries.get(key, 0), below.get(key)) if kind is Kind.SKILL else _of_drill(own)
        lines.append(f"{kind} {key}: {', '.join(told)}" if key else f"the order of the {kind}s")
    return lines


def _told(own: Mapping[str, CatalogueChange], tries: int, below: tuple[Below, Below] | None) -> list[str]:
    words = [part for part in DEFINITION if part in own]
    told = _use(own, f"; its {counted(tries, 'try', 'tries')} stay" if tries else "")
    if "series" in own:
        begins = f"a new series begins ({', '.join(words)})"
        stays = f"; {counted(tries, 'try', 'tries')} under the old words stay and are not mixed in"
        told.append(begins + (stays if tries else ""))
    elif words:
        told.append(f"the same series in better words ({', '.join(words)})")
    told += [f"{part} {own[part].was} -> {own[part].becomes}" for part in _PLAIN if part in own]
    if "target" in own and below:
        told[-1] += f" ({change_words(*below)})"
    others = (*DEFINITION, *_PLAIN, "series", "use")
    return told + [f"other words ({part})" for part in own if part not in others]


def drill_lines(changes: Sequence[CatalogueChange], drills: Iterable[Drill]) -> list[str]:
    """Return a line for each drill that changes, and for their order, by the names in ``drills``."""
    known, lines = {drill.key: drill for drill in drills}, []
    for key in dict.fromkeys(change.key for change in changes):
        own = {change.field: change for change in changes if change.key == key}
        drill = known.get(key)
        steps = {step.key: step.name for step in drill.steps} if drill else {}
        told = ", ".join(_of_drill(own, steps))
        lines.append(f"{drill.name if drill else key}: {told}" if key else "The order of the drills")
    return lines


def _of_drill(
    own: Mapping[str, CatalogueChange], steps: Mapping[str, str] = MappingProxyType({})
) -> list[str]:
    told = _use(own, "; its history stays")
    if "name" in own:
        told.append(f"name {own['name'].was} -> {own['name'].becomes}")
    for part, change in own.items():
        if part.startswith("step "):
            key = part.removeprefix("step ")
            told.append(f"step {steps.get(key, key)} {_came_or_went(change) or 'changes'}")
    if "steps" in own and sorted(own["steps"].was.split()) == sorted(own["steps"].becomes.split()):
        told.append("the order of its steps")
    return told


def _came_or_went(change: CatalogueChange) -> str:
    return "" if change.was and change.becomes else "is new" if change.becomes else "is retired"


def _use(own: Mapping[str, CatalogueChange], stays: str) -> list[str]:
    if "use" not in own:
        return []
    if own["use"].becomes != IN_USE:
        return [f"is retired{stays}"]
    return ["is in use again" if own["use"].was else "is new"]


def question(key: str, parts: Iterable[str], tries: int) -> str:
    """Return what must be said of a skill with another definition before it is taken in."""
    return (
        f"the definition of skill `{key}` changes ({', '.join(parts)}), and {counted(tries, 'try', 'tries')} "
        f"stand under the old one; say --same-series {key} if it says the same in better words, or "
        f"--new-series {key} if something else counts from now on"
    )


def for_whom(skill: Skill) -> str:
    """Return who is watched in a skill: ``defenders and forwards``."""
    *first, last = (f"{position.word}s" for position in skill.positions)
    return f"{', '.join(first)} and {last}" if first else last


def places(watched: Iterable[Watched]) -> str:
    """Return where a skill is watched: ``2 against 1 of Breakout and attack (Wall F, Middle F)``."""
    slots: dict[tuple[str, str], list[str]] = {}
    for one in watched:
        slots.setdefault((one.step.name, one.drill.name), []).append(one.slot.name)
    return "; ".join(f"{step} of {drill} ({', '.join(names)})" for (step, drill), names in slots.items())
