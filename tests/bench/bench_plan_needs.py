"""What a plan proposes to train, and in which step, held against simulated seasons whose truth is known.

Run from the top folder as ``python tests/bench/bench_plan_needs.py [--seasons 40] [--first 0]``. All seasons
have 18 players and 8 skills with the target .6; what is planted shifts whole skills on the logit scale:

planted     two skills in which most are below the target, six in which hardly anybody is
close       skills in which about a quarter of the players are below, which is where a need begins
nothing     all skills well above the target
ordinary    as the simulation has them, with about four in ten below
few tries   the planted ones, with 6 tries of each player in a skill, not 20

A skill is truly in need when at least a quarter of its players are truly below the target. ``proposed`` is
how many skills a season has proposed, ``wrong`` the part of them that is not truly in need: one in ten is
what the plan promises. ``silent`` is the part of the seasons in which nothing is proposed, ``found`` the part
of the planted skills that is proposed, ``named`` and ``amiss`` how many players a season has named for
proposed skills, and the part of them who are not truly below. ``below`` and ``short`` are how often the 90 %
intervals hold the true number below the target of those who can be judged, and the points that all with a try
are short of it.

Then the step choice, in the ordinary seasons with steps that differ more: the part of the tries that is truly
within 6 to 8 in 10 in the step that is chosen, in the truly easiest and hardest, in any, and in the best.
"""

import argparse
from dataclasses import dataclass, replace

import at_home  # noqa: F401
import numpy as np
from season_law import share
from season_world import DEFAULT
from simulated_season import PRESSED, SimulatedSeason, World, catalogue, cells, roster, simulate
from team_truth import can_be_judged

from evaltrack.analysis.planning.needs import Lately, SkillNeed, needs_of, proposed
from evaltrack.analysis.planning.step_choice import Asker, best, forecasts
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.standings import positions_of, standings_of
from evaltrack.rink.plan import BAND

Array = np.ndarray
TARGET, PART, PLANTED = 0.6, 0.25, 2
NOBODY_TOLD = Lately({}, 0, 0)


@dataclass(frozen=True)
class Kind:
    """Seasons of one kind: the world, and what skills are shifted by: mean and SD, or planted and others."""

    world: World = DEFAULT
    shift: tuple[float, float] = (0.0, 0.0)
    planted: bool = False


KINDS = {
    "planted": Kind(shift=(-1.3, 2.0), planted=True),
    "close": Kind(shift=(0.6, 0.4)),
    "nothing": Kind(World(sd_player=0.4, sd_slope=0.2), (1.9, 0.0)),
    "ordinary": Kind(),
    "few tries": Kind(World(tries=6), (-1.3, 2.0), planted=True),
}


def season_of(kind: Kind, seed: int) -> SimulatedSeason:
    """Return a season of a kind; of planted ones the first skills are the weak ones."""
    rng = np.random.default_rng(seed)
    season = simulate(rng, kind.world)
    skills = kind.world.skills
    if kind.planted:
        shift = np.where(np.arange(skills) < PLANTED, *kind.shift)
    else:
        shift = rng.normal(*kind.shift, skills)
    law = replace(season.law, course=season.law.course + shift[:, None])
    chance = law.chance(
        season.player, season.skill, season.practice, season.step, season.pressure, season.observer
    )
    return replace(season, law=law, done=rng.random(len(chance)) < chance)


def judged(kind: Kind, seed: int) -> dict[str, Array]:
    """Return what became of one season, as numbers to be added up."""
    season, players, skills = season_of(kind, seed), roster(kind.world), catalogue(kind.world)
    frame = cells(season, players)
    fits = fit_season(frame, positions_of(players))
    standings = standings_of(frame, players, skills, fit=lambda *_: fits)
    needs = needs_of(players, skills, fits, standings, NOBODY_TOLD)
    chosen = [one.need for one in proposed(needs)]
    weak = season.truth_now < TARGET
    in_need = weak.mean(0) >= PART
    at = [int(need.skill[1:]) for need in chosen]
    named = [weak[int(number) - 1, s] for need, s in zip(chosen, at, strict=True) for number in need.named]
    return {
        "proposed": np.array([len(chosen)]),
        "wrong": np.array([int((~in_need[at]).sum()), len(chosen)]),
        "silent": np.array([not chosen, 1]),
        "found": np.array([sum(s < PLANTED for s in at), PLANTED]),
        "named": np.array([len(named)]),
        "amiss": np.array([len(named) - sum(named), len(named)]),
        **_held(needs, season),
    }


def _held(needs: list[SkillNeed], season: SimulatedSeason) -> dict[str, Array]:
    truth = season.truth_now
    below = ((truth < TARGET) & can_be_judged(season)).sum(0)
    short = 100 * np.maximum(TARGET - truth, 0).mean(0)
    found = {}
    for name, true in (("below", below), ("short", short)):
        known = [one for one in needs if name != "below" or one.need.judged]
        told = [(getattr(one.need, name), true[int(one.need.skill[1:])]) for one in known]
        found[name] = np.array([sum(likely.low <= value <= likely.high for likely, value in told), len(told)])
    return found


def judge(seeds: range) -> None:
    """Print what is proposed in every kind of season."""
    columns = ("proposed", "wrong", "silent", "found", "named", "amiss", "below", "short")
    print(f"{len(seeds)} seasons of each kind")
    print(f"{'':10}" + "".join(f"{name:>10}" for name in columns))
    for name, kind in KINDS.items():
        rows = [judged(kind, seed) for seed in seeds]
        told = {column: sum(row[column] for row in rows) for column in columns}
        cells_told = [_told(told[c], len(rows)) if c != "found" or kind.planted else "" for c in columns]
        print(f"{name:10}" + "".join(f"{text:>10}" for text in cells_told))


def _told(counts: Array, seasons: int) -> str:
    if len(counts) == 1:
        return f"{counts[0] / seasons:.1f}"
    return f"{counts[0] / counts[1]:.3f}" if counts[1] else "-"


STEPPED = World(sd_step=0.9)


def true_shares(season: SimulatedSeason) -> Array:
    """Return each player's true share in each skill and step on the last day, (p, s, steps)."""
    law = season.law
    logit = law.course[:, :, -1, None, None, None] + law.step.T[None, :, :, None, None]
    logit = logit + law.observer[:, :, -1].T[None, :, None, :, None] + law.pressure * np.arange(2)
    return share(logit) @ np.array([1 - PRESSED, PRESSED]) @ np.full(len(law.observer), 1 / len(law.observer))


def steps(seeds: range) -> None:
    """Print which part of the tries is within the band by which choice of the step."""
    ways = ("chosen", "easiest", "hardest", "any", "best")
    within = {way: [] for way in ways}
    for seed in seeds:
        season, players = simulate(np.random.default_rng(seed), STEPPED), roster(STEPPED)
        fits = fit_season(cells(season, players), positions_of(players))
        shares = true_shares(season)
        fit_in = ((shares >= BAND[0]) & (shares <= BAND[1])).mean(0)
        for key, fit in fits.items():
            s, rows = int(key[1:]), [*range(len(fit.players))]
            asker = Asker(key, fit, rows, np.ones(len(rows)))
            found = best(forecasts(asker, [("drill", f"step {d}") for d in range(STEPPED.steps)]))
            effect = season.law.step[:, s]
            picked = (
                int(found.step.split()[1]),
                effect.argmax(),
                effect.argmin(),
                slice(None),
                fit_in[s].argmax(),
            )
            for way, at in zip(ways, picked, strict=True):
                within[way].append(fit_in[s, at].mean())
    print("\npart of the tries within 6 to 8 in 10")
    print("  ".join(f"{way} {np.mean(parts):.3f}" for way, parts in within.items()))
    for way in ("easiest", "hardest", "any"):
        more = np.array(within["chosen"]) - np.array(within[way])
        more = more.reshape(len(seeds), -1).mean(1)
        print(f"chosen has {more.mean():.3f} ± {more.std(ddof=1) / np.sqrt(len(more)):.3f} more than {way}")


def main() -> None:
    """Judge the needs, then the steps."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=40)
    parser.add_argument("--first", type=int, default=0, help="seed of the first season")
    known = parser.parse_args()
    seeds = range(known.first, known.first + known.seasons)
    judge(seeds)
    steps(seeds)


if __name__ == "__main__":
    main()
