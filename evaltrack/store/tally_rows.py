"""Tallies and cells from their rows. There may be very many, so each different value is looked at once."""

import sqlite3
from uuid import UUID

from evaltrack.language import tr
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store import sound
from evaltrack.store.known import known_players, known_skills, known_steps

TALLY_COLUMNS = (
    "id, practice, player, skill, skill_version, outcome, pressure, drill, step, observer, rep, slot, tablet,"
    " at"
)
NOT_WITHDRAWN = "NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.tally = t.id)"
_PRESSURE = {None: None, 0: False, 1: True}
_OBSERVER, _OPPONENT = 7, 8  # columns of a cell


class TallyRows:
    """Makes tallies of their rows."""

    def __init__(self, connection: sqlite3.Connection):
        players, skills, steps = (known(connection) for known in (known_players, known_skills, known_steps))
        self._outcomes = {outcome.value: outcome for outcome in Outcome}
        self._players = sound.Read(lambda raw: sound.of(players, raw, "a tally"))
        self._skills = sound.Read(lambda pair: _skill(*pair, skills))
        self._steps = sound.Read(lambda pair: sound.among(steps, pair, "a tally"))
        self._pressure = sound.Read(lambda raw: sound.of(_PRESSURE, raw, "the pressure of a tally"))
        self._observers = sound.Read(sound.observer)
        self._tablets = sound.Read(sound.tablet)
        self._practices = sound.Read(lambda raw: sound.key(raw, "the practice of a tally"))
        self._slots = sound.Read(lambda raw: sound.maybe(sound.key, raw, "the slot of a tally"))
        self._reps = sound.Read(lambda raw: sound.maybe(sound.ident, raw, "the rep of a tally"))

    def tally(self, row: tuple) -> Tally:
        """Return the tally of a row, in the columns of the log."""
        ident, practice, player, skill, version, outcome, pressure, drill, step, observer = row[:10]
        rep, slot, tablet, at = row[10:]
        if outcome not in self._outcomes:
            raise sound.unlike("the outcome of a tally")
        key, version = self._skills[skill, version]
        drill, step = self._steps[drill, step]
        return Tally(
            practice=self._practices[practice],
            player=self._players[player],
            skill=key,
            outcome=self._outcomes[outcome],
            drill=drill,
            step=step,
            observer=self._observers[observer],
            pressure=self._pressure[pressure],
            skill_version=version,
            rep=self._reps[rep],
            tablet=self._tablets[tablet],
            at=sound.moment(at, "the moment of a tally"),
            id=sound.ident(ident, "the id of a tally"),
            slot=self._slots[slot],
        )


def _skill(key: object, version: object, skills: dict[str, int]) -> tuple[str, int]:
    newest = sound.of(skills, key, "a tally")
    return key, sound.whole(version, "the definition of a tally", 1, newest)


def sound_cells(rows: list[tuple], connection: sqlite3.Connection) -> list[tuple]:
    """Return the cells, all of which must be as we write them; what hides in a name is replaced."""
    if not rows:
        return []
    players, skills, practices, days, drills, steps, pressures, observers, opponents, tries, _ = zip(
        *rows, strict=True
    )
    known: dict[bytes, UUID] = known_players(connection)
    steps_known, skills_known = known_steps(connection), known_skills(connection)
    for player in set(players):
        sound.among(known, player, "a tally")
    for opponent in set(opponents) - {None}:
        sound.among(known, opponent, "a slot of a rep")
    for skill in set(skills):
        sound.among(skills_known, skill, "a tally")
    for step in set(zip(drills, steps, strict=True)):
        sound.among(steps_known, step, "a tally")
    for practice, day in set(zip(practices, days, strict=True)):
        sound.key(practice, "the key of a practice")
        sound.day(day, "the day of a practice")
    for pressure in set(pressures):
        sound.among(_PRESSURE, pressure, "the pressure of a tally")
    if min(tries) < 1:  # as `Log.cells` tells of outcomes that are none
        raise sound.unlike("a count of tries")
    names = {name: sound.observer(name) for name in set(observers)}
    if all(name == shown for name, shown in names.items()):
        return rows
    return [(*row[:_OBSERVER], names[row[_OBSERVER]], *row[_OBSERVER + 1 :]) for row in rows]


def told_apart(rows: list[tuple]) -> list[tuple]:
    """Take what was tried against a known opponent out of the cells of all tries, which have none.

    Where all tries of a cell are against known opponents, nothing of it is left.
    """
    met = [row for row in rows if row[_OPPONENT] is not None]
    if not met:
        return rows
    taken: dict[tuple, list[int]] = {}
    for row in met:
        of_cell = taken.setdefault(row[:_OPPONENT], [0, 0])
        of_cell[0] += row[-2]
        of_cell[1] += row[-1]
    rest = [_without(row, *taken.pop(row[:_OPPONENT], (0, 0))) for row in rows if row[_OPPONENT] is None]
    if taken or any(not 0 <= row[-1] <= row[-2] for row in rest):
        raise sound.damaged(tr("tries against an opponent are not among the tries"))
    return [row for row in rest if row[-2]] + met


def _without(row: tuple, tries: int, done: int) -> tuple:
    return (*row[:-2], row[-2] - tries, row[-1] - done) if tries else row
