"""Compile the .po files of each language into the one .mo that evaltrack reads.

python assets/languages/compile_po.py
"""

import sys
from pathlib import Path

from babel.messages.mofile import write_mo

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))

from collect import translation  # noqa: E402


def compile_all() -> list[Path]:
    """Write ``<language>/evaltrack.mo`` for each language, and return the files.

    Raises
    ------
    ValueError : a language has no sentence at all, or says one in two ways
    """
    return [_compiled(folder) for folder in sorted(HERE.iterdir()) if any(folder.glob("*.po"))]


def is_stale(folder: Path = HERE / "fr") -> bool:
    """Say whether a translation has changed since it was compiled."""
    file = folder / "evaltrack.mo"
    newest = max((po.stat().st_mtime for po in folder.glob("*.po")), default=0)
    return not file.exists() or file.stat().st_mtime <= max(newest, folder.stat().st_mtime)


def _compiled(folder: Path) -> Path:
    words = translation(folder)
    if not len(words):
        raise ValueError(f"{folder} has no translated sentence")
    file = folder / "evaltrack.mo"
    # written beside and moved: another process of the tests may be reading it
    beside = folder / f".evaltrack-{id(words)}.mo"
    with beside.open("wb") as opened:
        write_mo(opened, words)
    beside.replace(file)
    return file


if __name__ == "__main__":
    for written in compile_all():
        print(written)
