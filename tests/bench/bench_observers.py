"""How often an observer who notes mostly failures is named, and how often one who does not.

Run from the top folder as ``python tests/bench/bench_observers.py [--seasons 60] [--worlds 15]``. Season
number s of every world is drawn with seed s. In each world the last observer is the one to be found, if
anybody: he notes every miss, but of the dones only a part, or he is honest and strict. ``caught`` is the
share of seasons in which he is named, ``false`` that of the other observers' seasons in which they are,
``says`` by how many logits he is said to be stricter.
"""

import argparse
from dataclasses import replace

import at_home  # noqa: F401
import numpy as np
from known_moves import MovesWorld, known_season

from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings import severity
from evaltrack.analysis.standings.standings import positions_of

SMALL = MovesWorld(players=10, skills=3, practices=8)
WORLDS = {
    "two honest observers": (MovesWorld(), False),
    "three honest observers": (MovesWorld(observers=3), False),
    "two honest, SD .2, 3 skills, 8 practices": (SMALL, False),
    "two honest, SD .3": (MovesWorld(sd_observer=0.3), False),
    "two honest, each keeps to his own players half the time": (MovesWorld(own=0.5), False),
    "two honest, one watches few skills": (MovesWorld(uneven=True), False),
    "two, one strict by .6": (MovesWorld(strict=0.6), True),
    "two, one notes 30 % of dones": (MovesWorld(noted=0.3), True),
    "two, one notes 40 % of dones": (MovesWorld(noted=0.4), True),
    "two, one notes 50 % of dones": (MovesWorld(noted=0.5), True),
    "three, one notes 50 % of dones": (MovesWorld(observers=3, noted=0.5), True),
    "two, one notes 50 % of dones, and watches few skills": (MovesWorld(noted=0.5, uneven=True), True),
    "two, one notes 50 % of dones, 10 tries": (MovesWorld(noted=0.5, tries=10), True),
    "two, one notes 30 % of dones, 3 skills, 8 practices": (replace(SMALL, noted=0.3), True),
    "two, one notes 50 % of dones, 3 skills, 8 practices": (replace(SMALL, noted=0.5), True),
}


def judge(name: str, world: MovesWorld, guilty: bool, seeds: range) -> None:
    """Print who is named in a world's seasons."""
    named, said = [], []
    for seed in seeds:
        season = known_season(np.random.default_rng(seed), world)
        fits = fit_season(season.cells(), positions_of(season.roster))
        found = severity.severities(next(iter(fits.values())))
        named.append(found.p_strict >= severity.SURE)
        said.append(found.severity[-1])
    named = np.array(named)
    others = named[:, :-1] if guilty else named
    caught = f"{named[:, -1].mean():.2f}" if guilty else "-"
    print(f"  {name:58}{caught:>8}{others.mean():8.3f}{np.mean(said):8.2f}", flush=True)


def main() -> None:
    """Judge every world."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=60)
    parser.add_argument("--worlds", type=int, default=len(WORLDS), help="how many of them, from the first")
    known = parser.parse_args()
    print(f"  {f'{known.seasons} seasons each':58}{'caught':>8}{'false':>8}{'says':>8}")
    for name, (world, guilty) in list(WORLDS.items())[: known.worlds]:
        judge(name, world, guilty, range(known.seasons))


if __name__ == "__main__":
    main()
