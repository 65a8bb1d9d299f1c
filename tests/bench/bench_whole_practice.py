"""Whole practices at random through the desk and the boards, and how often something was not as it must be.

    python tests/bench/bench_whole_practice.py [--steps 20000] [--seed 0]

See ``tests/harness/whole_practice.py`` for what is done and what must hold after each step.
"""

import argparse
import os
import random
import tempfile
import time
from collections import Counter
from pathlib import Path

import at_home  # noqa: F401

os.environ["KIVY_LOG_MODE"] = "PYTHON"

import headless

_LONGEST = 200  # steps of one practice


def main() -> None:
    """Play, and print what was done, how many starts there were, and what went wrong."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--steps", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args()
    headless.install()
    from seasons_for_touch import new_season

    done, wrong, starts, begun = Counter(), [], 0, time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["EVALTRACK_HOME"] = folder
        season, seed = new_season(Path(folder) / "season.db"), asked.seed
        while done.total() < asked.steps:
            practice = _played(season, seed, min(_LONGEST, asked.steps - done.total()), wrong)
            done += practice.done
            starts += practice.starts
            seed += 1
    taken = time.perf_counter() - begun
    print(f"{done.total()} steps in {seed - asked.seed} practices, {starts} starts after kills or closing")
    print("  " + ", ".join(f"{act} {count}" for act, count in done.most_common()))
    print(f"wrong: {len(wrong)}" + "".join(f"\n  {line}" for line in wrong))
    print(f"{taken:.0f} s")


def _played(season: Path, seed: int, steps: int, wrong: list[str]):
    from whole_practice import WholePractice

    practice = WholePractice(season, random.Random(seed))
    try:
        for _ in range(steps):
            practice.step()
    except Exception as fault:
        wrong.append(f"seed {seed}, step {practice.done.total()}: {type(fault).__name__} {fault}")
    finally:
        practice.close()
    return practice


if __name__ == "__main__":
    main()
