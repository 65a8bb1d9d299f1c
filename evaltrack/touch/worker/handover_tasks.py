"""What the process beside the app reads of a season while it is handed over. No Kivy here.

It has the season file open all the time, and only reads it: what comes in is written by the app.
"""

from pathlib import Path

from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.store.opening import open_season
from evaltrack.store.packs.news import News
from evaltrack.store.packs.pack_file import read_pack
from evaltrack.store.season_file import SeasonFile

_CUT_SHORT = mark(
    "the hand-over was cut short, perhaps for want of memory; what is saved is safe: begin it again"
)
_held: dict[Path, tuple[SeasonFile, News, str]] = {}


def begin(path: Path, tablet: str) -> None:
    """Open a season file, of which the other tablet has heard nothing yet."""
    end(path)
    season = open_season(path)
    _held[path] = season, season.packs.news(tablet), tablet


def end(path: Path) -> None:
    """Close it again."""
    if path in _held:
        _held.pop(path)[0].close()


def _of(path: Path) -> tuple[SeasonFile, News, str]:
    if path not in _held:  # the process was stopped, and this is another one
        raise EvaltrackError(tr(_CUT_SHORT))
    return _held[path]


def whole(path: Path) -> bytes:
    """Return a pack of all there is."""
    season, _, tablet = _of(path)
    return season.packs.pack(tablet)


def told(path: Path, pack: bytes) -> None:
    """Note that the other tablet has what is in a pack, of whichever of the two."""
    _of(path)[1].note(read_pack(tr("the pack"), pack))


def news(path: Path) -> bytes:
    """Return a pack of what is new since then, empty when nothing is."""
    return _of(path)[1].pack()


def digest(path: Path) -> str:
    """Return the SHA-256 of all facts."""
    return _of(path)[0].packs.digest()


def back_up(path: Path) -> None:
    """Keep a backup before the first pack is taken in; the invented team needs none."""
    from evaltrack.device.backup_places import Why
    from evaltrack.store.backups.keeping import keep_backup

    season, *_ = _of(path)
    if not season.invented:
        keep_backup(season, Why.JOIN)
