"""Where the fonts, icons and the demo team lie: inside the wheel, or beside the package in a checkout."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _folder(name: str) -> Path:
    packed = _PACKAGE / name
    return packed if packed.is_dir() else _PACKAGE.parent / name


def assets() -> Path:
    """Return the folder that holds ``fonts/`` and the other files that screens and paper share."""
    return _folder("assets")


def sample_roster() -> Path:
    """Return the folder of the demo team: roster.csv, skills.toml, drills.toml, tallies.csv."""
    return _folder("sample_roster")
