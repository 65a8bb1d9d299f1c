"""Tallies that were typed in or come from elsewhere: tallies.csv turned into practices and tallies."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from functools import cache
from pathlib import Path
from uuid import UUID

from evaltrack.intake import tally_columns as column
from evaltrack.intake.table import read_rows
from evaltrack.intake.text import Complaints
from evaltrack.language import tr
from evaltrack.rink.drill import Drill
from evaltrack.rink.ident import id_from
from evaltrack.rink.player import Player
from evaltrack.rink.practice import Practice
from evaltrack.rink.roster_change import NumbersWorn, RosterChange
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.rink.tally_choice import LOADED

REQUIRED = ("date", "drill", "step", "skill", "player", "outcome")
OPTIONAL = ("pressure", "observer", "time", "times")

MOST_TRIES = 100_000  # many seasons' worth
_DAY_MS = 86_400_000
_EPOCH = date(1970, 1, 1).toordinal()
_NOON = time(12)


@dataclass(frozen=True)
class LoadedTallies:
    """What a tallies.csv holds: its practices by date, its tallies in the order of the file.

    ``passed`` is how many lines have a column for their count and no count in it.
    """

    practices: list[Practice]
    tallies: list[Tally]
    passed: int = 0


def read_tallies(
    path: str | Path,
    players: Iterable[Player],
    skills: Iterable[Skill],
    drills: Iterable[Drill],
    changes: Sequence[RosterChange] = (),
) -> LoadedTallies:
    """Return the tallies of a tallies.csv and their practices, one for each date.

    A tally's id follows from what its line says, not from where the line stands: a file that is loaded
    twice, sorted again or grown adds only what is new. Lines that are all alike count as often as they
    stand in the file. A line with a number in ``times`` stands for as many lines alike, so that a number
    that grows adds the difference; where there is such a column, a line with nothing or 0 in it is passed
    over. A time is the clock on the wall of the rink, read in this computer's time zone; without one the
    tally has noon in UTC.

    Parameters
    ----------
    players : everyone in the season, also who has left.
    changes : of the roster. A number means the player who wore it on the day of its line.

    Raises
    ------
    IntakeError : every fault of the file, each with its line.
    """
    complaints = Complaints(path)
    lines = _Lines(NumbersWorn(players, changes), skills, drills)
    for line, row in read_rows(path, REQUIRED, OPTIONAL, complaints):
        for fault in lines.take(row):
            complaints.add(line, fault)
        if len(lines.tallies) > MOST_TRIES:
            raise complaints.refuse(
                line,
                tr("the file has more than {number} tries up to here; divide it", number=MOST_TRIES),
            )
    if not lines.count:
        complaints.add(0, tr("there is no tally in it; add one line for each"))
    elif lines.passed == lines.count:
        complaints.add(0, tr("no line has a count; write in `times` how often it was seen"))
    complaints.raise_any()
    return LoadedTallies(lines.practices(), lines.tallies, lines.passed)


def wall_clock_ms(day: date, at: time | None) -> int:
    """Return the moment in milliseconds since 1970 in UTC at which the rink's clock showed this time."""
    if at is None:
        return _as_written_ms(day, _NOON)
    return int(datetime.combine(day, at).timestamp()) * 1000


def _as_written_ms(day: date, at: time) -> int:
    """Return a moment for the id that is the same in every time zone: the clock is taken for UTC."""
    return (day.toordinal() - _EPOCH) * _DAY_MS + ((at.hour * 60 + at.minute) * 60 + at.second) * 1000


class _Lines:
    """Takes line after line, and remembers what was seen."""

    def __init__(self, worn: NumbersWorn, skills: Iterable[Skill], drills: Iterable[Drill]):
        versions = {skill.key: skill.version for skill in skills}
        steps = {drill.key: [step.key for step in drill.steps] for drill in drills}
        self.count = self.passed = 0
        self.tallies: list[Tally] = []
        self._seen: dict[str, int] = {}
        self._held: dict[str, Practice] = {}
        # of each column, what its values mean: in a file the same few stand in every line
        self._practices, self._clocks = cache(column.practice_of), cache(column.time_of)
        self._outcomes, self._pressures = cache(column.outcome_of), cache(column.pressure_of)
        self._observers, self._times = cache(column.observer_of), cache(column.times_of)
        numbers = cache(worn.wearers)
        self._players = cache(lambda raw, day: column.player_of(raw, numbers(day)))
        self._skills = cache(lambda raw: column.skill_of(raw, versions))
        self._steps = cache(lambda drill, step: column.step_of(drill, step, steps))

    def practices(self) -> list[Practice]:
        """Return the practices that have a tally, by date."""
        return sorted(self._held.values(), key=lambda practice: practice.held_on)

    def take(self, row: dict[str, str]) -> list[str]:
        """Add the tallies of this line, or return what is wrong with it."""
        self.count += 1
        practice = self._practices(row["date"])
        # of a day that cannot be read: whoever wears the number now
        day = date.max if type(practice) is column.Fault else practice.held_on
        values = (
            practice,
            self._steps(row["drill"], row["step"]),
            self._skills(row["skill"]),
            self._players(row["player"], day),
            self._outcomes(row["outcome"]),
            self._pressures(row.get("pressure", "")),
            self._observers(row.get("observer", "")),
            self._clocks(row.get("time", "")),
        )
        times = self._times(row.get("times", "1"))
        faults = [value for value in (*values, times) if type(value) is column.Fault]
        if faults:
            return faults
        if times:
            self._held[values[0].key] = values[0]
            self.tallies += [self._tally(*values) for _ in range(times)]
        else:
            self.passed += 1
        return []

    def _tally(
        self,
        practice: Practice,
        place: tuple[str, str],
        skill: tuple[str, int],
        player: UUID,
        outcome: Outcome,
        pressure: bool | None,
        observer: str,
        at: time | None,
    ) -> Tally:
        (drill, step), (key, version) = place, skill
        said = "\x1f".join(
            (practice.key, drill, step, key, player.hex, outcome, str(pressure), observer, str(at))
        )
        again = self._seen[said] = self._seen.get(said, -1) + 1
        return Tally(
            practice=practice.key,
            player=player,
            skill=key,
            outcome=outcome,
            drill=drill,
            step=step,
            observer=observer,
            pressure=pressure,
            skill_version=version,
            tablet=LOADED,
            at=wall_clock_ms(practice.held_on, at),
            id=id_from(_as_written_ms(practice.held_on, at or _NOON), said, again),
        )
