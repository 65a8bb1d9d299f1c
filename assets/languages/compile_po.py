"""Compile the .po files of each language into the one .mo that evaltrack reads.

Beside it lies what the library of the command line says by itself, as it looks for it.

python assets/languages/compile_po.py
"""

import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

HERE = Path(__file__).resolve().parent
OF_LIBRARY = "*/LC_MESSAGES/messages.po"
sys.path.insert(0, str(HERE))

from collect import translation  # noqa: E402


def compile_all() -> list[Path]:
    """Write ``<language>/evaltrack.mo`` and ``LC_MESSAGES/messages.mo`` for each language; return the files.

    Raises
    ------
    ValueError : a language has no sentence at all, or says one in two ways
    """
    folders = [folder for folder in sorted(HERE.iterdir()) if any(folder.glob("*.po"))]
    of_library = [_written(_of_library(file), file.with_suffix(".mo")) for file in HERE.glob(OF_LIBRARY)]
    return [_compiled(folder) for folder in folders] + of_library


def is_stale(folder: Path = HERE / "fr") -> bool:
    """Say whether a translation has changed since it was compiled."""
    return any(
        _is_older(file, sources)
        for file, sources in (
            (folder / "evaltrack.mo", [folder, *folder.glob("*.po")]),
            (folder / "LC_MESSAGES" / "messages.mo", [folder / "LC_MESSAGES" / "messages.po"]),
        )
    )


def _is_older(file: Path, sources: list[Path]) -> bool:
    return not file.exists() or file.stat().st_mtime < max(source.stat().st_mtime for source in sources)


def _compiled(folder: Path) -> Path:
    words = translation(folder)
    if not len(words):
        raise ValueError(f"{folder} has no translated sentence")
    return _written(words, folder / "evaltrack.mo")


def _of_library(file: Path) -> Catalog:
    with file.open("rb") as opened:
        return read_po(opened, abort_invalid=True)


def _written(words: Catalog, file: Path) -> Path:
    # written beside and moved: another process of the tests may be reading it
    beside = file.with_name(f".{file.stem}-{id(words)}.mo")
    with beside.open("wb") as opened:
        write_mo(opened, words)
    beside.replace(file)
    file.touch()  # after the folder, which has just changed: or it would look stale for ever
    return file


if __name__ == "__main__":
    for written in compile_all():
        print(written)
