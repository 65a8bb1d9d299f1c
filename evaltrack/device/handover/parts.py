"""What has come of a pack so far, and packs on their way out, so that a broken hand-over can go on.

They have children's names in them: they lie in the app's own folder, readable by their owner alone, and go as
soon as the pack is taken in, after a day, and when a player is erased.
"""

import hashlib
import os
import re
import time
from contextlib import suppress
from pathlib import Path

from evaltrack.device.system_words import system_reason
from evaltrack.device.tablet import tablet_folder
from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.private_file import write_private

MOST = 32 << 20  # bytes of a pack
_KEPT, _OLD = 3, 24 * 3600  # files of a kind, seconds
_NAME = re.compile(r"([0-9a-f]{32})-([0-9a-f]{64})\.(part|given)")
_FULL = mark("there is no room on this tablet for what comes: make room on it, and begin again")


def handover_folder() -> Path:
    """Return the folder of the app's own for packs on their way."""
    return tablet_folder() / "handover"


def parts_of(season: str) -> list[Path]:
    """Return what lies there of a season, by the 32 hexadecimal digits of its id."""
    found: list[Path] = []
    with suppress(OSError):
        names = sorted(os.listdir(handover_folder()))
        found = [handover_folder() / name for name in names if _NAME.fullmatch(name) and name[:32] == season]
    return found


class Parts:
    """Packs of one season on their way, in and out."""

    def __init__(self, season: str):
        self._season, self._folder = season, handover_folder()

    def ready(self) -> None:
        """Make the folder, and let go what is a day old or more than is kept."""
        try:
            self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        except OSError as error:
            raise EvaltrackError(
                tr("packs cannot be kept on their way: {why}", why=system_reason(error))
            ) from error
        for ending in (".part", ".given"):
            found = sorted(self._all(ending), key=_age)
            for path in [*found[_KEPT:], *(path for path in found if _age(path) > _OLD)]:
                with suppress(OSError):
                    path.unlink()

    def have(self) -> dict[str, int]:
        """Return how many bytes there are of which packs, by their SHA-256."""
        return {path.name[33:97]: path.stat().st_size for path in self._all(".part")}

    def begin(self, digest: str, size: int) -> int:
        """Return how many bytes of a pack are there; none of one that cannot be its beginning."""
        path = self._path(digest, ".part")
        with suppress(OSError):
            if path.stat().st_size < size:
                return path.stat().st_size
            path.unlink()
        return 0

    def add(self, digest: str, piece: bytes) -> None:
        """Put more of a pack behind what is there."""
        try:
            flags = os.O_WRONLY | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0)
            with os.fdopen(os.open(self._path(digest, ".part"), flags, 0o600), "ab") as stream:
                stream.write(piece)
        except OSError as error:
            raise EvaltrackError(tr(_FULL)) from error

    def whole(self, digest: str) -> bytes | None:
        """Return a pack that has come wholly; None, and it is gone, when it is not the one."""
        path = self._path(digest, ".part")
        try:
            content = path.read_bytes()
        except OSError as error:
            raise EvaltrackError(tr(_FULL)) from error
        if hashlib.sha256(content).hexdigest() == digest:
            return content
        self.drop(digest)
        return None

    def keep(self, content: bytes) -> None:
        """Keep a pack that goes out until it is taken in there."""
        digest = hashlib.sha256(content).hexdigest()
        with suppress(OSError):  # without it a hand-over that breaks begins anew
            write_private(self._path(digest, ".given"), content)

    def given(self, digests: dict[str, int]) -> bytes | None:
        """Return the pack on its way out of which the other tablet has most; None when it has none."""
        for digest in sorted(digests, key=digests.__getitem__, reverse=True):
            with suppress(OSError):
                content = self._path(digest, ".given").read_bytes()
                if hashlib.sha256(content).hexdigest() == digest:
                    return content
        return None

    def drop(self, digest: str) -> None:
        """Let go of a pack."""
        for ending in (".part", ".given"):
            with suppress(OSError):
                self._path(digest, ending).unlink()

    def _path(self, digest: str, ending: str) -> Path:
        return self._folder / f"{self._season}-{digest}{ending}"

    def _all(self, ending: str) -> list[Path]:
        return [path for path in parts_of(self._season) if path.suffix == ending]


def _age(path: Path) -> float:
    try:
        return abs(time.time() - path.stat().st_mtime)  # a clock that was set back makes nothing young
    except OSError:
        return 0.0
