"""What was counted of each player in each skill, day by day."""

from collections.abc import Hashable
from dataclasses import dataclass
from datetime import date

import numpy as np
import pandas as pd

from evaltrack.analysis.standings.standing import Seen, missing


@dataclass(frozen=True)
class Tried:
    """What was counted of one player in one skill."""

    tries: int
    done: int
    practices: int
    seen: tuple[Seen, ...]

    @property
    def enough(self) -> bool:
        """Whether there are tries enough for a call, at practices enough."""
        return not any(missing(self.tries, self.practices))


def counted(cells: pd.DataFrame) -> dict[tuple[Hashable, Hashable], Tried]:
    """Return the counts of every player and skill with at least one try, by player id and skill key."""
    by_day = cells.groupby(["player", "skill", "held_on"])[["tries", "done"]].sum()
    practices = cells.drop_duplicates(["player", "skill", "practice"]).groupby(["player", "skill"]).size()
    seen: dict[tuple[Hashable, Hashable], list[Seen]] = {}
    for (player, skill, day), tries, done in zip(by_day.index, *by_day.to_numpy().T.tolist(), strict=True):
        seen.setdefault((player, skill), []).append(Seen(day.date(), tries, done))
    return {
        pair: Tried(sum(s.tries for s in days), sum(s.done for s in days), int(practices[pair]), tuple(days))
        for pair, days in seen.items()
    }


def own_time(cells: pd.DataFrame) -> dict[tuple[Hashable, Hashable], tuple[date, date]]:
    """Return the start and the end of each player's own time in each skill with at least one try.

    It starts on the later of the skill's first day and the player's first practice, and ends on the earlier
    of their last ones: nothing is said of days on which nobody looked, or on which the player was not there.
    """
    skill, player = (cells.groupby(of)["held_on"].agg(["min", "max"]) for of in ("skill", "player"))
    pairs = cells[["player", "skill"]].drop_duplicates()
    of_player, of_skill = player.loc[pairs["player"]], skill.loc[pairs["skill"]]
    starts = np.maximum(of_player["min"].to_numpy(), of_skill["min"].to_numpy())
    ends = np.minimum(of_player["max"].to_numpy(), of_skill["max"].to_numpy())
    days = zip(pd.DatetimeIndex(starts).date, pd.DatetimeIndex(ends).date, strict=True)
    return dict(zip(pairs.itertuples(index=False, name=None), days, strict=True))


def days_of(cells: pd.DataFrame) -> dict[Hashable, list[date]]:
    """Return the days on which each skill was watched, in order."""
    days = cells[["skill", "held_on"]].drop_duplicates().sort_values("held_on")
    return {skill: [day.date() for day in part] for skill, part in days.groupby("skill")["held_on"]}
