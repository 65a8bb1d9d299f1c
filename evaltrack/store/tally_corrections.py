"""Corrections of tallies in the season file: what was put right, and which of it is in force."""

import sqlite3
from collections import Counter, defaultdict
from collections.abc import Iterable
from uuid import UUID

from evaltrack.rink.ident import now_ms
from evaltrack.rink.tally import Outcome
from evaltrack.rink.tally_correction import Change, TallyCorrection, Value
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction
from evaltrack.store.known import known_players, known_skills, known_steps
from evaltrack.store.room import refuse_overfull

_PRESSURE = {None: "", False: "no", True: "yes"}
_INSERT = "INSERT INTO tally_correction VALUES (?, ?, ?, ?, ?, ?)"
_LAST_WORD = (
    "coalesce((SELECT f.in_force FROM correction_force f WHERE f.correction = c.nth AND f.made_on = c.tablet"
    " ORDER BY f.nth DESC, f.tablet DESC LIMIT 1), 1)"
)
# in this order each correction takes effect: a later one has a higher number, on whichever tablet
_SELECT = (
    f"SELECT c.nth, c.tablet, c.practice, c.change, c.becomes, c.at, {_LAST_WORD} FROM tally_correction c"
)


class TallyCorrections:
    """Every correction of tallies. They only grow; the log reads tallies as those in force leave them."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def add(self, correction: TallyCorrection) -> int:
        """Put tallies right, and return the number of the correction; NotSavedError when not on disk."""
        one, change = correction, correction.change
        row = (one.tablet, one.practice, change, _text(change, one.becomes), one.at)
        with transaction(self._connection):
            nth = self._next(one)
            self._connection.execute(_INSERT, (nth, *row))
            self._connection.executemany(
                "INSERT INTO corrected_tally VALUES (?, ?, ?, ?)",
                [(tally.bytes, nth, one.tablet, _text(change, value)) for tally, value in one.was.items()],
            )
            made = self._connection
            refuse_overfull(made, "tally_correction", sound.MOST_CORRECTIONS, "corrections of tallies")
            refuse_overfull(made, "corrected_tally", sound.MOST_CORRECTED, "corrected tallies")
        return nth

    def put_in_force(
        self, correction: TallyCorrection, in_force: bool, tablet: str = "", at: int | None = None
    ) -> None:
        """Take a correction back, or let it count again; NotSavedError when that is not on disk."""
        moment = now_ms() if at is None else at
        which = (correction.nth, correction.tablet)
        with transaction(self._connection):
            same = "correction = ? AND made_on = ?", which
            nth = next_number(self._connection, "correction_force", moment, *same)
            row = (nth, tablet, *which, int(in_force), moment)
            self._connection.execute("INSERT INTO correction_force VALUES (?, ?, ?, ?, ?, ?)", row)

    def _next(self, correction: TallyCorrection) -> int:
        """Return the number of a correction: higher than that of every one of the same tallies."""
        last = "SELECT max(nth) FROM corrected_tally WHERE tally = ?"
        found = (self._connection.execute(last, (tally.bytes,)).fetchone() for tally in correction.was)
        known = max((nth or 0 for (nth,) in found), default=0)
        return next_number(self._connection, "tally_correction", correction.at, "nth = ?", (known,))

    @reading()
    def all(self, practice: str | None = None) -> list[TallyCorrection]:
        """Return the corrections that were made in a practice, or in all, as they came."""
        rows = self._connection.execute(
            f"{_SELECT} WHERE ?1 IS NULL OR c.practice = ?1 ORDER BY c.nth, c.tablet", (practice,)
        )
        rows = sound.no_more_than(sound.MOST_CORRECTIONS, rows, "corrections of tallies")
        return self._read(rows) if rows else []

    def set_aside(self, ids: Iterable[UUID]) -> dict[str, int]:
        """Return how many of these tallies were set aside one by one, by the practice that lists it."""
        last = {}
        for one in self.all():
            if one.change is Change.ASIDE and one.in_force:
                last |= {ident: one for ident in one.was}
        found = (last[ident] for ident in ids if ident in last)
        return dict(Counter(one.practice for one in found if one.becomes))

    def _read(self, rows: list[tuple]) -> list[TallyCorrection]:
        values, tallies = _Values(self._connection), self._tallies()
        found = []
        for nth, tablet, practice, change, becomes, at, in_force in rows:
            change = sound.word(Change, change, "a correction of tallies")
            was = {ident: values.of(change, text) for ident, text in tallies[nth, tablet]}
            correction = TallyCorrection(
                sound.key(practice, "the practice of a correction"),
                change,
                values.of(change, becomes),
                was,
                sound.tablet(tablet),
                sound.moment(at, "the moment of a correction"),
                sound.moment(nth, "the number of a correction"),
                sound.flag(in_force, "the mark of a correction in force"),
            )
            found.append(correction)
        return found

    def _tallies(self) -> dict[tuple, list[tuple[UUID, object]]]:
        rows = self._connection.execute("SELECT nth, tablet, tally, was FROM corrected_tally ORDER BY tally")
        found = defaultdict(list)
        for nth, tablet, raw, was in sound.no_more_than(sound.MOST_CORRECTED, rows, "corrected tallies"):
            found[nth, tablet].append((sound.ident(raw, "a corrected tally"), was))
        return found


def _text(change: Change, value: Value) -> str:
    """Return a value as the file has it."""
    if change is Change.PLAYER:
        return value.hex
    if change in (Change.SKILL, Change.STEP):
        return " ".join(map(str, value))
    if change in (Change.PRESSURE, Change.ASIDE):
        return _PRESSURE[value]
    return str(value)


class _Values:
    """Makes values of their texts; each names something that the file knows."""

    def __init__(self, connection: sqlite3.Connection):
        self._players, self._skills = known_players(connection), known_skills(connection)
        self._steps = known_steps(connection)
        self._practices = {key for (key,) in connection.execute("SELECT key FROM practice")}
        self._known = sound.Read(lambda pair: self._value(*pair))

    def of(self, change: Change, text: object) -> Value:
        return self._known[change, text]

    def _value(self, change: Change, text: object) -> Value:
        what = "a value in a correction"
        if type(text) is not str:
            raise sound.unlike(what)
        if change in (Change.PRESSURE, Change.ASIDE):
            return sound.of({word: value for value, word in _PRESSURE.items()}, text, what)
        if change is Change.OUTCOME:
            return sound.word(Outcome, text, what)
        if change is Change.PRACTICE:
            return sound.among(self._practices, text, what)
        if change is Change.STEP:
            return sound.among(self._steps, tuple(sound.keys(text, what)), what)
        return self._player(text, what) if change is Change.PLAYER else self._skill(text, what)

    def _player(self, text: str, what: str) -> UUID:
        try:
            raw = bytes.fromhex(text)
        except ValueError:
            raise sound.unlike(what) from None
        return sound.of(self._players, raw, what)

    def _skill(self, text: str, what: str) -> tuple[str, int]:
        key, _, version = text.partition(" ")
        newest = sound.of(self._skills, key, what)
        if not (version.isascii() and version.isdigit() and len(version) < 9):
            raise sound.unlike(what)
        return key, sound.whole(int(version), what, 1, newest)
