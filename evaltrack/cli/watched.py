"""What a sheet is for when not everything was said: which step of which drill, and which skills."""

from evaltrack.cli.working import refuse_unknown
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.skill import Skill


def watched(
    season, drill: str | None = None, step: str | None = None, skill: str | None = None
) -> tuple[Drill, Step, list[Skill]]:
    """Return the step that is meant and the skills to watch in it.

    What was not said follows from what was watched last; a skill alone leads to a step that has it, the one
    watched last before all others. Without a skill it is all those worth watching in the step.

    Raises
    ------
    EvaltrackError : the season has no such drill, step or skill, or the step names no skill.
    """
    skills = {known.key: known for known in season.catalogue.skills()}
    if skill is not None:
        refuse_unknown("skill", skill, list(skills))
    steps = _steps(season.catalogue.drills(), drill, step)
    at = _watched_last(season)
    steps.sort(key=lambda pair: (pair[0].key, pair[1].key) != at)  # the others stay in their order
    if skill is None:
        return *steps[0], _worth_watching(steps[0][1], skills)
    has_it = next((pair for pair in steps if skill in pair[1].skills), steps[0])
    return *has_it, [skills[skill]]


def _steps(drills: list[Drill], drill: str | None, step: str | None) -> list[tuple[Drill, Step]]:
    if drill is not None:
        refuse_unknown("drill", drill, [known.key for known in drills])
        drills = [known for known in drills if known.key == drill]
    if step is not None:
        refuse_unknown("step", step, [s.key for known in drills for s in known.steps])
    found = [(known, s) for known in drills for s in known.steps if step in (None, s.key)]
    if not found:
        raise EvaltrackError(
            tr("there is no drill with a step in this season; make it with some by --drills")
        )
    return found


def _worth_watching(step: Step, skills: dict[str, Skill]) -> list[Skill]:
    if not step.skills:
        raise EvaltrackError(tr('the step "{name}" names no skill; say which one by --skill', name=step.name))
    return [skills[key] for key in step.skills]


def _watched_last(season) -> tuple[str, str] | None:
    """Return drill and step of this tablet's station in the practice that runs, or of the last tally."""
    from evaltrack.device.tablet import load_tablet

    running = season.practices.running()
    station = running and season.practices.station(running.key, load_tablet().id)
    if station:
        return station.drill, station.step
    tallied = season.log.counts()
    last = next((p.key for p in reversed(season.practices.all()) if tallied.get(p.key)), None)
    tallies = season.log.tallies(practice=last) if last else []
    return (tallies[-1].drill, tallies[-1].step) if tallies else None
