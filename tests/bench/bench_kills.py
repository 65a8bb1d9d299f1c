"""Kill a tapping app again and again and count what is lost.

python tests/bench/bench_kills.py [--kills 50]
"""

import argparse
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "window"))

from killing import kill_once
from seasons_for_touch import new_season


def main() -> None:
    """Print the number of kills, of tallies kept, lost, and of files damaged."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=50)
    count = parser.parse_args().kills
    with tempfile.TemporaryDirectory() as folder:
        path = new_season(Path(folder) / "season.db")
        kills = [kill_once(path, seed) for seed in range(count)]
    lost = sum(kill.lost for kill in kills)
    adrift = sum(abs(kill.shown - kill.kept) > 1 for kill in kills)
    damaged = sum(kill.integrity != "ok" for kill in kills)
    away = sum(kill.resumed_on != "board" for kill in kills)
    print(f"{count} kills, {kills[-1].kept} tallies kept at the end")
    print(f"shown tallies lost: {lost}; kills after which the counts are more than one apart: {adrift}")
    print(f"files damaged: {damaged}; starts that were not back on the board: {away}")


if __name__ == "__main__":
    main()
