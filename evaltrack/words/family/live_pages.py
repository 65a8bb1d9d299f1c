"""What families' pages are drafted from, as of several days, for whoever asks again as a season goes on."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import NamedTuple
from uuid import UUID

from evaltrack.analysis.standings.standing import Standing
from evaltrack.rink.ident import new_id
from evaltrack.words.family.ground import Ground


class DayGround(NamedTuple):
    """What all pages as of one day are drafted from. ``edition`` is another one when any of it is."""

    edition: UUID
    ground: Ground
    standings: list[Standing]


@dataclass
class _Kept:
    facts: tuple
    found: DayGround


class LivePages:
    """Works out what pages are drafted from, and keeps it for one season file at a time."""

    def __init__(self):
        self._path: Path | None = None
        self._kept: dict[date, _Kept] = {}

    def read(
        self, path: Path, days: Collection[date], known: Mapping[date, UUID]
    ) -> tuple[date | None, dict[date, DayGround | None]]:
        """Return the day of the last practice, and the ground of that day and of each of these.

        Parameters
        ----------
        known : the editions that the asker has; where one is still in force None stands in its place.
        """
        from evaltrack.store.opening import open_season
        from evaltrack.words.family.presence import read_attended

        if path != self._path:
            self._path, self._kept = path, {}
        with open_season(path) as season:
            held = list(read_attended(season))
            if not held:
                return None, {}
            wanted = {day for day in days if day >= held[0]} | {held[-1]}
            found = {day: self._of(season, day) for day in sorted(wanted)}
        return held[-1], {day: None if known.get(day) == one.edition else one for day, one in found.items()}

    def _of(self, season, day: date) -> DayGround:
        from evaltrack.analysis.standings.standings import read_standings
        from evaltrack.words.family.drafting import read_ground

        ground = read_ground(season, day)
        facts = (season.log.cells(day), season.people.everyone(), ground)
        if day not in self._kept or self._kept[day].facts != facts:
            # never from where another fit came to rest: the same tallies must give the same page
            self._kept[day] = _Kept(facts, DayGround(new_id(), ground, read_standings(season, day)))
        return self._kept[day].found


_live = LivePages()


def read_live_pages(path: Path, days: Collection[date], known: Mapping[date, UUID]):
    """Return what ``LivePages.read`` of this process does."""
    return _live.read(path, days, known)
