"""The files of the catalogue: read for a season and held against it."""

from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from evaltrack.cli.working import refuse_unknown
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.catalogue_fit import Watched, to_be_asked, unfit
from evaltrack.rink.drill import Drill
from evaltrack.rink.skill import Skill


class Files(NamedTuple):
    """What was read: None where no file was named. ``texts`` are the files as they are written."""

    skills: list[Skill] | None
    drills: list[Drill] | None
    texts: dict[str, str]


def read_files(season, skills: Path | None, drills: Path | None) -> Files:
    """Return what the files say; EvaltrackError when they do not fit each other, or the season."""
    from evaltrack.intake.catalogue import read_drills, read_skills
    from evaltrack.intake.text import read_text

    watched = read_skills(skills) if skills else None
    run = read_drills(drills, watched or season.catalogue.skills()) if drills else None
    if watched is not None and run is None:
        _refuse_lost(season, watched)
    named = {"skills": skills, "drills": drills}
    return Files(watched, run, {kind: read_text(path) for kind, path in named.items() if path})


def _refuse_lost(season, skills: list[Skill]) -> None:
    """Refuse skills with which the drills of the season would watch what is not there, or not for them."""
    known = {skill.key for skill in skills}
    lost = [_lost(one, one.skill in known) for one in unfit(season.catalogue.drills(), skills)]
    if lost:
        raise EvaltrackError("\n".join(lost))


def _lost(one: Watched, known: bool) -> str:
    named = {"drill": one.drill.key, "step": one.step.key, "slot": one.slot.key, "skill": one.skill}
    if known:
        return tr(
            "drill `{drill}`, step `{step}`, slot `{slot}` watches `{skill}`, which is not for {position}; "
            "keep it so, or give --drills too",
            position=one.slot.position,
            **named,
        )
    return tr(
        "drill `{drill}`, step `{step}`, slot `{slot}` watches `{skill}`, which the file has not; keep it "
        "so, or give --drills too",
        **named,
    )


def refuse_unasked(season, files: Files, told: tuple, tries: Mapping[str, int]) -> set[str]:
    """Return the skills with another definition whose series goes on; refuse those not spoken of."""
    from evaltrack.rink.catalogue_change import rewritten
    from evaltrack.words.catalogue import question

    same, new = map(set, told)
    changed = rewritten(season.catalogue.skills(retired=True), files.skills or [])
    for key in sorted(same | new):
        refuse_unknown("skill", key, [skill.key for skill in files.skills or []])
    if both := same & new:
        raise EvaltrackError(
            tr("say of `{skill}` one thing only, --same-series or --new-series", skill=min(both))
        )
    open_ones = to_be_asked(changed, tries, same | new)
    if open_ones:
        raise EvaltrackError("\n".join(question(key, changed[key], tries[key]) for key in open_ones))
    return same | {key for key in changed if not tries.get(key) and key not in new}
