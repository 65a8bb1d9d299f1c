"""The catalogue as a table for the eye."""

from collections.abc import Container, Sequence

from evaltrack.language import tr
from evaltrack.rink.drill import Drill
from evaltrack.rink.skill import Skill
from evaltrack.words.wording import decimal


def as_table(skills: Sequence[Skill], drills: Sequence[Drill], used: tuple[Container, Container]) -> str:
    """Return skills with their targets, drills with their steps; below each those that are retired.

    Parameters
    ----------
    skills, drills : also those that are retired.
    used : the keys of the skills in use, and of the drills.
    """
    keys = max(len(one.key) for one in (*skills, *drills))
    names = max(len(one.name) for one in (*skills, *drills))
    skill, target = tr("skill"), tr("target")
    lines = [f"{skill:<{keys}}  {tr('name'):<{names}}  {tr('for'):<3}  {target:<6}  {tr('series')}"]
    for skill in sorted(skills, key=lambda one: one.key not in used[0]):
        letters, retired = "".join(skill.positions), "" if skill.key in used[0] else f"  {tr('retired')}"
        figures = f"{decimal(skill.target, 6, trim=True):<6}  {skill.version}"
        lines.append(f"{skill.key:<{keys}}  {skill.name:<{names}}  {letters:<3}  {figures}{retired}")
    lines += ["", f"{tr('drill'):<{keys}}  {tr('name'):<{names}}  {tr('steps')}"]
    for drill in sorted(drills, key=lambda one: one.key not in used[1]):
        steps, retired = (
            ", ".join(step.name for step in drill.steps),
            "" if drill.key in used[1] else f"  {tr('retired')}",
        )
        lines.append(f"{drill.key:<{keys}}  {drill.name:<{names}}  {steps}{retired}")
    return "\n".join(lines)
