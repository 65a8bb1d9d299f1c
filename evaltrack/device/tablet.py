"""What belongs to this tablet and not to the season: its id, its colours, its size, its latch."""

import os
import re
import sys
from collections.abc import Callable
from dataclasses import dataclass, field, fields, replace
from enum import StrEnum
from pathlib import Path

from evaltrack.device.settings_file import (
    WINDOW_WAIT,
    clear_drafts,
    one_window_at_a_time,
    read_settings,
    write_settings,
)
from evaltrack.language import Language

MOST_WRONG_CODES = 999_999
PLAUSIBLE_PX_PER_MM = (2.0, 32.0)  # from a large old monitor to the finest telephone, with room to spare


class Hand(StrEnum):
    """The hand that taps."""

    RIGHT = "right"
    LEFT = "left"


class BoardKind(StrEnum):
    """Which board is in front."""

    GROUP = "group"
    REP = "rep"
    PLAYER = "player"


class WordSize(StrEnum):
    """How large the words on the screens are."""

    USUAL = "usual"
    LARGER = "larger"
    LARGEST = "largest"


@dataclass(frozen=True, slots=True)
class Tablet:
    """Settings of one tablet. ``id`` tells its tallies from those of the others.

    ``hand`` is the one that taps, ``words`` how large they are, ``language`` is empty for the system's.
    ``px_per_mm`` is what a bank card showed, 0 while the screen is not measured. ``latch`` is the sealed code
    that keeps the tablet on its boards, empty when there is none, and ``wrong_codes`` how many came in a row.
    ``board`` is the one in front, and ``player`` the id of the player that the last of these shows.
    ``known_acts`` are the acts done here before, of which nobody is told any more, with blanks between.

    ``seen`` is no setting: it is the latch and the wrong codes that this window last found or left on disk.
    """

    id: str = field(default_factory=lambda: os.urandom(6).hex())
    season: str = ""
    observer: str = ""
    dark: bool = False
    hand: str = Hand.RIGHT.value
    words: str = WordSize.USUAL.value
    language: str = ""
    px_per_mm: float = 0.0
    sound: bool = False
    vibration: bool = False
    latch: str = ""
    wrong_codes: int = 0
    board: str = BoardKind.GROUP.value
    player: str = ""
    known_acts: str = ""
    seen: tuple[str, int] = field(default=("", 0), compare=False, repr=False)

    @property
    def acts(self) -> tuple[str, ...]:
        """Return the acts that were done on this tablet at least once."""
        return tuple(self.known_acts.split())


def tablet_folder() -> Path:
    """Return the folder for this tablet's settings; the variable EVALTRACK_HOME overrides the usual place."""
    if home := os.environ.get("EVALTRACK_HOME"):
        return Path(home)
    try:
        return _usual_folder()
    except RuntimeError:  # a user without a home has no folder: nothing can be made in this one
        return Path(os.devnull) / "evaltrack"


def _usual_folder() -> Path:
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home()) / "evaltrack"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "evaltrack"
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / "evaltrack"


def load_tablet() -> Tablet:
    """Return the settings; a missing or broken file gives fresh ones, which are kept at once."""
    with one_window_at_a_time(tablet_folder()):
        found = read_settings(tablet_file())
        known = _fitting(found)
        tablet = Tablet(**known)
        if known.get("id") or _write(found, tablet):
            tablet = replace(tablet, seen=_lock_state(tablet))
    return tablet


def keep_tablet(tablet: Tablet, **changes) -> Tablet:
    """Write some changed settings, whole or not at all, and return the settings with these changes.

    Only what is changed is written: other windows of this tablet may have changed the rest on disk since.
    A folder that cannot be written to costs no more than that the settings are asked for again.
    """
    return change_tablet(tablet, lambda _: changes)


def look_again(tablet: Tablet) -> Tablet:
    """Return the settings with the latch and the wrong codes as another window has left them; write nothing.

    It waits for nobody, so that a screen may look as often as it likes.
    """
    return change_tablet(tablet, lambda _: {}, wait=0)


def with_id_on_disk(tablet: Tablet) -> Tablet:
    """Return the settings with the id on disk: it is another one after a backup was brought back anywhere."""
    known = _whole(read_settings(tablet_file()))
    return replace(tablet, id=known.id) if known else tablet


def count_wrong_code(tablet: Tablet) -> Tablet:
    """Count one more wrong code, on top of those that any window of this tablet has counted."""

    def one_more(now: Tablet) -> dict:
        return {"wrong_codes": min(now.wrong_codes + 1, MOST_WRONG_CODES)} if now.latch else {}

    return change_tablet(tablet, one_more)


def change_tablet(tablet: Tablet, change: Callable[[Tablet], dict], wait: float = WINDOW_WAIT) -> Tablet:
    """Let ``change`` say what to change, written before any other window can change the settings again.

    Parameters
    ----------
    tablet : the settings as this window has them.
    change : is given them with the latch and the wrong codes as they are now, and returns settings by name.
    wait : seconds to wait for another window that is writing.
    """
    with one_window_at_a_time(tablet_folder(), wait) as alone:
        found = read_settings(tablet_file())
        disk = _whole(found)
        now = _with_latch_of(tablet, disk)
        changes = change(now)
        after = replace(now, **changes)
        # what could not be written the last time is written now: a full disk forgives no wrong code
        changes = {"latch": now.latch, "wrong_codes": now.wrong_codes} | changes if changes else {}
        kept = replace(disk or now, **{n: v for n, v in changes.items() if _makes_sense(n, v)})
        if kept == disk or (changes and _write(found, kept)):
            after = replace(after, seen=_lock_state(kept))
            if alone and kept != disk:
                clear_drafts(tablet_folder())
    return after


def _whole(found: dict) -> Tablet | None:
    known = _fitting(found)
    return Tablet(**known) if known.get("id") else None


def _with_latch_of(tablet: Tablet, disk: Tablet | None) -> Tablet:
    """Take over the latch and the wrong codes when another window has changed them on disk."""
    if disk is None or _lock_state(disk) == tablet.seen:
        return tablet
    return replace(tablet, latch=disk.latch, wrong_codes=disk.wrong_codes, seen=_lock_state(disk))


def _lock_state(tablet: Tablet) -> tuple[str, int]:
    return tablet.latch, tablet.wrong_codes


def _write(found: dict, tablet: Tablet) -> bool:
    """Write the settings, and with them the plain ones that only another version knows."""
    others = {name: value for name, value in found.items() if isinstance(value, str | int | float)}
    own = {name: getattr(tablet, name) for name in _NAMES}
    return write_settings(tablet_file(), own, others)


def plausible(px_per_mm: float) -> bool:
    """Say whether a screen can have so many pixels in a millimetre."""
    return PLAUSIBLE_PX_PER_MM[0] <= px_per_mm <= PLAUSIBLE_PX_PER_MM[1]


def _is_latch(text: str) -> bool:
    from evaltrack.device.passcode import is_seal  # it brings the hashes, which few tablets need at a start

    return is_seal(text)


def _is_plain(text: str) -> bool:
    return len(text) <= 400 and not _CONTROL.search(text) and not _SURROGATE.search(text)


def _is_path(text: str) -> bool:
    try:
        return len(os.fsencode(text)) <= 4096 and not _CONTROL.search(text)
    except UnicodeEncodeError:  # a character that no file system takes
        return False


_NAMES = tuple(setting.name for setting in fields(Tablet) if setting.name != "seen")
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")
_SURROGATE = re.compile(r"[\ud800-\udfff]")
_IDENT = re.compile(r"[0-9A-Za-z][0-9A-Za-z._-]{0,39}")
_SENSIBLE = {
    "id": _IDENT.fullmatch,  # it goes into every season file that this tablet tallies in
    "season": _is_path,
    "observer": _is_plain,
    "hand": tuple(Hand).__contains__,
    "words": tuple(WordSize).__contains__,
    "language": tuple(Language).__contains__,
    "px_per_mm": plausible,
    "latch": _is_latch,
    "wrong_codes": range(MOST_WRONG_CODES + 1).__contains__,
    "board": tuple(BoardKind).__contains__,
    "player": _IDENT.fullmatch,
    "known_acts": re.compile(r"[a-z_]+( [a-z_]+){0,99}").fullmatch,
}


def _fitting(found: dict) -> dict:
    """Return the settings that are of the right kind and make sense; an empty one is as good as none."""
    known = {name: found[name] for name in _NAMES if found.get(name)}
    return {name: value for name, value in known.items() if _makes_sense(name, value)}


def _makes_sense(name: str, value) -> bool:
    of_its_kind = type(value) is type(getattr(_FRESH, name))
    return of_its_kind and bool(not value or _SENSIBLE.get(name, bool)(value))


_FRESH = Tablet()


def tablet_file() -> Path:
    """Return the file of this tablet's settings; without it they are fresh at the next start."""
    return tablet_folder() / "tablet.json"
