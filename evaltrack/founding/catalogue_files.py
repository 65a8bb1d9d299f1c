"""The skills and drills of a season as files, with the comments of those they came from."""

import os
from pathlib import Path

from evaltrack.device.ordinary_file import open_ordinary
from evaltrack.founding.season import shipped

SKILLS_FILE, DRILLS_FILE = "skills.toml", "drills.toml"


def catalogue_files(season) -> dict[str, bytes]:
    """Return what skills.toml and drills.toml of a season are, by these names.

    A skill that is in use again has the comments that it had: the files that somebody brought stay in the
    season as they came.
    """
    from evaltrack.intake.catalogue_text import drills_text, skills_text

    kept = season.catalogue_changes.texts()
    base = {
        kind: kept.get(kind) or shipped(f"{kind}.toml").read_text("utf-8") for kind in ("skills", "drills")
    }
    texts = {
        SKILLS_FILE: skills_text(season.catalogue.skills(), base["skills"]),
        DRILLS_FILE: drills_text(season.catalogue.drills(), base["drills"]),
    }
    return {name: text.encode("utf-8") for name, text in texts.items()}


def write_catalogue(season, folder: Path) -> Path:
    """Write both files into a folder, which is made if need be, and return it.

    Raises
    ------
    EvaltrackError : they cannot be written there.
    """
    return _written(catalogue_files(season), folder)


def write_catalogue_in(season, place: Path) -> Path:
    """Write both files into a folder of the season's own in a place, and return the folder.

    A folder in which something else stands, such as files that were changed there since, is left alone, and
    the next one gets a number.

    Raises
    ------
    EvaltrackError : they cannot be written there.
    """
    files, name = catalogue_files(season), f"{season.path.stem}-catalogue"
    number, folder = 1, place / name
    while not _takes(folder, files):
        number += 1
        folder = place / f"{name}-{number}"
    return _written(files, folder)


def _written(files: dict[str, bytes], folder: Path) -> Path:
    from evaltrack.intake.saving import new_folder, save

    with new_folder(folder):
        for name, content in files.items():
            save(folder / name, content)
    return folder


def _takes(folder: Path, files: dict[str, bytes]) -> bool:
    """Say whether writing the files into a folder takes nothing away."""
    if not os.path.lexists(folder):
        return True
    return folder.is_dir() and all(
        not os.path.lexists(folder / name) or _holds(folder / name, content)
        for name, content in files.items()
    )


def _holds(path: Path, content: bytes) -> bool:
    try:
        with open_ordinary(path) as file:
            return file.read(len(content) + 1) == content
    except OSError:  # a folder, or somebody else's: it is left alone
        return False
