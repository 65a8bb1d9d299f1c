"""Where season files lie on this tablet, and what a new one is called."""

import os
from pathlib import Path

from evaltrack.device.tablet import tablet_folder
from evaltrack.rink.plain_text import plain_words

_LONGEST = 60  # characters of a name, without its ending
_BESIDE = ("", "-wal", "-journal")  # what must not be there already


def seasons_folder() -> Path:
    """Return the folder for this team's season files, where their owner finds them to make a copy."""
    if home := os.environ.get("EVALTRACK_HOME"):
        return Path(home) / "seasons"
    try:
        home = Path.home()
    except RuntimeError:  # a user without a home
        return tablet_folder() / "seasons"
    documents = home / "Documents"
    return (documents if documents.is_dir() else home) / "evaltrack"


def pictures_folder(season: Path) -> Path:
    """Return the folder for the pictures of a season file, beside the team's season files."""
    return seasons_folder() / "pictures" / season.stem


def guides_folder() -> Path:
    """Return the folder for guides to print, beside the season files and not among them."""
    return seasons_folder() / "guides"


def plans_folder(season: Path) -> Path:
    """Return the folder for the printed plans of a season file, beside the team's season files."""
    return seasons_folder() / "plans" / season.stem


def notes_folder(season: Path) -> Path:
    """Return the folder for the printed notes of a season file, beside the team's season files."""
    return seasons_folder() / "notes" / season.stem


def meetings_folder(season: Path) -> Path:
    """Return the folder for what is printed for the meetings of a season file, beside the season files."""
    return seasons_folder() / "meetings" / season.stem


def parents_folder(season: Path) -> Path:
    """Return the folder for what is kept of each child of a season file, to be given to the parents."""
    return seasons_folder() / "for-parents" / season.stem


def demo_folder() -> Path:
    """Return the folder of the app's own for the season of the invented team."""
    return tablet_folder() / "demo"


def season_stem(*words: str) -> str:
    """Return the name of a season file, plain, without its ending: ``kestrels-12u-2026-27``."""
    return plain_words(" ".join(words))[:_LONGEST].strip("-") or "season"


def free_file(folder: Path, stem: str, ending: str) -> Path:
    """Return the first name in a folder that nothing has yet, with a running number where one is needed."""
    number, place = 1, folder / f"{stem}{ending}"
    while os.path.lexists(place):
        number += 1
        place = folder / f"{stem}-{number}{ending}"
    return place


def free_place(folder: Path, stem: str) -> Path:
    """Return the first place in a folder that nothing has yet, with a running number where one is needed."""
    number, place = 1, folder / f"{stem}.db"
    while any(os.path.lexists(f"{place}{ending}") for ending in _BESIDE):
        number += 1
        place = folder / f"{stem}-{number}.db"
    return place
