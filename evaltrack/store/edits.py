"""What may change of players, catalogue and practices, field by field, and every value that a field ever had.

The tables themselves have what is in force, and whoever reads goes there. `noting` compares them before and
after a change and keeps what has become of each field, with a clock. On another tablet the last value is
found by it, whatever the order in which the tablets met; see `packs/last_words.py`.
"""

import json
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import NamedTuple

from evaltrack.store import sound
from evaltrack.store.clock import LAST

Register = tuple[str, str, str]  # kind, key and field


class Field(NamedTuple):
    """Columns that change together; ``rule`` says which value is in force: the ``last``, or the ``least``."""

    name: str
    columns: tuple[str, ...]
    rule: str = "last"


class Kind(NamedTuple):
    """A table whose rows have keys and fields; ``practice`` names the column that says in which one."""

    table: str
    key: tuple[str, ...]
    fields: tuple[Field, ...]
    practice: str = ""


def _each(*names: str) -> tuple[Field, ...]:
    return tuple(Field(name, (name,)) for name in names)


SLOTS = Field("slots", ("key", "place", "name", "position", "next", "skills", "against", "along", "across"))
KINDS = {
    kind.table: kind
    for kind in (
        Kind(
            "player",
            ("id",),
            (
                *_each("number", "name", "birth_year"),
                Field("position", ("position", "also")),
                Field("status", ("status", "away_until")),
            ),
        ),
        Kind(
            "skill",
            ("key",),
            _each("place", "name", "positions", "caption", "looks_like", "at_home", "target", "retired"),
        ),
        Kind(
            "definition",
            ("skill", "clock", "tablet"),
            (
                Field("words", ("starts", "done", "missed", "not_counted")),
                Field("since", ("since",), "least"),
            ),
        ),
        Kind("drill", ("key",), _each("place", "name", "retired")),
        Kind("step", ("drill", "key"), _each("place", "name", "surface", "contact", "retired")),
        Kind("catalogue_text", ("kind",), _each("text")),
        Kind(
            "practice",
            ("key",),
            (
                *_each("held_on", "surface", "ended_at", "aside"),
                Field("started_at", ("started_at",), "least"),
            ),
            practice="key",
        ),
        Kind(
            "attendance",
            ("practice", "player"),
            (Field("here", ("here", "at")), Field("place", ("place",), "least")),
            practice="practice",
        ),
    )
}


def as_text(values: object) -> str:
    """Return values as the one JSON text that stands for them; ids as hexadecimal digits."""
    return json.dumps(values, ensure_ascii=False, separators=(",", ":"), default=bytes.hex)


def values_of(text: str) -> list:
    """Return the values that a JSON text stands for, as `as_text` makes it; ValueError when it is none.

    A pack comes from anywhere: its texts may be nested so deep that nothing can read them.
    """
    try:
        found = json.loads(text)
    except RecursionError:
        raise ValueError("nested too deep") from None
    if type(found) is not list:
        raise ValueError("no list")
    return found


@contextmanager
def noting(
    connection: sqlite3.Connection, tablet: str, at: int, *kinds: str, practice: str | None = None
) -> Iterator[None]:
    """Note what a block changes of these kinds, within the caller's transaction.

    Parameters
    ----------
    at : the moment by this tablet's clock.
    practice : the only one that the block changes; None for all, and for what belongs to none.
    """
    before = state(connection, kinds, practice)
    yield
    note(connection, tablet, at, changes(before, state(connection, kinds, practice)))


def changes(before: Mapping[Register, str], after: Mapping[Register, str]) -> dict[Register, str]:
    """Return what fields have become that are not as they were."""
    return {register: value for register, value in after.items() if before.get(register) != value}


def note(connection: sqlite3.Connection, tablet: str, at: int, values: Mapping[Register, str]) -> None:
    """Note values that fields have now, all with one clock: later than every one that they had before."""
    if not values:
        return
    last = "SELECT max(clock) FROM edit WHERE kind = ? AND key = ? AND field = ?"
    known = (connection.execute(last, register).fetchone()[0] or 0 for register in values)
    clock = sound.moment(max(min(max(at, 1), LAST), 1 + max(known)), "the clock of a change")
    rows = [(*register, clock, tablet, value) for register, value in values.items()]
    connection.executemany("INSERT INTO edit VALUES (?, ?, ?, ?, ?, ?)", rows)


def state(
    connection: sqlite3.Connection, kinds: tuple[str, ...], practice: str | None = None
) -> dict[Register, str]:
    """Return what each field of these kinds has now."""
    found = {}
    for kind in map(KINDS.__getitem__, kinds):
        found |= _state_of(connection, kind, practice)
        if kind.table == "step":
            found |= slots_of_steps(connection)
    return found


def _state_of(connection: sqlite3.Connection, kind: Kind, practice: str | None) -> dict[Register, str]:
    columns = [*kind.key, *(column for field in kind.fields for column in field.columns)]
    only = f" WHERE {kind.practice} = ?" if practice is not None and kind.practice else ""
    rows = connection.execute(
        f"SELECT {', '.join(columns)} FROM {kind.table}{only}", (practice,) if only else ()
    )
    found = {}
    for row in rows:
        key, at = as_text(row[: len(kind.key)]), len(kind.key)
        for field in kind.fields:
            found[kind.table, key, field.name] = as_text(row[at : at + len(field.columns)])
            at += len(field.columns)
    return found


def slots_of_steps(connection: sqlite3.Connection) -> dict[Register, str]:
    """Return the slots of each step, which are one field: a slot names others of its step."""
    slots: dict[tuple, list] = {step: [] for step in connection.execute("SELECT drill, key FROM step")}
    columns = ", ".join(SLOTS.columns)
    for drill, step, *slot in connection.execute(
        f"SELECT drill, step, {columns} FROM slot ORDER BY place, key"
    ):
        slots.setdefault((drill, step), []).append(slot)
    return {("step", as_text(step), SLOTS.name): as_text(found) for step, found in slots.items()}
