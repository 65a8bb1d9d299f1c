"""Kill a tapping app again and again and count what is lost; kill migrations and count what is broken.

python tests/bench/bench_kills.py [--kills 50] [--migrations 20] [--statements]
"""

import argparse
import random
import shutil
import tempfile
from collections import Counter
from pathlib import Path

import at_home  # noqa: F401
from killing import kill_once
from migration_killing import Left, kill_at_random, kill_at_statements, seconds, statements_of
from season_v1 import make_v1
from seasons_for_touch import new_season

from evaltrack.store.schema import SCHEMA_VERSION

OLD_REPS, OLD_TALLIES = 80_000, 20_000  # so many that copy and transaction take long enough to be hit


def main() -> None:
    """Do what is asked for; the taps alone when nothing is."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, help="of a tapping app (50 when nothing else is asked for)")
    parser.add_argument("--migrations", type=int, default=0, help="kills in the middle of a migration")
    parser.add_argument(
        "--statements", action="store_true", help="kill a migration at each of its statements"
    )
    asked = parser.parse_args()
    kills = asked.kills if asked.kills is not None else 0 if asked.migrations or asked.statements else 50
    if kills:
        kill_taps(kills)
    if asked.migrations:
        kill_migrations(asked.migrations)
    if asked.statements:
        kill_statements()


def kill_taps(count: int) -> None:
    """Print the number of kills, of tallies kept, lost, and of files damaged."""
    with tempfile.TemporaryDirectory() as folder:
        path = new_season(Path(folder) / "season.db")
        kills = [kill_once(path, seed, Path(folder)) for seed in range(count)]
    lost = sum(kill.lost for kill in kills)
    adrift = sum(abs(kill.shown - kill.kept) > 1 for kill in kills)
    damaged = sum(kill.integrity != "ok" for kill in kills)
    away = sum(kill.resumed_on != "board" for kill in kills)
    print(f"{count} kills, {kills[-1].kept} tallies kept at the end")
    print(f"shown tallies lost: {lost}; kills after which the counts are more than one apart: {adrift}")
    print(f"files damaged: {damaged}; starts that were not back on the board: {away}")
    taken, poor = sum(kill.copies for kill in kills), sum(kill.poor for kill in kills)
    print(f"copies of the file alone after a pause, at home, after End: {taken}; that lack anything: {poor}")


def kill_migrations(count: int) -> None:
    """Print where the kills struck, and how many files were the old one, the new one, or broken."""
    with tempfile.TemporaryDirectory() as folder:
        old = make_v1(Path(folder) / "old.db", OLD_REPS, OLD_TALLIES)
        told = seconds(Path(shutil.copy(old, Path(folder) / "whole.db")))
        begin, commit = (next(told[line] for line in told if word in line) for word in ("BEGIN", "COMMIT"))
        lasting = {
            "copying": told["copied"],
            "statement BEGIN": commit - begin,
            "statement COMMIT": told["migrated"] - commit,
        }
        print("undisturbed:", ", ".join(f"{line} {length:.2f} s" for line, length in lasting.items()))
        left = [_kill_migration(old, seed, *list(lasting.items())[seed % 3]) for seed in range(count)]
    show_migrations(left)


def kill_statements() -> None:
    """Print what was left of migrations that were killed at each of their statements, once."""
    with tempfile.TemporaryDirectory() as folder:
        count = len(statements_of(make_v1(Path(folder) / "whole.db")))
        left = kill_at_statements(Path(folder), range(1, count + 2))
    show_migrations(left)


def show_migrations(left: list[Left]) -> None:
    """Print where the kills struck, and what is wrong with the files; exit 1 when anything is."""
    stages, versions = Counter(kill.stage for kill in left), Counter(kill.version for kill in left)
    print(f"{len(left)} kills, by what was being done: {dict(stages)}")
    broken = sum(bool(kill.wrong) for kill in left)
    print(f"old files: {versions[1]}; new files: {versions[SCHEMA_VERSION]}; broken: {broken}")
    for kill in left:
        if kill.wrong:
            print(f"  {kill.stage}: {'; '.join(kill.wrong)}")
    if broken:
        raise SystemExit(1)


def _kill_migration(old: Path, seed: int, line: str, within: float) -> Left:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(shutil.copy(old, folder))
        return kill_at_random(path, line, within, random.Random(seed))


if __name__ == "__main__":
    main()
