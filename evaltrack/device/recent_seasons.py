"""The season files that were opened on this tablet, the latest first, each with the team that it is of."""

import os
import re
from pathlib import Path
from typing import NamedTuple

from evaltrack.device.settings_file import one_window_at_a_time, read_settings, write_settings
from evaltrack.device.tablet import tablet_folder
from evaltrack.language import tr

MOST_RECENT = 12
_LONGEST = 4096  # characters of a path
_STRANGE = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")


class KnownSeason(NamedTuple):
    """A season file that was opened here; ``team`` is empty where it was not to be read."""

    path: Path
    team: str

    @property
    def is_there(self) -> bool:
        """Say whether the file is still at its place."""
        try:
            return self.path.is_file()
        except (OSError, ValueError):
            return False


def gone_words(path: Path) -> str:
    """Say that a season file is not at its place any more; nothing where something is there."""
    path = Path(path)
    if os.path.lexists(path):
        return ""
    return tr(
        "{name} is not in {parent} any more: it was moved, renamed or deleted. Open it where it "
        "is now, or bring it back.",
        name=path.name,
        parent=path.parent,
    )


def recent_seasons() -> list[KnownSeason]:
    """Return the season files that were opened here, the latest first."""
    return [KnownSeason(Path(path), team) for path, team in reversed(_read().items())]


def note_season(path: Path, team: str) -> None:
    """Note that a season file was opened. Where nothing can be written, it is asked for again."""
    path = str(path)
    with one_window_at_a_time(tablet_folder()):
        before = _read()
        after = {name: known for name, known in before.items() if name != path} | {path: team}
        if list(after.items()) != list(before.items()):
            write_settings(_file(), dict(list(after.items())[-MOST_RECENT:]), {})


def forget_season(path: Path) -> None:
    """Take a season file that was deleted out of the list."""
    with one_window_at_a_time(tablet_folder()):
        write_settings(_file(), {name: team for name, team in _read().items() if name != str(path)}, {})


def _read() -> dict[str, str]:
    found = read_settings(_file())
    return {path: team for path, team in found.items() if _fits(path) and _fits(team)}


def _fits(text: object) -> bool:
    return isinstance(text, str) and len(text) <= _LONGEST and not _STRANGE.search(text)


def _file() -> Path:
    return tablet_folder() / "seasons.json"
