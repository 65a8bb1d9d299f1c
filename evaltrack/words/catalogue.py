"""How changes of the catalogue read."""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from evaltrack.analysis.standings.targets import Below
from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.catalogue_change import DEFINITION, IN_USE, CatalogueChange, Kind
from evaltrack.rink.catalogue_fit import Watched
from evaltrack.rink.drill import Drill
from evaltrack.rink.skill import Skill
from evaltrack.words.below import change_words
from evaltrack.words.wording import counted, decimal, listed

_ORDER = {Kind.SKILL: mark("the order of the skills"), Kind.DRILL: mark("the order of the drills")}
# short enough to be told whole, and so by a word; a longer one has to be looked up in the file by its key
_REPLACED = {
    "name": mark("name {was} → {becomes}"),
    "for": mark("for {was} → {becomes}"),
    "caption": mark("short line {was} → {becomes}"),
    "target": mark("target {was} → {becomes}"),
}


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
        words = ", ".join(told)
        if kind is Kind.SKILL:
            lines.append(tr("skill {key}: {changes}", key=key, changes=words) if key else tr(_ORDER[kind]))
        else:
            lines.append(tr("drill {key}: {changes}", key=key, changes=words) if key else tr(_ORDER[kind]))
    return lines


def _told(own: Mapping[str, CatalogueChange], tries: int, below: tuple[Below, Below] | None) -> list[str]:
    words = _in_file(part for part in DEFINITION if part in own)
    stand = counted(tries, "try", "tries")
    told = _use(own, tr("; its {tries} stay", tries=stand) if tries else "")
    if "series" in own and tries:
        told.append(
            tr(
                "a new series begins ({parts}); {tries} under the old words stay and are not mixed in",
                parts=words,
                tries=stand,
            )
        )
    elif "series" in own:
        told.append(tr("a new series begins ({parts})", parts=words))
    elif words:
        told.append(tr("the same series in better words ({parts})", parts=words))
    told += [_replaced(own[part]) for part in _REPLACED if part in own]
    if "target" in own and below:
        told[-1] += f" ({change_words(*below)})"
    others = _in_file(part for part in own if part not in (*DEFINITION, *_REPLACED, "series", "use"))
    return told + ([tr("other words ({parts})", parts=others)] if others else [])


def _replaced(change: CatalogueChange) -> str:
    was, becomes = change.was, change.becomes
    if change.field == "target":
        was, becomes = (decimal(float(share), 6, trim=True) for share in (was, becomes))
    return tr(_REPLACED[change.field], was=was, becomes=becomes)


def _in_file(fields: Iterable[str]) -> str:
    """Return fields as one finds them in a file of skills, in every language."""
    return ", ".join(f"`{field}`" for field in fields)


def drill_lines(changes: Sequence[CatalogueChange], drills: Iterable[Drill]) -> list[str]:
    """Return a line for each drill that changes, and for their order, by the names in ``drills``."""
    known, lines = {drill.key: drill for drill in drills}, []
    for key in dict.fromkeys(change.key for change in changes):
        own = {change.field: change for change in changes if change.key == key}
        drill = known.get(key)
        steps = {step.key: step.name for step in drill.steps} if drill else {}
        told = ", ".join(_of_drill(own, steps))
        name = drill.name if drill else key
        lines.append(
            tr("{drill}: {changes}", drill=name, changes=told) if key else tr("The order of the drills")
        )
    return lines


def _of_drill(
    own: Mapping[str, CatalogueChange], steps: Mapping[str, str] = MappingProxyType({})
) -> list[str]:
    told = _use(own, tr("; its history stays"))
    if "name" in own:
        told.append(_replaced(own["name"]))
    for part, change in own.items():
        if part.startswith("step "):
            key = part.removeprefix("step ")
            told.append(_of_step(steps.get(key, key), change))
    if "steps" in own and sorted(own["steps"].was.split()) == sorted(own["steps"].becomes.split()):
        told.append(tr("the order of its steps"))
    return told


def _of_step(step: str, change: CatalogueChange) -> str:
    if change.was and change.becomes:
        return tr("step {step} changes", step=step)
    return tr("step {step} is new", step=step) if change.becomes else tr("step {step} is retired", step=step)


def _use(own: Mapping[str, CatalogueChange], stays: str) -> list[str]:
    if "use" not in own:
        return []
    if own["use"].becomes != IN_USE:
        return [tr("is retired") + stays]
    return [tr("is in use again") if own["use"].was else tr("is new")]


def question(key: str, parts: Iterable[str], tries: int) -> str:
    """Return what must be said of a skill with another definition before it is taken in."""
    return tr_many(
        "the definition of skill `{key}` changes ({parts}), and {number} try stand under the old one; say "
        "--same-series {key} if it says the same in better words, or --new-series {key} if something else "
        "counts from now on",
        "the definition of skill `{key}` changes ({parts}), and {number} tries stand under the old one; say "
        "--same-series {key} if it says the same in better words, or --new-series {key} if something else "
        "counts from now on",
        tries,
        key=key,
        parts=_in_file(parts),
    )


def for_whom(skill: Skill) -> str:
    """Return who is watched in a skill: ``defenders and forwards``."""
    return listed([position.plural for position in skill.positions])


def places(watched: Iterable[Watched]) -> str:
    """Return where a skill is watched: ``2 against 1 of Breakout and attack (Wall F, Middle F)``."""
    slots: dict[tuple[str, str], list[str]] = {}
    for one in watched:
        slots.setdefault((one.step.name, one.drill.name), []).append(one.slot.name)
    return "; ".join(
        tr("{step} of {drill} ({slots})", step=step, drill=drill, slots=", ".join(names))
        for (step, drill), names in slots.items()
    )
