"""What was typed of a new season, kept beside the settings until its file is made: a tablet may end the app.

It has the same words in it as the season file will, and only its owner may read it.
"""

from contextlib import suppress
from pathlib import Path

from evaltrack.device.settings_file import read_settings, write_settings
from evaltrack.device.tablet import tablet_folder
from evaltrack.intake.roster_lines import MOST_LINES, RosterLine

_WORDS = ("team", "age_class", "season")


def keep(words: tuple[str, str, str], lines: list[RosterLine]) -> None:
    """Keep the words of a season and the lines of its roster, where anything can be written."""
    with suppress(OSError):
        tablet_folder().mkdir(mode=0o700, parents=True, exist_ok=True)
        write_settings(_file(), {**dict(zip(_WORDS, words, strict=True)), "lines": lines}, {})


def kept() -> tuple[tuple[str, str, str], list[RosterLine]]:
    """Return what was kept; what makes no sense is passed over."""
    found = read_settings(_file())
    words = tuple(word if isinstance(word := found.get(name), str) else "" for name in _WORDS)
    lines = found.get("lines")
    return words, [RosterLine(*line) for line in lines[:MOST_LINES] if _fits(line)] if _is_list(lines) else []


def forget() -> None:
    """Let go of it."""
    with suppress(OSError):
        _file().unlink()


def _fits(line: object) -> bool:
    return _is_list(line) and len(line) == len(RosterLine._fields) and all(isinstance(c, str) for c in line)


def _is_list(found: object) -> bool:
    return isinstance(found, list)


def _file() -> Path:
    return tablet_folder() / "new-season.json"
