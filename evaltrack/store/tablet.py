"""What belongs to this tablet and not to the season: its id, its look, the season file it used last."""

import json
import os
import sys
from contextlib import suppress
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path

from evaltrack.rink.ident import new_id


@dataclass(frozen=True, slots=True)
class Tablet:
    """Settings of one tablet. ``id`` tells its tallies from those of the others."""

    id: str = field(default_factory=lambda: new_id().hex[-12:])
    season: str = ""
    observer: str = ""
    dark: bool = False


def tablet_folder() -> Path:
    """Return the folder for this tablet's settings; the variable EVALTRACK_HOME overrides the usual place."""
    if home := os.environ.get("EVALTRACK_HOME"):
        return Path(home)
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home()) / "evaltrack"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "evaltrack"
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / "evaltrack"


def load_tablet() -> Tablet:
    """Return the settings; a missing or broken file gives fresh ones, which are kept at once."""
    try:
        found = json.loads(_file().read_text("utf-8"))
    except (OSError, ValueError, RuntimeError):  # no file, not text, not JSON, nested too deep
        found = None
    known = _fitting(found) if isinstance(found, dict) else {}
    return Tablet(**known) if known.get("id") else keep_tablet(Tablet(**known))


def keep_tablet(tablet: Tablet, **changes) -> Tablet:
    """Write the settings with some changes, whole or not at all, and return them.

    A folder that cannot be written to costs no more than that the settings are asked for again.
    """
    tablet = replace(tablet, **changes)
    with suppress(OSError, RuntimeError):
        _file().parent.mkdir(parents=True, exist_ok=True)
        draft = _file().with_suffix(".new")
        with draft.open("w", encoding="utf-8") as file:
            json.dump(asdict(tablet), file, indent=1)
            file.flush()
            os.fsync(file.fileno())  # or a battery that dies leaves a new name on nothing
        draft.replace(_file())
    return tablet


def _fitting(found: dict) -> dict:
    """Return the settings that are of the right kind; an empty one is as good as none."""
    fresh = asdict(Tablet())
    return {name: value for name in fresh if type(value := found.get(name)) is type(fresh[name]) and value}


def _file() -> Path:
    return tablet_folder() / "tablet.json"
