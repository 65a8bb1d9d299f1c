"""The whole team by skill: how its share goes, what steps and pressure cost, how many are at a target."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

import numpy as np
import pandas as pd

from evaltrack.analysis.season import outlook
from evaltrack.analysis.season.cells import cells_frame, of_players
from evaltrack.analysis.season.season_model import SkillFit, fit_season
from evaltrack.analysis.season.skill_tries import skill_tries
from evaltrack.analysis.season.together import Together, together_of
from evaltrack.analysis.standings.below_target import OwnTimes, judged_in
from evaltrack.analysis.standings.calls import trend
from evaltrack.analysis.standings.costs import PRESSED, kinds_of_causes
from evaltrack.analysis.standings.counts import days_of, own_time
from evaltrack.analysis.standings.reasons import wide_of
from evaltrack.analysis.standings.standing import ENOUGH_PRACTICES, Cause, PathPoint, Seen
from evaltrack.analysis.standings.standings import doubts, positions_of
from evaltrack.analysis.standings.views import HIGH, LONGEST_PATH, LOW, bounds
from evaltrack.analysis.team.course import Cost, TeamCourse, reached_of
from evaltrack.rink.player import Player
from evaltrack.rink.targets import Goal, goal_of

Array = np.ndarray


def read_courses(
    season, as_of: date | None = None, skill: str | None = None
) -> tuple[list[TeamCourse], list[Goal]]:
    """Return what ``courses_of`` does, from a fit of all that was tallied up to a day."""
    cells = cells_frame(season.log.cells(as_of))
    players = season.people.everyone() or season.people.nobody()
    fits = fit_season(cells, positions_of(players)) if len(cells) else {}
    return courses_of(season, cells, fits, skill)


def courses_of(
    season, cells: pd.DataFrame, fits: Mapping[str, SkillFit], skill: str | None = None
) -> tuple[list[TeamCourse], list[Goal]]:
    """Return what can be said of the team in each skill, in the order of the catalogue, and their targets.

    How many players are at a target is told of the first and of today's, where that is another one.

    Parameters
    ----------
    season : an open season file.
    cells : its cells, and ``fits`` what was fitted to them, by skill.
    skill : the key of the only skill to tell of. The others still inform it.
    """
    changes, first = season.catalogue_changes.all(), cells.groupby("skill")["held_on"].min()
    skills = [one for one in season.catalogue.skills() if one.key in fits and skill in (None, one.key)]
    goals = {one.key: goal_of(one, changes, first[one.key].date()) for one in skills}
    targets = {key: tuple(dict.fromkeys((goal.first, goal.today))) for key, goal in goals.items()}
    found = team_courses(cells, fits, season.people.in_figures(), targets)
    return found, [goals[one.skill] for one in found]


def team_courses(
    cells: pd.DataFrame,
    fits: Mapping[str, SkillFit],
    team: Iterable[Player],
    targets: Mapping[str, Sequence[float]],
) -> list[TeamCourse]:
    """Return what can be said of the team in each skill, in the order of ``targets``.

    Parameters
    ----------
    cells : the season's cells, and ``fits`` what was fitted to them, by skill.
    team : who is in it now. Tries of others count towards the fit alone.
    targets : by skill, the targets of which it is asked how many players are at or above them.
    """
    mine = of_players(cells, [player.id.bytes for player in team])
    doubted, own, days = doubts(cells, fits) if len(cells) else {}, own_time(cells), days_of(cells)
    found = []
    for key in (key for key in targets if key in fits):
        part = mine[mine["skill"] == key]
        if len(part):
            counts = _counted(key, part)
            found.append(
                counts(doubt=doubted[key])
                if doubted[key]
                else counts(**_figures(fits[key], part, own, days[key], targets[key]))
            )
    return found


def _counted(skill: str, cells: pd.DataFrame):
    """Return what makes a TeamCourse of a skill's cells, given the rest."""
    by_day = cells.groupby("held_on")[["tries", "done"]].sum()
    seen = tuple(Seen(day.date(), int(tries), int(done)) for day, tries, done in by_day.itertuples())
    counts = {
        "players": int(cells["player"].nunique()),
        "tries": int(cells["tries"].sum()),
        "done": int(cells["done"].sum()),
        "practices": int(cells["practice"].nunique()),
    }
    return lambda **rest: TeamCourse(skill=skill, seen=seen, **counts, **rest)


def _figures(
    fit: SkillFit,
    cells: pd.DataFrame,
    own: OwnTimes,
    days: Sequence[date],
    targets: Sequence[float],
) -> dict:
    skill, place = cells["skill"].iloc[0], {ident: row for row, ident in enumerate(fit.players)}
    idents = sorted(set(cells["player"]))
    look, judged = together_of(fit, [place[ident] for ident in idents]), judged_in(cells, fit, own)
    starts, ends = (fit.axis.at(part) for part in zip(*(own[one, skill] for one in idents), strict=True))
    return {
        **_way(fit, look, days, starts, ends, int(cells["practice"].nunique())),
        "costs": tuple(_costs(fit, cells)),
        "reached": tuple(reached_of(judged.then(target), judged.now(target)) for target in targets),
    }


def _way(fit: SkillFit, look: Together, days: Sequence[date], starts, ends, practices: int) -> dict:
    """Return the path, and the change from its first day to its last."""
    kept = np.linspace(0, len(days) - 1, min(len(days), LONGEST_PATH)).round().astype(int)
    days = [days[at] for at in kept]
    times = np.clip(fit.axis.at(days), starts[:, None], ends[:, None])
    middle, gradient = look.mean(times)
    sd = np.sqrt(np.sum((gradient @ look.cov) * gradient, axis=-1))
    points = np.stack([outlook.expected_share(middle, sd), *bounds(middle, sd).values()], axis=-1).tolist()
    both = gradient[[-1, 0]]
    pair, cov = middle[[-1, 0]][None], (both @ look.cov @ both.T)[None]
    low, high = (float(outlook.change_quantile(pair, cov, level)[0]) for level in (LOW, HIGH))
    p_up = float(outlook.probability_up(pair, cov)[0])
    return {
        "path": tuple(PathPoint(day, *row) for day, row in zip(days, points, strict=True)),
        "change": points[-1][0] - points[0][0],
        "change_low": low,
        "change_high": high,
        "trend": trend(p_up, practices < ENOUGH_PRACTICES),
    }


def _costs(fit: SkillFit, cells: pd.DataFrame) -> Iterator[Cost]:
    """Give what each step and pressure cost in the mix of all groups: the last row of the costs."""
    pressed = cells["pressure"].map(dict(enumerate(PRESSED)))
    kinds = {Cause.STEP: cells["drill"] + "/" + cells["step"], Cause.PRESSURE: pressed}
    known = kinds_of_causes(skill_tries(fit))
    for cause, kind in kinds.items():
        counts, wide = cells.groupby(kind)[["tries", "done"]].sum(), wide_of(fit, cause)
        costs = zip(known[cause].names, known[cause].costs[-1], known[cause].sds[-1], strict=True)
        for name, cost, sd in costs:
            if name in counts.index and _is_told(cause, name, len(counts)):
                tries, done = map(int, counts.loc[name])
                figures = map(float, (cost, cost - wide * sd, cost + wide * sd))
                yield Cost(cause, name, tries, done, int(counts["tries"].sum()) - tries, *figures)


def _is_told(cause: Cause, name: str, kinds: int) -> bool:
    """Say whether a kind's cost is told: that of any step, that of pressure where some were without it."""
    return cause is Cause.STEP or (name == PRESSED[1] and kinds > 1)
