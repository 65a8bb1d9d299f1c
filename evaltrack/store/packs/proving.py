"""Whether a season file after a join is one that every reader takes: all are asked before it is written."""

import sqlite3

from evaltrack.language import mark
from evaltrack.store import sound
from evaltrack.store.erased import MOST
from evaltrack.store.every_reader import read_all
from evaltrack.store.packs.rows import Fact, Shape
from evaltrack.store.people import People
from evaltrack.store.plans import Plans
from evaltrack.store.practices import STATION, Practices
from evaltrack.store.reps import Reps
from evaltrack.store.room import refuse_overfull, refuse_overfull_log
from evaltrack.store.tally_rows import TALLY_COLUMNS, TallyRows

MOST_EDITS = 500_000
_ROOM = (
    ("player", sound.MOST_PLAYERS, mark("players, with those who left")),
    ("roster_change", sound.MOST_CHANGES, mark("changes of the roster")),
    ("catalogue_change", sound.MOST_CHANGES, mark("changes of the catalogue")),
    ("correction", sound.MOST_CORRECTIONS, mark("corrections of practices")),
    ("tally_correction", sound.MOST_CORRECTIONS, mark("corrections of tallies")),
    ("corrected_tally", sound.MOST_CORRECTED, mark("corrected tallies")),
    ("practice_comment", sound.MOST_OF_PRACTICE, mark("comments")),
    ("ice_time", sound.MOST_OF_PRACTICE, mark("ice times")),
    ("note_fact", sound.MOST_NOTE_FACTS, mark("changes of families' pages")),
    ("meeting_evening", sound.MOST_EVENINGS, mark("changes of evenings")),
    ("meeting_came", sound.MOST_CAME, mark("marks of who came")),
    ("player_comment", sound.MOST_CHANGES, mark("comments on players")),
    ("season_fact", sound.MOST_CHANGES, mark("changes of how long names are kept")),
    ("skill", sound.MOST_IN_CATALOGUE, mark("skills, with those not in use any more")),
    ("step s LEFT JOIN slot t ON t.drill = s.drill AND t.step = s.key", sound.MOST_OF_DRILLS, mark("slots")),
    ("tally", sound.MOST_TALLIES, mark("tallies")),
    ("edit", MOST_EDITS, mark("changes")),
    ("lost_edit", sound.MOST_CHANGES, mark("changes that lost against newer ones")),
    ("foreign_fact", sound.MOST_OF_PRACTICE, mark("facts of a newer evaltrack")),
    ("erased", MOST, mark("erased players")),
)


def prove(connection: sqlite3.Connection, shapes: dict[str, Shape], facts: dict[str, list[Fact]]) -> None:
    """Raise EvaltrackError where a file after a join, with these facts, could not be read any more."""
    for rows, most, what in _ROOM:
        refuse_overfull(connection, rows, most, what)
    _read_tallies(connection, shapes["tally"], facts.get("tally", []))
    read_all(connection)
    _read_practices(connection, shapes, facts)


def prove_facts(
    connection: sqlite3.Connection, shapes: dict[str, Shape], facts: dict[str, list[Fact]]
) -> None:
    """Raise EvaltrackError where a file could not be read any more after these facts came alone."""
    if facts.get("tally"):
        refuse_overfull(connection, "tally", sound.MOST_TALLIES, "tallies")
        _read_tallies(connection, shapes["tally"], facts["tally"])
    if facts.get("observer"):
        People(connection).observers()
    _read_practices(connection, shapes, facts)


def _read_tallies(connection: sqlite3.Connection, shape: Shape, facts: list[Fact]) -> None:
    read, columns = TallyRows(connection), TALLY_COLUMNS.split(", ")
    spots = [shape.at(column) for column in columns]
    tallies = [read.tally(tuple(fact.row[at] for at in spots)) for fact in facts]
    refuse_overfull_log(connection, {tally.practice for tally in tallies})


def _read_practices(
    connection: sqlite3.Connection, shapes: dict[str, Shape], facts: dict[str, list[Fact]]
) -> None:
    practices, reps, plans = Practices(connection), Reps(connection), Plans(connection)

    def each(table: str, *columns: str) -> set[tuple]:
        return {shapes[table].of(fact.row, *columns) for fact in facts.get(table, ())}

    for (key,) in each("rep", "practice"):
        reps.all(key)
    for key, tablet in each("line_fact", "practice", "tablet"):
        reps.facts(key, tablet)
        reps.moved(key, tablet)
    for row in each("station", *STATION.split(", ")):
        practices.read_station(row)
    for nth, tablet in each("practice_plan", "nth", "tablet"):
        plans.numbered(nth, tablet)
