"""All that is known of a season when its next practice is planned."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import pandas as pd

from evaltrack.analysis.planning.needs import Lately
from evaltrack.analysis.planning.pace import paces
from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import SkillFit, fit_season
from evaltrack.analysis.standings.coverage import coverage_by
from evaltrack.analysis.standings.standing import Coverage, Standing
from evaltrack.analysis.standings.standings import positions_of, standings_of
from evaltrack.rink.drill import Drill
from evaltrack.rink.plan import Pace
from evaltrack.rink.player import Player, by_number
from evaltrack.rink.practice import Practice, Rep, Surface
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Tally
from evaltrack.store.season_file import SeasonFile

LATELY = 4  # practices


@dataclass(frozen=True)
class KnownSeason:
    """Roster, catalogue and facts of a season, and what is estimated from them.

    ``everyone`` has players who have left too; ``practices`` are those that count, in order of date.
    """

    everyone: Sequence[Player]
    roster: Sequence[Player]
    skills: Sequence[Skill]
    drills: Sequence[Drill]
    cells: pd.DataFrame
    tallies: Sequence[Tally]
    reps: Sequence[Rep]
    practices: Sequence[Practice]

    @cached_property
    def fits(self) -> dict[str, SkillFit]:
        """The fit of each skill that has a try."""
        if self.cells.empty:
            return {}
        return fit_season(self.cells, positions_of(sorted(self.everyone, key=by_number)))

    @cached_property
    def standings(self) -> list[Standing]:
        """What can be said of each player in each skill."""
        return standings_of(self.cells, self.everyone, self.skills, fit=lambda *_: self.fits)

    @cached_property
    def coverage(self) -> list[Coverage]:
        """Who was watched how much."""
        if self.cells.empty:
            return coverage_by(self.cells, {}, [], self.everyone, self.skills)
        return coverage_by(self.cells, self.fits, self.standings, self.everyone, self.skills)

    @cached_property
    def paces(self) -> Mapping[tuple[str, str], Pace]:
        """How fast each step goes."""
        return paces(self.reps, self.tallies, self.drills)

    @cached_property
    def lately(self) -> Lately:
        """What the last practices with tallies went for."""
        tallied = {tally.practice for tally in self.tallies}
        keys = [one.key for one in self.practices if one.key in tallied][-LATELY:]
        counts = Counter(tally.skill for tally in self.tallies if tally.practice in keys)
        return Lately(counts, counts.total(), len(keys))

    def part_on(self, surface: Surface) -> float | None:
        """Return which part of the tallies was on this surface; None without a tally."""
        on = {one.key for one in self.practices if one.surface is surface}
        if not self.tallies:
            return None
        return sum(tally.practice in on for tally in self.tallies) / len(self.tallies)


def read_known(season: SeasonFile) -> KnownSeason:
    """Return what is known of a season file."""
    practices = season.practices.all()
    return KnownSeason(
        everyone=season.people.everyone(),
        roster=sorted(season.people.players(), key=by_number),
        skills=season.catalogue.skills(),
        drills=season.catalogue.drills(),
        cells=cells_frame(season.log.cells()),
        tallies=season.log.tallies(),
        reps=[rep for one in practices for rep in season.reps.all(one.key)],
        practices=practices,
    )
