"""Tallies that were typed in or come from elsewhere: tallies.csv turned into practices and tallies."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path
from uuid import UUID

from evaltrack.intake.roster import jersey_number, number_fault
from evaltrack.intake.table import read_rows
from evaltrack.intake.text import Complaints, folded, meant, shown, unprintable
from evaltrack.rink.drill import Drill
from evaltrack.rink.ident import id_from
from evaltrack.rink.player import Player
from evaltrack.rink.practice import Practice
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Outcome, Tally

REQUIRED = ("date", "drill", "step", "skill", "player", "outcome")
OPTIONAL = ("pressure", "observer", "time")
TABLET = "file"
LONGEST_OBSERVER = 40
_YEARS = range(2000, 2100)
_DAY_MS = 86_400_000
_EPOCH = date(1970, 1, 1).toordinal()
_NOON = time(12)
_PRESSURE = {"": None, "yes": True, "no": False}


@dataclass(frozen=True)
class LoadedTallies:
    """What a tallies.csv holds: its practices by date, its tallies in the order of the file."""

    practices: list[Practice]
    tallies: list[Tally]


class _Fault(str):
    """Why a value cannot be read."""


class _Reading(dict):
    """The values of one column, each different one read once: what it means, or a fault."""

    def __init__(self, read: Callable):
        super().__init__()
        self._read = read

    def __missing__(self, raw):
        value = self[raw] = self._read(raw)
        return value


def read_tallies(
    path: str | Path, players: Iterable[Player], skills: Iterable[Skill], drills: Iterable[Drill]
) -> LoadedTallies:
    """Return the tallies of a tallies.csv and their practices, one for each date.

    A tally's id follows from what its line says, not from where the line stands: a file that is loaded
    twice, sorted anew or grown adds only what is new. Lines that are wholly alike count as often as they
    stand in the file. A time is the clock on the wall of the rink, read in this computer's time zone;
    without one the tally has noon in UTC.

    Raises
    ------
    IntakeError : every fault of the file, each with its line.
    """
    complaints = Complaints(path)
    lines = _Lines(players, skills, drills)
    for line, row in read_rows(path, REQUIRED, OPTIONAL, complaints):
        for fault in lines.take(row):
            complaints.add(line, fault)
    if not lines.count:
        complaints.add(0, "there is no tally in it; add one line for each")
    complaints.raise_any()
    return LoadedTallies(lines.practices(), lines.tallies)


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

    def __init__(self, players: Iterable[Player], skills: Iterable[Skill], drills: Iterable[Drill]):
        numbers = {player.number: player.id for player in players}
        versions = {skill.key: skill.version for skill in skills}
        steps = {drill.key: [step.key for step in drill.steps] for drill in drills}
        self.count = 0
        self.tallies: list[Tally] = []
        self._seen: dict[str, int] = {}
        self._practices, self._times = _Reading(_practice), _Reading(_time)
        self._outcomes, self._pressures = _Reading(_outcome), _Reading(_pressure)
        self._observers = _Reading(_observer)
        self._players = _Reading(lambda raw: _player(raw, numbers))
        self._skills = _Reading(lambda raw: _skill(raw, versions))
        self._steps = _Reading(lambda raw: _step(*raw, steps))

    def practices(self) -> list[Practice]:
        """Return the practices by date."""
        return sorted(self._practices.values(), key=lambda practice: practice.held_on)

    def take(self, row: dict[str, str]) -> list[str]:
        """Add the tally of this line, or return what is wrong with it."""
        self.count += 1
        values = (
            self._practices[row["date"]],
            self._steps[row["drill"], row["step"]],
            self._skills[row["skill"]],
            self._players[row["player"]],
            self._outcomes[row["outcome"]],
            self._pressures[row.get("pressure", "")],
            self._observers[row.get("observer", "")],
            self._times[row.get("time", "")],
        )
        faults = [value for value in values if type(value) is _Fault]
        if not faults:
            self.tallies.append(self._tally(*values))
        return faults

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
            tablet=TABLET,
            at=wall_clock_ms(practice.held_on, at),
            id=id_from(_as_written_ms(practice.held_on, at or _NOON), said, again),
        )


def _practice(raw: str) -> Practice | _Fault:
    day = _day(raw)
    return day if isinstance(day, _Fault) else Practice(day.isoformat(), day)


def _day(raw: str) -> date | _Fault:
    if not raw:
        return _Fault("the date is missing; write it as 2025-09-04")
    if not re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", raw):
        return _Fault(f"{shown(raw)} is not a date; write year, month and day as 2025-09-04")
    try:
        day = date.fromisoformat(raw)
    except ValueError:
        return _Fault(f"there is no such day as {raw}; mend the date")
    return day if day.year in _YEARS else _Fault(f"{raw} is in no season; mend the year")


def _time(raw: str) -> time | _Fault | None:
    if not raw:
        return None
    clock = re.fullmatch("([0-9]{1,2}):([0-9]{2})(?::([0-9]{2}))?", raw)
    try:
        return time(*(int(part or 0) for part in clock.groups())) if clock else _no_time(raw)
    except ValueError:
        return _no_time(raw)


def _no_time(raw: str) -> _Fault:
    return _Fault(f"{shown(raw)} is not a time; write hours and minutes as 18:05, with seconds or without")


def _step(drill: str, step: str, steps: dict[str, list[str]]) -> tuple[str, str] | _Fault:
    if drill not in steps:
        return _unknown("drill", drill, steps)
    if step not in steps[drill]:
        return _unknown("step", step, steps[drill], f" in the drill `{drill}`")
    return drill, step


def _skill(raw: str, versions: dict[str, int]) -> tuple[str, int] | _Fault:
    return (raw, versions[raw]) if raw in versions else _unknown("skill", raw, versions)


def _player(raw: str, numbers: dict[str, UUID]) -> UUID | _Fault:
    number = jersey_number(raw)
    if number is None:
        return _Fault(number_fault(raw))
    return numbers[number] if number in numbers else _unknown("player", number, numbers, " on the roster")


def _unknown(kind: str, raw: str, known: Iterable[str], where: str = "") -> _Fault:
    if not raw:
        return _Fault(f"the {kind} is missing; write its key")
    return _Fault(f"there is no {kind} {shown(raw)}{where}{meant(raw, known)}")


def _outcome(raw: str) -> Outcome | _Fault:
    word = raw.casefold()
    if word in tuple(Outcome):
        return Outcome(word)
    what = f"{shown(raw)} is not an outcome" if raw else "the outcome is missing"
    return _Fault(f"{what}; write done, missed or unseen")


def _pressure(raw: str) -> bool | _Fault | None:
    word = raw.casefold()
    if word in _PRESSURE:
        return _PRESSURE[word]
    return _Fault(f"{shown(raw)} does not say whether there was pressure; write yes, no or nothing")


def _observer(raw: str) -> str | _Fault:
    name = folded(raw)
    if len(name) > LONGEST_OBSERVER:
        return _Fault(f"the observer has {len(name)} characters; at most {LONGEST_OBSERVER} fit")
    hidden = unprintable(name)
    return _Fault(f"the observer holds the invisible character {hidden}; type it again") if hidden else name
