"""What was counted of each player in each skill, day by day."""

from collections.abc import Hashable
from dataclasses import dataclass
from datetime import date

import pandas as pd

from evaltrack.analysis.standings.standing import Seen


@dataclass(frozen=True)
class Tried:
    """What was counted of one player in one skill."""

    tries: int
    done: int
    practices: int
    seen: tuple[Seen, ...]


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


def days_of(cells: pd.DataFrame) -> dict[Hashable, list[date]]:
    """Return the days on which each skill was watched, in order."""
    days = cells[["skill", "held_on"]].drop_duplicates().sort_values("held_on")
    return {skill: [day.date() for day in part] for skill, part in days.groupby("skill")["held_on"]}
