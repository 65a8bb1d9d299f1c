"""Time what a rep and a correction cost to commit, against a tally, and how long a line takes to come back.

python tests/bench/bench_reps.py [--rounds 400]
"""

import argparse
import tempfile
import time
from datetime import date
from pathlib import Path
from statistics import median

import at_home  # noqa: F401
from seasons_for_touch import new_season

from evaltrack.rink.practice import Practice, Rep
from evaltrack.rink.rotation.running import RunningRotation, replay
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.opening import open_season


def main() -> None:
    """Print medians, their ratios to a tally's, and the time in which a whole practice is played again."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--rounds", type=int, default=400)
    rounds = parser.parse_args().rounds
    with tempfile.TemporaryDirectory() as folder, open_season(new_season(Path(folder) / "s.db")) as season:
        costs, drills = {"tally": [], "rep": [], "correction": []}, season.catalogue.drills()
        season.practices.add([Practice("2025-10-04", date(2025, 10, 4))])
        season.people.add_observer("Ines")
        _commit(season, drills, costs, rounds)
        spent, line = _timed(lambda: replay(drills, season.reps.facts("2025-10-04", "bench")))
    for what, seconds in costs.items():
        ratio = median(seconds) / median(costs["tally"])
        print(f"{what:10} {1000 * median(seconds):6.2f} ms, {ratio:.2f} of a tally")
    print(f"a line of {line.rotation.rep} reps and {rounds} corrections back in {1000 * spent:.0f} ms")


def _commit(season, drills, costs: dict[str, list[float]], rounds: int) -> None:
    """Commit a tally, a rep and a correction in turn, so that the disk's moods fall on all alike."""
    players = season.people.players()
    rep = Rep("2025-10-04", drills[0].key, drills[0].steps[-1].key, {}, "bench")
    line, fact = RunningRotation.first(drills, rep, players)
    season.reps.begin(line.rep, fact)
    for n in range(rounds):
        tally = _tally(line, n)
        costs["tally"].append(_timed(lambda tally=tally: season.log.add(tally))[0])
        line, fact = line.next_rep()
        costs["rep"].append(_timed(lambda rep=line.rep, fact=fact: season.reps.begin(rep, fact))[0])
        line, fact = line.swap(next(iter(line.rotation.slots)), players[n % len(players)].id)
        costs["correction"].append(_timed(lambda fact=fact: season.reps.correct(fact))[0])


def _tally(line: RunningRotation, n: int) -> Tally:
    who, rep = list(line.rotation.slots.values())[n % len(line.rotation.slots)], line.rep
    return Tally(rep.practice, who, "outlet_pass", Outcome.DONE, rep.drill, rep.step, "Ines", rep=rep.id)


def _timed(work):
    began = time.perf_counter()
    result = work()
    return time.perf_counter() - began, result


if __name__ == "__main__":
    main()
