"""A new season file: its players, and the skills and drills that are shipped unless there are own ones."""

from collections.abc import Iterable
from pathlib import Path

from evaltrack.places import sample_roster
from evaltrack.rink.player import Player


def shipped(name: str) -> Path:
    """Return a file of the demo team."""
    return sample_roster() / name


def found_in(folder: Path, stem: str, team: str, age_class: str, players: Iterable[Player]) -> Path:
    """Make a team's season file in a folder, which is made if need be, and return its path.

    A name that is taken gets a number.

    Raises
    ------
    EvaltrackError : it cannot be made there.
    """
    from evaltrack.device.season_places import free_place
    from evaltrack.intake.saving import new_folder

    with new_folder(folder):
        path = free_place(folder, stem)
        found_season(path, team, age_class, players).close()
    return path


def found_season(
    path: Path,
    team: str,
    age_class: str,
    players: Iterable[Player],
    skills: Path | None = None,
    drills: Path | None = None,
    invented: bool = False,
):
    """Make a season file and open it; without skills or drills it has those that are shipped.

    These are in the language in force, and so they stay; their keys are the same in each.

    Everything is read first, so that a fault in any of the files leaves no season file. ``invented`` marks
    it for good as that of the invented team.

    Raises
    ------
    IntakeError : skills or drills have faults.
    SeasonFileError : it cannot be made there.
    """
    from evaltrack.founding.built_in import drill_in_words, skill_in_words
    from evaltrack.intake.catalogue import read_drills, read_skills
    from evaltrack.intake.text import read_text
    from evaltrack.store.creating import create_season

    watched = read_skills(skills or shipped("skills.toml"))
    run = read_drills(drills or shipped("drills.toml"), watched)
    if not skills:
        watched = [skill_in_words(one) for one in watched]
    if not drills:
        run = [drill_in_words(one) for one in run]
    season = create_season(
        path,
        team=team,
        age_class=age_class,
        players=players,
        skills=watched,
        drills=run,
        invented=invented,
    )
    # for their comments; a season without them writes its files with the shipped ones
    season.catalogue_changes.keep_texts(
        {kind: read_text(own) for kind, own in (("skills", skills), ("drills", drills)) if own}
    )
    return season
