"""What we would not have written ends in a sentence where it is read: a value, a name of nothing, many rows.

Cases: each kind of value in each table; names of what is not there; slots that lead in a circle; numbers
that stand there twice; too many rows; pages that lead to one another without end; texts that hide something;
tables that are not ours; a name that is no text; older files.
"""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hostile import crafts, endless, with_value
from lanterns_season import DRILLS, PLAYERS, PRACTICES, SKILLS, station, tally
from season_v1 import make_v1

from evaltrack.errors import SeasonFileError
from evaltrack.rink.practice import Amendment, Attendance, Correction, Rep
from evaltrack.rink.rotation.running import RunningRotation
from evaltrack.store.opening import open_season

FIRST = PRACTICES[0].key
BENCH = "bench"

READERS = {
    "team": lambda season: season.team,
    "created_at": lambda season: season.created_at,
    "players": lambda season: season.people.players(),
    "catalogue_changes": lambda season: (season.catalogue_changes.all(), season.catalogue_changes.texts()),
    "changes": lambda season: season.people.changes(),
    "observers": lambda season: season.people.observers(),
    "skills": lambda season: season.catalogue.skills(),
    "drills": lambda season: season.catalogue.drills(),
    "practices": lambda season: season.practices.every(),
    "running": lambda season: season.practices.running(),
    "running_at": lambda season: season.practices.running_at(BENCH),
    "station": lambda season: season.practices.station(FIRST, BENCH),
    "attendance": lambda season: season.practices.attendance(FIRST),
    "last_moment": lambda season: season.practices.last_moment(FIRST, BENCH),
    "corrections": lambda season: season.corrections.all(),
    "reps": lambda season: season.reps.all(FIRST),
    "facts": lambda season: season.reps.facts(FIRST, BENCH),
    "moved": lambda season: season.reps.moved(FIRST, BENCH),
    "tallies": lambda season: season.log.tallies(FIRST),
    "cells": lambda season: season.log.cells(),
    "newest": lambda season: season.log.newest(BENCH),
    "counts": lambda season: (season.log.counts(), season.log.count()),
}

VALUES = [
    ("season", "team", None, "team"),
    ("season", "created_at", 2**62, "created_at"),
    ("player", "position", "E", "players"),
    ("player", "number", "ten", "players"),
    ("player", "number", "9" * 5000, "players"),
    ("player", "name", None, "players"),
    ("player", "name", "x" * 201, "players"),
    ("player", "birth_year", -5, "players"),
    ("player", "status", "hurt", "players"),
    ("player", "away_until", "Tuesday", "players"),
    ("player", "also", "G", "players"),
    ("player", "id", bytes(15), "players"),
    ("roster_change", "field", "shoe", "changes"),
    ("catalogue_change", "kind", "shoe", "catalogue_changes"),
    ("catalogue_change", "field", 5, "catalogue_changes"),
    ("catalogue_change", "becomes", "x" * 20_001, "catalogue_changes"),
    ("catalogue_change", "becomes", "inf", "catalogue_changes"),
    ("catalogue_change", "was", "0.6 or so", "catalogue_changes"),
    ("catalogue_change", "at", -62_135_596_800_000, "catalogue_changes"),
    ("skill", "retired", 2, "skills"),
    ("step", "retired", 2, "drills"),
    ("drill", "retired", -2, "drills"),
    ("roster_change", "player", bytes(16), "changes"),
    ("roster_change", "becomes", "x" * 201, "changes"),
    ("roster_change", "becomes", "", "changes"),
    ("roster_change", "was", "ten", "changes"),
    ("roster_change", "day", "soon", "changes"),
    ("observer", "name", 5, "observers"),
    ("skill", "target", 1e308, "skills"),
    ("skill", "positions", "DXQ", "skills"),
    ("skill", "version", 0, "skills"),
    ("skill", "at_home", b"\xff", "skills"),
    ("definition", "done", None, "skills"),
    ("definition", "version", 9, "skills"),
    ("drill", "name", 1, "drills"),
    ("step", "name", "x" * 900, "drills"),
    ("step", "surface", "pond", "drills"),
    ("step", "contact", 2, "drills"),
    ("slot", "along", 101, "drills"),
    ("slot", "across", 50, "drills"),
    ("slot", "position", "", "drills"),
    ("slot", "next", "nowhere", "drills"),
    ("slot", "skills", "none", "drills"),
    ("practice", "held_on", "soon", "practices"),
    ("practice", "held_on", "99999-01-01", "practices"),
    ("practice", "held_on", "20251004", "practices"),
    ("practice", "held_on", "soon", "cells"),
    ("practice", "surface", "ice", "practices"),
    ("practice", "ended_at", 2**62, "practices"),
    ("practice", "aside", 7, "practices"),
    ("practice", "started_at", 2**62, "running"),
    ("attendance", "player", bytes(16), "attendance"),
    ("attendance", "here", 2, "attendance"),
    ("attendance", "place", 10**12, "attendance"),
    ("attendance", "at", "now", "attendance"),
    ("station", "skill", "none", "running_at"),
    ("station", "step", "none", "station"),
    ("station", "pressure", None, "station"),
    ("station", "at", 2**62, "last_moment"),
    ("correction", "change", "gone", "corrections"),
    ("correction", "was", "2026-02-30", "corrections"),
    ("rep", "id", bytes(15), "reps"),
    ("rep", "step", "none", "reps"),
    ("rep_slot", "player", b"", "reps"),
    ("line_fact", "change", "jump", "facts"),
    ("line_fact", "nth", "soon", "facts"),
    ("line_fact", "step", "none", "facts"),
    ("line_fact", "rep", b"", "facts"),
    ("line_fact", "player", bytes(16), "facts"),
    ("line_start", "player", bytes(16), "facts"),
    ("line_start", "position", "X", "facts"),
    ("moved", "becomes", b"", "moved"),
    ("tally", "outcome", "dome", "tallies"),
    ("tally", "outcome", "dome", "cells"),
    ("tally", "player", bytes(16), "tallies"),
    ("tally", "player", bytes(16), "cells"),
    ("tally", "skill", "none", "tallies"),
    ("tally", "skill_version", 9, "tallies"),
    ("tally", "drill", "none", "cells"),
    ("tally", "pressure", 3, "cells"),
    ("tally", "pressure", 3, "tallies"),
    ("tally", "observer", "x" * 3000, "cells"),
    ("tally", "rep", b"x", "tallies"),
    ("tally", "at", 2**62, "tallies"),
    ("tally", "id", bytes(15), "newest"),
]


@pytest.fixture
def played(season_path) -> Path:
    """Return a closed season file with a row in every table."""
    with open_season(season_path) as season:
        here = [Attendance(player.id, True, place) for place, player in enumerate(PLAYERS)]
        season.practices.begin(PRACTICES[0], here, station())
        rep = Rep(FIRST, "breakout_attack", "two_on_one", {}, BENCH)
        line, fact = RunningRotation.first(DRILLS, rep, PLAYERS)
        season.reps.begin(line.rep, fact)
        season.log.add_many([], [tally(n, rep=line.rep.id) for n in range(3)])
        _, fact = line.swap("breakout_d", PLAYERS[2].id)
        season.reps.correct(fact, [(tally(0).id, tally(1).id)], {"breakout_d": PLAYERS[2].id})
        day = date(2025, 10, 4)
        season.corrections.add(Correction(FIRST, Amendment.TO_DATE, day, day, BENCH))
        season.catalogue_changes.set_to([replace(SKILLS[0], target=0.7), *SKILLS[1:]], None, (), BENCH, {})
        season.catalogue_changes.keep_texts({"skills": "# ours"})
        season.people.change([replace(PLAYERS[0], number="11")], day, BENCH)
    return season_path


def test_a_file_in_order_is_read_whole(played):
    """What the cases below damage is read without a word before."""
    with open_season(played) as season:
        assert all(read(season) is not None for read in READERS.values())


@pytest.mark.parametrize(("table", "column", "value", "reader"), VALUES, ids=lambda value: ascii(value)[:20])
def test_a_value_that_is_not_ours(played, refused, table, column, value, reader):
    """Whoever reads a value that we would not have written is told so, and nothing else is raised."""
    with_value(table, column, value, everywhere=True)(played)
    with open_season(played) as season, refused("the season file is damaged", "backup"):
        READERS[reader](season)


@pytest.mark.parametrize(
    ("statement", "reader"),
    [
        ("DELETE FROM season", "team"),
        ("DELETE FROM player", "tallies"),
        ("DELETE FROM skill", "station"),
        ("DELETE FROM step", "cells"),
        ("DELETE FROM definition", "skills"),
        ("UPDATE slot SET next = key", "drills"),
        ("UPDATE line_fact SET slot = NULL", "facts"),
    ],
)
def test_rows_that_are_gone_or_lead_nowhere(played, refused, statement, reader):
    """Rows name others: where these are gone, or a way leads round in a circle, that is told."""
    with closing(sqlite3.connect(played, isolation_level=None)) as other:
        other.execute(statement)
    with open_season(played) as season, refused("the season file is damaged", "backup"):
        READERS[reader](season)


@pytest.mark.parametrize(
    ("part", "text"),
    [("status", "left until 2026-12-24"), ("status", "hurt"), ("position", "E"), ("birth_year", "young")],
)
def test_what_a_player_never_was(played, refused, part, text):
    """A change of the roster says what a player was, in words of ours, or else the history is damaged."""
    with closing(sqlite3.connect(played, isolation_level=None)) as other:
        other.execute("UPDATE roster_change SET field = ?, becomes = ?", (part, text))
    with open_season(played) as season, refused("the season file is damaged", "a change of the roster"):
        season.people.changes()


def test_two_players_of_one_number(played, refused):
    """A number that stands there twice, behind the back of the index, is found."""
    crafts()["two players of one number"](played)
    with open_season(played) as season, refused("twice"):
        season.people.players()


@pytest.mark.parametrize("name", ["twenty thousand players more", "many practices", "many slots in a step"])
def test_more_rows_than_a_season_can_have(played, refused, name):
    """A file that would fill the memory is refused, and not read to its end."""
    crafts()[name](played)
    with open_season(played) as season, refused("the season file is damaged"):
        for read in READERS.values():
            read(season)


@pytest.mark.parametrize("table", ["player", "skill", "tally", "tally_practice", "tally_cell", "attendance"])
def test_pages_without_end(played, refused, table):
    """Pages that lead a thousand ways to one another, six levels deep, are given up soon."""
    endless(table)(played)
    with open_season(played) as season, refused("damaged"):
        for read in READERS.values():
            read(season)


def test_a_tally_that_would_not_be_found_again(played, refused):
    """Where a page belongs to two tables, a tally would count as withdrawn at once: it is not saved then."""
    crafts()["tallies and withdrawals in one page"](played)
    with open_season(played) as season, refused("not saved", "not found again"):
        season.log.add(tally(9))


def test_an_older_file_with_pages_without_end(tmp_path, refused):
    """They are found before the file is brought up to date, which would go through all of them."""
    path = make_v1(tmp_path / "old.db")
    endless("player")(path)
    before = path.read_bytes()
    with refused("is damaged"):
        open_season(path)
    assert path.read_bytes() == before


def test_what_hides_in_names_is_replaced(played):
    """Escapes and turns of direction in a name, an observer or a team come out as a plain sign."""
    hidden, shown = "\x1b[2J\u202eNobody\x07", "\ufffd[2J\ufffdNobody\ufffd"
    for table, column in (
        ("player", "name"),
        ("season", "team"),
        ("observer", "name"),
        ("tally", "observer"),
    ):
        with_value(table, column, hidden, everywhere=True)(played)
    with open_season(played) as season:
        assert season.people.players()[0].name == season.team.name == shown
        assert season.people.observers() == [shown]
        assert season.log.tallies(FIRST)[0].observer == season.log.cells()[0][7] == shown


@pytest.mark.parametrize(
    "name",
    [
        "a trigger that ignores tallies",
        "a trigger with the name of its table",
        "a trigger with a name of SQLite's own",
        "a table of statistics that works something out",
        "a table and a trigger of one name",
        "an index of the ledger with a condition",
        "an endless view for player",
        "a view of 900 MB",
        "many tables too many",
        "a table with a name that garbles",
        "no index of cells",
        "no station table",
        "version 1 of version 3",
    ],
)
def test_tables_that_are_not_ours(played, name):
    """What SQLite would run by itself, or lacks, is refused by name before anything is read."""
    crafts()[name](played)
    with pytest.raises(SeasonFileError) as caught:
        open_season(played)
    assert str(caught.value).isprintable()
    assert "is not as evaltrack makes it" in str(caught.value)


def test_a_table_without_a_column_that_came_later(played, refused):
    """The statement of an earlier version is letter by letter ours, and still not that of this version."""
    with closing(sqlite3.connect(played)) as file, file:
        file.execute("ALTER TABLE step DROP COLUMN contact")
    with refused("step is not as evaltrack makes it"):
        open_season(played)


def test_a_table_is_ours_whatever_blanks_are_in_its_statement(played):
    """Another SQLite, or an earlier evaltrack, may have written the same statement with other blanks."""
    with closing(sqlite3.connect(played)) as file, file:
        file.execute("PRAGMA writable_schema = ON")
        file.execute("UPDATE sqlite_schema SET sql = replace(sql, '  ', ' -- so\n ') WHERE name = 'player'")
    with open_season(played) as season:
        assert season.people.players()


def test_a_name_in_the_schema_that_is_no_text(played, refused):
    """Python cannot even decode what SQLite says of it."""
    content = played.read_bytes()
    place = content.index(b"CREATE TABLE player")
    played.write_bytes(content[: place + 10] + b"\xff" + content[place + 11 :])
    with refused("damaged"):
        open_season(played)


def test_a_text_that_is_none(played, refused):
    """Bytes that are no UTF-8 in a name are damage; they are not quoted."""
    content = played.read_bytes()
    assert content.count(b"Oda Marsh") == 1
    played.write_bytes(content.replace(b"Oda Marsh", b"Oda\xffMarsh"))
    with open_season(played) as season, refused("the season file is damaged"):
        season.people.players()
