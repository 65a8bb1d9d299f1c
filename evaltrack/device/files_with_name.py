"""Files that may hold a player's name outside the season file: what the app wrote for people, and its own."""

import gzip
import os
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import NamedTuple

from evaltrack.device.ordinary_file import open_ordinary
from evaltrack.device.season_places import seasons_folder
from evaltrack.device.tablet import tablet_folder
from evaltrack.rink.name_pattern import NamePattern
from evaltrack.rink.plain_text import plain_words

_LARGEST = 64 << 20  # bytes of a file, and of what a pack holds, that are looked through
_MOST_FILES = 5_000
_ENDINGS = frozenset(
    ".csv .toml .json .txt .html .ics .svg .pdf .png .docx .pack .db .sqlite .gz .age .zip .parquet".split()
)
_CLOSED = frozenset(".pdf .png .docx .age .zip .parquet".split())  # what is in these may not be read here
_TELLING = frozenset(".age .parquet".split())  # wherever they lie, such files are seldom of anything else
_PRINTED = b"<xmp:CreatorTool>Typst"  # in each page that the app prints, whose words are packed
_GZIP, _ZIP = b"\x1f\x8b", b"PK\x03\x04"


class NamedFile(NamedTuple):
    """A file that holds a name, or in which that cannot be seen; ``own`` is of the player alone."""

    path: Path
    day: date
    surely: bool
    own: bool = False


def files_with_name(season: Path, names: NamePattern, others: list[str]) -> list[NamedFile]:
    """Return the files that the app knows of and that have a name, or may have it, in order of their paths.

    Parameters
    ----------
    season : the season file; what lies beside it is looked through, and the folders of what was made of it.
    others : the names of all other players: a page that is called after one of these names nobody else.
    """
    found = []
    for path, in_own_folder in _candidates(season):
        with suppress(OSError):
            found += _judged(path, in_own_folder, names, others)
    return sorted({one.path: one for one in reversed(found)}.values())


def _judged(path: Path, in_own_folder: bool, names: NamePattern, others: list[str]) -> list[NamedFile]:
    state = path.stat()
    day = date.fromtimestamp(state.st_mtime)
    if _is_called_after(path, names.whole):
        return [NamedFile(path, day, True, own=in_own_folder)]
    content, whole = _content(path) if state.st_size <= _LARGEST else (b"", False)
    if names.in_bytes(content, max(state.st_size, len(content))):
        return [NamedFile(path, day, True)]
    may_have = in_own_folder or path.suffix.lower() in _TELLING or _PRINTED in content
    if may_have and not whole and not _is_called_after(path, others):
        return [NamedFile(path, day, False)]
    return []


def _is_called_after(path: Path, names: list[str]) -> bool:
    called = f"-{plain_words(path.stem)}-"
    return any(f"-{plain}-" in called for plain in map(plain_words, names) if plain)


def _content(path: Path) -> tuple[bytes, bool]:
    """Return what is in a file, unpacked where it can be, and whether that is all."""
    with open_ordinary(path) as file:
        content = file.read(_LARGEST + 1)
    if content.startswith(_GZIP):
        with suppress(OSError, EOFError, zlib.error), gzip.open(path) as stream:
            return content + stream.read(_LARGEST), True
    if content.startswith(_ZIP):
        with suppress(OSError, EOFError, zlib.error, zipfile.BadZipFile, RuntimeError, NotImplementedError):
            return content + _entries(path), True
    return content, path.suffix.lower() not in _CLOSED


def _entries(path: Path) -> bytes:
    """Return what is in the files of a ZIP file; RuntimeError when they are sealed, or too large."""
    with zipfile.ZipFile(path) as packed:
        if sum(entry.file_size for entry in packed.infolist()) > _LARGEST:
            raise RuntimeError("too large")
        return b"\n".join(packed.read(entry) for entry in packed.infolist())


def _candidates(season: Path) -> Iterator[tuple[Path, bool]]:
    """Yield files, and whether each lies in a folder for what the app made of this season."""
    seen, own = 0, [path.resolve() for path in _season_folders(season)]
    places = [(path, None) for path in own] + _of_the_app() + [(season.resolve().parent, 1)]
    for folder, levels in places:
        for path in _files(folder, levels):
            seen += 1
            if seen > _MOST_FILES:
                return
            if not path.name.startswith(season.name) and path.suffix.lower() in _ENDINGS:
                yield path, levels is None


def _of_the_app() -> list[tuple[Path, int | None]]:
    return [(folder.resolve(), 0) for folder in {tablet_folder(), seasons_folder()}]


def _season_folders(season: Path) -> list[Path]:
    with suppress(OSError):
        kinds = [entry for entry in seasons_folder().iterdir() if entry.is_dir()]
        return [kind / season.stem for kind in kinds if (kind / season.stem).is_dir()]
    return []


def _files(folder: Path, levels: int | None) -> Iterator[Path]:
    """Yield the files of a folder, and of those within it so many levels down; None for all."""
    for where, folders, files in os.walk(folder):
        if levels is not None and len(Path(where).relative_to(folder).parts) >= levels:
            folders.clear()
        folders.sort()
        yield from (path for name in sorted(files) if (path := Path(where) / name).is_file())
