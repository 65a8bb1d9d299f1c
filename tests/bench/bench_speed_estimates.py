"""How long the estimates take, against a general fitter of mixed logits on the same cells in the same run.

Run from the top folder as ``python tests/bench/bench_speed_estimates.py [--repeats 5]``. The general
fitter is glmer of the R package lme4 where ``Rscript`` has it (apt-get install r-cran-lme4), otherwise
BinomialBayesMixedGLM of statsmodels; the one that was used is printed. Its time leaves out starting R and
reading the cells. Ratios say how many times as long it takes.
"""

import argparse
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pandas as pd

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from simulated_season import World, catalogue, cells, roster, simulate

from evaltrack.analysis.season_design import axis_of
from evaltrack.analysis.season_model import fit_season
from evaltrack.analysis.standings import standings_of

GLMER = """
suppressMessages(library(lme4)); cells <- read.csv(commandArgs(TRUE)[1])
fit <- function(d) suppressMessages(suppressWarnings(glmer(cbind(done, tries - done) ~ t + pressure +
    (1 | player) + (0 + t | player) + (1 | step) + (1 | observer) + (1 | practice), d, family = binomial)))
parts <- split(cells, cells$skill); invisible(fit(parts[[1]]))
cat(sapply(parts, function(d) system.time(fit(d))[["elapsed"]]))
"""


def median_seconds(work: Callable[[], object], repeats: int) -> float:
    """Return the median time that the work takes, after one round to warm up."""
    work()
    seconds = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        seconds.append(time.perf_counter() - start)
    return float(np.median(seconds))


def by_lme4(frame: pd.DataFrame) -> float:
    """Return the median seconds a skill that glmer takes; OSError or CalledProcessError without it."""
    with tempfile.TemporaryDirectory() as folder:
        table, script = Path(folder, "cells.csv"), Path(folder, "fit.R")
        frame.to_csv(table, index=False)
        script.write_text(GLMER)
        run = ["Rscript", "--vanilla", str(script), str(table)]
        found = subprocess.run(run, capture_output=True, text=True, check=True)
    return float(np.median([float(value) for value in found.stdout.split()]))


def by_statsmodels(frame: pd.DataFrame) -> float:
    """Return the seconds that BinomialBayesMixedGLM takes for one skill, by variational Bayes."""
    from statsmodels.genmod.bayes_mixed_glm import BinomialBayesMixedGLM

    one = frame[frame["skill"] == "s0"]
    tries = one.loc[one.index.repeat(one["tries"])]
    rank = tries.groupby(level=0).cumcount()
    tries = tries.assign(outcome=(rank < tries["done"]).astype(int))
    terms = ("player", "step", "observer", "practice")
    groups = {term: f"0 + C({term})" for term in terms} | {"slope": "0 + C(player):t"}
    model = BinomialBayesMixedGLM.from_formula("outcome ~ t + pressure", groups, tries)
    return median_seconds(model.fit_vb, 1)


def baseline(frame: pd.DataFrame) -> tuple[str, float]:
    """Return the general fitter that is here, and its seconds a skill."""
    plain = frame.assign(t=axis_of(frame["held_on"]).at(frame["held_on"]))
    plain["player"] = pd.factorize(plain["player"])[0]
    try:
        return "lme4 glmer (R)", by_lme4(plain)
    except (OSError, subprocess.CalledProcessError):
        return "statsmodels BinomialBayesMixedGLM", by_statsmodels(plain)


def against_general(repeats: int) -> None:
    """Print the time of a whole season, and of one skill against the general fitter."""
    world = World()
    players = roster(world)
    frame = cells(simulate(np.random.default_rng(0), world), players)
    name, general = baseline(frame)
    skills = catalogue(world)
    print(f"{world.players} players, {world.skills} skills, {world.practices} practices, {len(frame)} cells")
    print(f"  {name}: {general:.3f} s a skill")
    for shared, goal in ((False, 0.3), (True, 1.0)):
        how = "strength shared" if shared else "skills apart"
        fit = median_seconds(lambda shared=shared: fit_season(frame, shared=shared), repeats)
        whole = median_seconds(
            lambda shared=shared: standings_of(frame, players, skills, shared=shared), repeats
        )
        times = general * world.skills / fit
        print(f"  {how}: refit {fit:.3f} s (goal {goal} s), with standings {whole:.3f} s;", end=" ")
        print(
            f"the general fitter takes {times:.1f} times as long a skill" + ("" if shared else " (goal 10)")
        )


def growth() -> None:
    """Print how time grows with the number of tallies; a cell holds any number of them."""
    print("\ntallies    cells   standings, strength shared   peak memory of this process")
    for tries in (70, 700, 7000):
        world = World(practices=48, tries=tries, steps=8, observers=3)
        players = roster(world)
        frame = cells(simulate(np.random.default_rng(1), world), players)
        start = time.perf_counter()
        standings_of(frame, players, catalogue(world))
        seconds = time.perf_counter() - start
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        print(f"{frame['tries'].sum():8d} {len(frame):8d}   {seconds:.2f} s   {peak} MB", flush=True)


def main() -> None:
    """Time a season against the general fitter, then the growth."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--repeats", type=int, default=5)
    against_general(parser.parse_args().repeats)
    growth()


if __name__ == "__main__":
    main()
