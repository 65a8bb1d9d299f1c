"""Time twenty family notes, each its own PDF, against the same pages without their charts.

Run it from the top of the checkout: ``python tests/bench/bench_notes.py``. The first figure is a fresh
process with everything that must be loaded; the others are the best of three in a warm one.
"""

import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
import at_home  # noqa: F401

BLANK = '<svg xmlns="http://www.w3.org/2000/svg" width="140pt" height="24pt"/>'


def written(folder: Path) -> tuple[int, float]:
    """Make the season, then write its notes, and return how many and in how many seconds."""
    from lantern_pages import season_of, standings_of

    from evaltrack.paper.note.notes import write_notes

    with season_of(folder / "season.db") as season:
        standings = standings_of(season)
        began = time.perf_counter()
        notes = write_notes(season, standings, folder / "notes")
        return sum(note.path is not None for note in notes), time.perf_counter() - began


def without_charts(folder: Path) -> float:
    """Return the seconds that the same pages take with an empty picture in the place of each chart."""
    from lantern_pages import season_of, standings_of

    from evaltrack.paper.note.page import make_page, read_ground
    from evaltrack.paper.note.pdf import print_note

    with season_of(folder / "season.db") as season:
        ground, standings = read_ground(season), standings_of(season)
        players = season.people.players()
    sheets = [make_page(ground, p, [s for s in standings if s.player == p.number]) for p in players]
    began = time.perf_counter()
    for sheet in sheets:
        print_note(sheet, [BLANK] * len(sheet.rows))
    return time.perf_counter() - began


def best(work, times: int = 3):
    """Return the best of several runs, each in a folder of its own."""
    results = []
    for _ in range(times):
        with tempfile.TemporaryDirectory() as folder:
            results.append(work(Path(folder)))
    return min(results, key=lambda result: result[-1] if isinstance(result, tuple) else result)


def main() -> None:
    """Print the figures."""
    if sys.argv[1:] == ["--once"]:
        print(best(written, 1)[1])
        return
    cold = float(subprocess.check_output([sys.executable, __file__, "--once"], text=True))
    count, warm = best(written)
    bare = best(without_charts)
    print(f"{count} notes, fresh process: {cold:.2f} s (must be <= 3)")
    print(f"{count} notes, warm:          {warm:.2f} s")
    print(f"without charts, warm:    {bare:.2f} s")
    print(f"ratio:                   {warm / bare:.1f}")


if __name__ == "__main__":
    main()
