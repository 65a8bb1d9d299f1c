"""What it is worth to know against whom: simulated seasons by rep, the same ones with and without it.

Run from the top folder as ``python tests/bench/bench_opponents.py [--seasons 40] [--first 0] [--worlds 7]``.
Twelve forwards in four lines meet six defenders, in eight skills. Season number s of every world is drawn
with seed s; nothing is left out. The columns: ``plain``, where nobody noted whom they met, and ``met``, where
the estimates know it. ``raw`` is a player's percentage. Below stands how well a defender's own figure, how
far he holds forwards under what comes off against an ordinary one, would be known from the same tries.
"""

import argparse
from collections.abc import Iterator

import at_home  # noqa: F401
import numpy as np
import pandas as pd
from scipy.special import ndtri
from simulated_opponents import Against, SeasonAgainst, cells, roster, simulate
from simulated_season import World, catalogue

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.standings import positions_of, standings_of

FORWARDS, TARGET = 12, 0.6
Z = float(ndtri(0.95))
WORLDS = {
    "lines stay together, 20 tries": (20, Against()),
    "lines stay together, 40 tries": (40, Against()),
    "anybody meets anybody, 20 tries": (20, Against(together=0.0)),
    "anybody meets anybody, 40 tries": (40, Against(together=0.0)),
    "lines stay together, defenders all alike, 20 tries": (20, Against(sd=0.0)),
    "lines stay together, defenders further apart, 20 tries": (20, Against(sd=0.7)),
    "lines stay together, known in half the tries, 20 tries": (20, Against(known=0.5)),
}
NAMES = "share low high change_low change_high tries done call".split()


def judged(season: SeasonAgainst, frame: pd.DataFrame, players, skills) -> pd.DataFrame:
    """Return one row for each player and skill: what the standings say, and what is true."""
    standings = standings_of(frame, players, skills)
    found = pd.DataFrame([[getattr(one, name) for name in NAMES] for one in standings], columns=NAMES)
    at = [int(one.player) - 1 for one in standings], [int(one.skill[1:]) for one in standings]
    return found.assign(now=season.now[at], truly=season.change[at])


def held(season: SeasonAgainst, frame: pd.DataFrame, players, defenders) -> pd.DataFrame:
    """Return the effect of each defender in each skill as it is estimated, its interval, and the truth."""
    fits, number = fit_season(frame, positions_of(players)), {d.id.bytes: n for n, d in enumerate(defenders)}
    rows = []
    for key, fit in fits.items():
        design, skill = fit.predictor.design, fit.predictor.skill
        columns = design.columns.of(Effect.OPPONENT)[design.within[Effect.OPPONENT].of_skill(skill)]
        mean, cov = fit.fit.posterior.moments(columns[:, None])
        sd = np.sqrt(cov[:, 0, 0])
        for name, *known in zip(fit.predictor.things(Effect.OPPONENT), mean[:, 0], sd, strict=True):
            truth = season.effects.opponent[int(key[1:]), number[design.opponents[name]]]
            rows.append((*known, truth))
    return pd.DataFrame(rows, columns=["effect", "sd", "truth"])


def figures(frame: pd.DataFrame) -> Iterator[tuple[str, float]]:
    """Give each figure with its name."""
    weak, called = frame["now"] < TARGET, frame["call"] == "work on"
    solid = frame["call"] == "solid"
    yield "share now: RMSE, in points", 100 * _rmse(frame["share"] - frame["now"])
    raw = _rmse(frame["done"] / frame["tries"] - frame["now"])
    yield "share now: RMSE, against raw", _rmse(frame["share"] - frame["now"]) / raw
    yield "share now: 90 % interval covers", frame["now"].between(frame["low"], frame["high"]).mean()
    change = frame["truly"].between(frame["change_low"], frame["change_high"])
    yield "change: 90 % interval covers", change.mean()
    yield "wrong among work on", (~weak)[called].mean()
    yield "truly below target: found", called[weak].mean()
    yield "wrong among solid", weak[solid].mean()


def _rmse(error: pd.Series) -> float:
    return float(np.sqrt(np.mean(error**2)))


def judge(name: str, tries: int, against: Against, seeds: range) -> None:
    """Simulate the seasons, estimate with and without the opponents, and print the figures side by side."""
    world = World(players=FORWARDS, tries=tries)
    forwards, defenders = roster(world, against)
    players, skills = [*forwards, *defenders], catalogue(world)
    found, own = {"plain": [], "met": []}, []
    for seed in seeds:
        season = simulate(np.random.default_rng(seed), world, against)
        frame = cells(season, forwards, defenders)
        found["plain"].append(judged(season, frame.assign(opponent=b""), players, skills))
        found["met"].append(judged(season, frame, players, skills))
        own.append(held(season, frame, players, defenders))
    columns = {way: dict(figures(pd.concat(parts))) for way, parts in found.items()}
    print(f"\n{name}; {len(seeds)} seasons\n  {'':46}" + "".join(f"{way:>8}" for way in columns))
    for what in columns["met"]:
        print(f"  {what:46}" + "".join(f"{part[what]:8.3f}" for part in columns.values()))
    error = "share now: RMSE, in points"
    print(f"  {'  met against plain':46}{'':8}{columns['met'][error] / columns['plain'][error] - 1:+8.1%}")
    _tell_held(pd.concat(own))


def _tell_held(own: pd.DataFrame) -> None:
    covers = (np.abs(own["effect"] - own["truth"]) <= Z * own["sd"]).mean()
    error, spread = _rmse(own["effect"] - own["truth"]), _rmse(own["truth"])
    print(f"  {'a defender: 90 % interval covers':46}{'':8}{covers:8.3f}")
    if spread:
        print(f"  {'a defender: RMSE, against calling all alike':46}{'':8}{error / spread:8.3f}", flush=True)


def main() -> None:
    """Judge the worlds and print what they say."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=40)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--worlds", type=int, default=len(WORLDS))
    known = parser.parse_args()
    seeds = range(known.first, known.first + known.seasons)
    for name, (tries, against) in list(WORLDS.items())[: known.worlds]:
        judge(name, tries, against, seeds)


if __name__ == "__main__":
    main()
