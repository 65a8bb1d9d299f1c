"""What belongs to this tablet and not to the season: its id, its look, the season file it used last."""

import json
import os
import sys
from dataclasses import asdict, dataclass, field, fields, replace
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
        return Path(os.environ.get("LOCALAPPDATA", Path.home())) / "evaltrack"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "evaltrack"
    return Path(os.environ.get("XDG_DATA_HOME", Path.home() / ".local" / "share")) / "evaltrack"


def load_tablet() -> Tablet:
    """Return the settings; a missing or broken file gives fresh ones, which are kept at once."""
    try:
        found = json.loads(_file().read_text("utf-8"))
        known = {f.name: found[f.name] for f in fields(Tablet) if f.name in found}
        return Tablet(**known) if known.get("id") else keep_tablet(Tablet(**known))
    except (OSError, ValueError, TypeError):
        return keep_tablet(Tablet())


def keep_tablet(tablet: Tablet, **changes) -> Tablet:
    """Write the settings with some changes, whole or not at all, and return them.

    A folder that cannot be written to costs no more than that the settings are asked for again.
    """
    tablet = replace(tablet, **changes)
    try:
        _file().parent.mkdir(parents=True, exist_ok=True)
        draft = _file().with_suffix(".new")
        draft.write_text(json.dumps(asdict(tablet), indent=1), "utf-8")
        draft.replace(_file())
    except OSError:
        pass
    return tablet


def _file() -> Path:
    return tablet_folder() / "tablet.json"
