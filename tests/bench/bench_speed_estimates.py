"""How long the estimates take, against general fitters of mixed logits on the same cells in the same run.

Run from the top folder as ``python tests/bench/bench_speed_estimates.py [--repeats 5]``. The general
fitters are glmer of the R package lme4, where ``Rscript`` has it (apt-get install r-cran-lme4), and
BinomialBayesMixedGLM of statsmodels by variational Bayes. Their time leaves out starting R and making the
design. Ratios say how many times as long they take a skill.
"""

import argparse
import resource
import subprocess
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import at_home  # noqa: F401
import numpy as np
import pandas as pd
from simulated_season import World, catalogue, cells, roster, simulate

from evaltrack.analysis.season.season_design import axis_of
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.standings import standings_of

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
    """Return the median seconds a skill that BinomialBayesMixedGLM takes; ImportError without it."""
    from statsmodels.genmod.bayes_mixed_glm import BinomialBayesMixedGLM

    terms = {term: f"0 + C({term})" for term in ("player", "step", "observer", "practice")}
    models = [
        BinomialBayesMixedGLM.from_formula(
            "outcome ~ t + pressure", terms | {"slope": "0 + C(player):t"}, as_tries(part)
        )
        for _, part in frame.groupby("skill")
    ]
    return float(np.median([median_seconds(model.fit_vb, 1) for model in models]))


def as_tries(frame: pd.DataFrame) -> pd.DataFrame:
    """Return a row for each try of the cells, with its outcome as 0 or 1."""
    tries = frame.loc[frame.index.repeat(frame["tries"])]
    return tries.assign(outcome=(tries.groupby(level=0).cumcount() < tries["done"]).astype(int))


def general_fitters(frame: pd.DataFrame) -> dict[str, float]:
    """Return the seconds a skill of each general fitter that is here."""
    plain = frame.assign(t=axis_of(frame["held_on"]).at(frame["held_on"]))
    plain["player"] = pd.factorize(plain["player"])[0]
    found = {}
    for name, fitter in (("lme4 glmer (R)", by_lme4), ("statsmodels BinomialBayesMixedGLM", by_statsmodels)):
        try:
            found[name] = fitter(plain)
        except (OSError, subprocess.CalledProcessError, ImportError):
            print(f"  {name}: not here")
    return found


def against_general(repeats: int) -> None:
    """Print the time of a whole season, and of one skill against the general fitters."""
    world = World()
    players, skills = roster(world), catalogue(world)
    frame = cells(simulate(np.random.default_rng(0), world), players)
    print(f"{world.players} players, {world.skills} skills, {world.practices} practices, {len(frame)} cells")
    general = general_fitters(frame)
    for name, seconds in general.items():
        print(f"  {name}: {seconds:.3f} s a skill")
    for shared, goal in ((False, 0.3), (True, 1.0)):
        fit = median_seconds(lambda shared=shared: fit_season(frame, shared=shared), repeats)
        whole = median_seconds(
            lambda shared=shared: standings_of(frame, players, skills, shared=shared), repeats
        )
        print(
            f"  {'strength shared' if shared else 'skills apart'}: refit {fit:.3f} s (goal {goal} s)", end=""
        )
        print(f", with standings {whole:.3f} s")
        for name, seconds in general.items():
            times = f"{seconds * world.skills / fit:.1f} times as long a skill"
            print(f"    {name} takes {times}" + ("" if shared else " (goal 10)"))


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
    """Time a season against the general fitters, then the growth."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--repeats", type=int, default=5)
    against_general(parser.parse_args().repeats)
    growth()


if __name__ == "__main__":
    main()
