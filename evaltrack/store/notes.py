"""Families' pages in the season file: what was done to each. It only grows; the last word holds."""

import re
import sqlite3
from collections.abc import Callable, Iterable
from typing import NamedTuple

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.ident import now_ms
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey, NoteLife, lives_of
from evaltrack.rink.plain_text import one_line, without_empty
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction
from evaltrack.store.known import known_players
from evaltrack.store.room import refuse_overfull

_INSERT = "INSERT INTO note_fact VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
_SAME = "player = ? AND as_of = ? AND field = ? AND about = ?"
_FORCE = "INSERT INTO note_force VALUES (?, ?, ?, ?, ?, ?)"
_LAST_WORD = (
    "coalesce((SELECT o.in_force FROM note_force o WHERE o.fact = f.nth AND o.made_on = f.tablet"
    " ORDER BY o.nth DESC, o.tablet DESC LIMIT 1), 1)"
)
_SELECT = (
    f"SELECT f.nth, f.tablet, f.player, f.as_of, f.field, f.about, f.value, f.at, {_LAST_WORD}"
    " FROM note_fact f ORDER BY f.nth, f.tablet"
)
_MARK = re.compile("[0-9a-f]{16} [0-9a-f]{16}")


class Notes:
    """What was done to the families' pages."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def add(self, facts: Iterable[NoteFact], tablet: str = "", at: int | None = None) -> None:
        """Note what is done to pages, all of it or nothing.

        Raises
        ------
        EvaltrackError
            A text is too long.
        NotSavedError
            It is not on disk.
        """
        moment = now_ms() if at is None else at
        rows = [_row(one, tablet, moment) for one in facts]
        with transaction(self._connection):
            for row in rows:  # each takes the number after the one before
                nth = next_number(self._connection, "note_fact", moment, _SAME, row[1:5])
                self._connection.execute(_INSERT, (nth, *row))
            refuse_overfull(
                self._connection, "note_fact", sound.MOST_NOTE_FACTS, "changes of families' pages"
            )

    def put_in_force(self, fact: NoteFact, in_force: bool, tablet: str = "", at: int | None = None) -> None:
        """Take back what was done to a page, or let it hold again; NotSavedError when not on disk."""
        moment, about = now_ms() if at is None else at, (fact.nth, fact.tablet)
        with transaction(self._connection):
            nth = next_number(self._connection, "note_force", moment, "fact = ? AND made_on = ?", about)
            self._connection.execute(_FORCE, (nth, tablet, *about, int(in_force), moment))

    @reading()
    def all(self) -> dict[NoteKey, NoteLife]:
        """Return every page with what was done to it."""
        rows = self._connection.execute(_SELECT)
        rows = sound.no_more_than(sound.MOST_NOTE_FACTS, rows, "changes of families' pages")
        players = known_players(self._connection) if rows else {}
        return lives_of([_fact(row, players) for row in rows])


def _row(one: NoteFact, tablet: str, at: int) -> tuple:
    value = None if one.value is None else _clean(one.field, one.value)
    where = one.note.player.bytes, one.note.as_of.isoformat()
    return (tablet, *where, one.field, one.about, value, at)


def _clean(field: NoteField, value: str) -> str:
    """Return a text as it is read again."""
    value = without_empty(value)
    if field is NoteField.COACH_WORDS:
        value = "\n".join(one_line(" ".join(line.split())) for line in value.strip().splitlines())
    else:
        value = one_line(" ".join(value.split()))
    most = _LONGEST.get(field, sound.LONGEST_TEXT)
    if len(value) > most:
        raise EvaltrackError(tr("a text has {most} characters at most here; make it shorter", most=most))
    return value


def _fact(row: tuple, players: dict) -> NoteFact:
    nth, tablet, player, as_of, field, about, value, at, in_force = row
    field, what = sound.word(NoteField, field, "the field of a family's page"), "a family's page"
    shape = _SHAPES[field]
    if value is None and not shape.may_be_none:
        raise sound.unlike(what)
    return NoteFact(
        NoteKey(sound.of(players, player, what), sound.day(as_of, "the day of a family's page")),
        field,
        sound.maybe(shape.read, value, "what was changed of a family's page"),
        sound.key(about, what) if shape.of_parts else _nothing(about, what),
        sound.moment(at, "the moment of a change of a family's page"),
        sound.tablet(tablet),
        sound.moment(nth, "the number of a change of a family's page"),
        sound.flag(in_force, "the mark of a change of a family's page"),
    )


def _nothing(value: object, what: str) -> str:
    if value != "":
        raise sound.unlike(what)
    return ""


def _long(value: object, what: str) -> str:
    return "\n".join(sound.lines(value, what))


def _line(value: object, what: str) -> str:
    return sound.name(value, what, sound.LONGEST_TEXT)


def _keys(value: object, what: str) -> str:
    return " ".join(sound.keys(value, what))


def _day(value: object, what: str) -> str:
    return "" if value == "" else sound.day(value, what).isoformat()


def _mark(value: object, what: str) -> str:
    if type(value) is not str or not _MARK.fullmatch(value):
        raise sound.unlike(what)
    return value


class _Shape(NamedTuple):
    """How a value is read, whether the field is about a part of the page, and whether none may stand."""

    read: Callable[[object, str], str]
    of_parts: bool = False
    may_be_none: bool = False


_LONGEST = {NoteField.COACH_WORDS: sound.LONGEST_LIST, NoteField.COACH: sound.LONGEST_NAME}
_SHAPES = {
    NoteField.DRAFTED: _Shape(_nothing),
    NoteField.WORDS: _Shape(_line, of_parts=True, may_be_none=True),
    NoteField.STRENGTHS: _Shape(_keys, may_be_none=True),
    NoteField.NEXT_SKILLS: _Shape(_keys, may_be_none=True),
    NoteField.COACH_WORDS: _Shape(_long),
    NoteField.AGREED: _Shape(_line, of_parts=True),
    NoteField.WHO_HELPS: _Shape(_line, of_parts=True),
    NoteField.LOOK_AGAIN: _Shape(_day, of_parts=True),
    NoteField.MEETING: _Shape(_day),
    NoteField.COACH: _Shape(sound.name),
    NoteField.LANGUAGE: _Shape(sound.key),
    NoteField.READ: _Shape(_mark),
    NoteField.PRINTED: _Shape(_keys),
    NoteField.DISCUSSED: _Shape(_day),
    NoteField.LOOKED_BACK: _Shape(_day, of_parts=True),
}
