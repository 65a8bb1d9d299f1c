"""A continuous drill of 12 minutes on the real app, tapped with real touches in simulated time.

    python tests/bench/bench_drill.py [--minutes 12] [--repeats 4] [--seed 1]

Tries come at random moments, 8 and 20 a minute. The observer's fingers stray 4 mm on a ten-inch tablet, at
times two of them come down at once, now and then he means the other half, and he takes back nine in ten of
what went wrong. What the season file holds is compared with what the screen said under each finger: that must
be the same, each once and in order. The shares of wrong and of uncounted touches stand beside those that are
computed from the board's geometry. Taps for each tally are counted with a finger that never strays.
"""

import argparse
import os
import random
import sys
import tempfile
from pathlib import Path

import at_home  # noqa: F401

os.environ["KIVY_LOG_MODE"] = "PYTHON"

import headless

headless.install()

from drill_observer import Account
from played_drill import Drill

BOARDS = {"group": "whole group", "rep": "by rep", "player": "one player"}


def main() -> None:
    """Print what came of the drills, and end with 1 when a tally is missing, twice or out of order."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--minutes", type=float, default=12)
    parser.add_argument("--repeats", type=int, default=4, help="drills for each board and pace")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["EVALTRACK_HOME"] = folder
        good = [stray(Path(folder), kind, options) for kind in BOARDS]
        print("a finger that never strays: touches for each tally")
        for kind in BOARDS:
            steady(Path(folder), kind, options)
        steady(Path(folder), "rep", options, wrong_line=0.1)
    sys.exit(0 if all(good) else 1)


def stray(folder: Path, kind: str, options) -> bool:
    """Play drills with stray fingers on a board, print them, and say whether the file holds what was said."""
    good = True
    for per_minute in (8, 20):
        accounts, kept = [], 0
        for repeat in range(options.repeats):
            chance = random.Random(f"{options.seed} {kind} {per_minute} {repeat}")
            drill = Drill(folder, kind, chance, spread=4, slips=0.03)
            accounts.append(drill.play(per_minute, options.minutes))
            found = drill.kept()
            kept += len(found)
            good &= found == accounts[-1].said
        tell(f"{BOARDS[kind]}, {per_minute} tries a minute", accounts, kept, good)
    return good


def tell(what: str, accounts: list[Account], kept: int, good: bool) -> None:
    """Print what came of some drills."""
    tries, said = sum(a.tries for a in accounts), sum(len(a.said) for a in accounts)
    undone, touches = sum(a.undone for a in accounts), sum(a.touches for a in accounts)
    same = "all of them, each once and in order" if good else "NOT THE SAME"
    print(f"{what}: {len(accounts)} drills, {tries} tries, {touches} touches")
    print(f"  said on the screen {said}, and {undone} taken back; in the file {kept}: {same}")
    aimed = sum(sum(a.landed.values()) for a in accounts)
    for part in ("right", "wrong", "not counted"):
        found = sum(a.landed[part] for a in accounts) / aimed
        computed = sum(a.computed[part] for a in accounts) / aimed
        error = (computed * (1 - computed) / aimed) ** 0.5
        print(
            f"  {part}: {found:.2%} of the first touches; computed {computed:.2%}, give or take {error:.2%}"
        )


def steady(folder: Path, kind: str, options, wrong_line: float = 0.0) -> None:
    """Play a drill with a finger that never strays, and print how many touches a tally takes."""
    drill = Drill(folder, kind, random.Random(options.seed), spread=0.01, slips=0, wrong_line=wrong_line)
    account = drill.play(20, options.minutes)
    kept = len(drill.kept())
    line = f", somebody else in {wrong_line:.0%} of the reps" if wrong_line else ""
    print(f"  {BOARDS[kind]}{line}: {account.touches} touches, {kept} tallies, {account.touches / kept:.2f}")


if __name__ == "__main__":
    main()
