"""What belongs to this tablet and not to the season: its id, its look, its size, its latch."""

import json
import os
import sys
from contextlib import suppress
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path

from evaltrack.rink.ident import new_id

PLAUSIBLE_PX_PER_MM = (2.0, 32.0)  # from a large old monitor to the finest telephone, with room to spare


@dataclass(frozen=True, slots=True)
class Tablet:
    """Settings of one tablet. ``id`` tells its tallies from those of the others.

    ``hand`` is the one that taps, ``right`` or ``left``. ``px_per_mm`` is what a bank card showed, 0 while
    the screen is not measured. ``latch`` is the sealed code that keeps the tablet on its boards, empty when
    there is none, and ``wrong_codes`` how many wrong ones came in a row. ``board`` is the one that is in
    front, ``group``, ``rep`` or ``player``, and ``player`` the id of whom the last of these shows.
    """

    id: str = field(default_factory=lambda: new_id().hex[-12:])
    season: str = ""
    observer: str = ""
    dark: bool = False
    hand: str = "right"
    px_per_mm: float = 0.0
    sound: bool = False
    vibration: bool = False
    latch: str = ""
    wrong_codes: int = 0
    board: str = "group"
    player: str = ""


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
    known = _fitting(_found())
    return Tablet(**known) if known.get("id") else keep_tablet(Tablet(**known))


def _found() -> dict:
    try:
        found = json.loads(tablet_file().read_text("utf-8"))
    except (OSError, ValueError, RuntimeError):  # no file, not text, not JSON, nested too deep
        return {}
    return found if isinstance(found, dict) else {}


def keep_tablet(tablet: Tablet, **changes) -> Tablet:
    """Write the settings with some changes, whole or not at all, and return them.

    A folder that cannot be written to costs no more than that the settings are asked for again. A latch that
    another window of the tablet has set or taken off meanwhile is taken over.
    """
    tablet = replace(tablet, **(_latch_on_disk(tablet) | changes))
    with suppress(OSError, RuntimeError):
        tablet_file().parent.mkdir(parents=True, exist_ok=True)
        draft = tablet_file().with_suffix(".new")
        with draft.open("w", encoding="utf-8") as file:
            json.dump(asdict(tablet), file, indent=1)
            file.flush()
            os.fsync(file.fileno())  # or a battery that dies leaves a new name on nothing
        draft.replace(tablet_file())
    return tablet


def _latch_on_disk(tablet: Tablet) -> dict:
    found = _fitting(_found())
    if found.get("id") != tablet.id or found.get("latch", "") == tablet.latch:
        return {}
    return {"latch": found.get("latch", ""), "wrong_codes": found.get("wrong_codes", 0)}


def plausible(px_per_mm: float) -> bool:
    """Say whether a screen can have so many pixels in a millimetre."""
    return PLAUSIBLE_PX_PER_MM[0] <= px_per_mm <= PLAUSIBLE_PX_PER_MM[1]


def _is_latch(text: str) -> bool:
    from evaltrack.store.passcode import is_seal  # it brings the hashes, which few tablets need at a start

    return is_seal(text)


_SENSIBLE = {
    "hand": ("right", "left").__contains__,
    "px_per_mm": plausible,
    "latch": _is_latch,
    "wrong_codes": range(1_000_000).__contains__,
    "board": ("group", "rep", "player").__contains__,
}


def _fitting(found: dict) -> dict:
    """Return the settings that are of the right kind and make sense; an empty one is as good as none."""
    fresh = asdict(Tablet())
    kind = {name: value for name in fresh if type(value := found.get(name)) is type(fresh[name]) and value}
    return {name: value for name, value in kind.items() if _SENSIBLE.get(name, bool)(value)}


def tablet_file() -> Path:
    """Return the file of this tablet's settings; without it they are fresh at the next start."""
    return tablet_folder() / "tablet.json"
