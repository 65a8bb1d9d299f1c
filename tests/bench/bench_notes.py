"""Time twenty families' pages in each form, each its own file, and compare the bytes of two runs.

Run it from the top of the checkout: ``python tests/bench/bench_notes.py``. The first figure is a fresh
process with everything that must be loaded; the others are the best of three in a warm one. The ratio is
of the processor's time to that of plain text, which needs neither charts nor fonts.
"""

import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
import at_home  # noqa: F401

AT_MOST = 3.0  # seconds for twenty pages as PDF, in a fresh process


def written(folder: Path, form: str) -> tuple[float, float, dict[str, bytes]]:
    """Make the season, then write its pages.

    Returns
    -------
    Seconds that went by, seconds of the processor, and the files by name.
    """
    from lantern_pages import season_of, standings_of

    from evaltrack.paper.note.forms import Wanted
    from evaltrack.paper.note.notes import write_notes

    with season_of(folder / "season.db") as season:
        standings = standings_of(season)
        began, worked = time.perf_counter(), time.process_time()
        notes = write_notes(season, standings, folder / "notes", wanted=Wanted(form))
        took, work = time.perf_counter() - began, time.process_time() - worked
    return took, work, {note.path.name: note.path.read_bytes() for note in notes if note.path}


def in_a_new_folder(form: str) -> tuple[float, float, dict[str, bytes]]:
    """Do the same in a folder of its own."""
    with tempfile.TemporaryDirectory() as folder:
        return written(Path(folder), form)


def main() -> bool:
    """Print the figures, and return whether they are as promised."""
    from evaltrack.paper.note.forms import FORMS

    if sys.argv[1:2] == ["--once"]:
        print(in_a_new_folder(sys.argv[2])[0])
        return True
    cold = float(subprocess.check_output([sys.executable, __file__, "--once", "pdf"], text=True))
    print(f"pdf, fresh process:   {cold:.2f} s for 20 pages (must be <= {AT_MOST:.0f})")
    sound, runs = cold <= AT_MOST, {form: [in_a_new_folder(form) for _ in range(3)] for form in FORMS}
    least = min(work for _, work, _ in runs["text"])
    for form, three in runs.items():
        took, work = (min(one[place] for one in three) for place in (0, 1))
        files = [one[2] for one in three]
        same = all(one == files[0] for one in files)
        sound &= same and len(files[0]) == 20
        size = sum(map(len, files[0].values())) / len(files[0]) / 1024
        print(
            f"{form:5} warm: {took:.2f} s for {len(files[0])} pages, {work:.2f} of the processor, "
            f"{work / least:.1f} times text, "
            f"{size:.0f} KB each, {'the same bytes' if same else 'OTHER BYTES'} in three runs"
        )
    return sound


if __name__ == "__main__":
    sys.exit(not main())
