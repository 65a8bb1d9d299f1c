"""A process that is killed while it changes a season leaves it as it was or as it is after, never half.

Cases: a correction, one taken back, a change of the roster, of the catalogue, a comment, a practice put right
or deleted, a file of tallies, a season founded: each killed at every few of its statements.
"""

import os
import re
import shutil
import signal
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from lanterns_season import DRILLS, PLAYERS, PRACTICES, SKILLS, TEAM, definition, tally

from evaltrack.rink.practice import Amendment, Correction
from evaltrack.rink.tally_correction import Change, correction_of
from evaltrack.store import creating
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="it takes a process that can be split")
(FIRST, SECOND), DAY = (practice.key for practice in PRACTICES), date(2025, 10, 4)
MOST, APART = 200, 3  # statements of one act, and from one kill to the next
_OF_A_CLOCK = {"at", "since", "epoch", "before", "nth", "correction"}  # differ from run to run
_MOMENT = re.compile(r"\b1[78]\d{11}\b")  # within a text


def correct(season) -> None:
    stands = season.log.stands(FIRST)
    season.tally_corrections.add(correction_of(stands, Change.PLAYER, PLAYERS[1].id, FIRST))


def take_back(season) -> None:
    season.tally_corrections.put_in_force(season.tally_corrections.all()[0], False)


def swap_numbers(season) -> None:
    one, other = PLAYERS[0], PLAYERS[4]
    season.people.change([replace(one, number="7"), replace(other, number="10")], DAY, "bench")


def change_catalogue(season) -> None:
    skills = [replace(SKILLS[1], target=0.7), replace(SKILLS[0], definition=definition("Caught."))]
    season.catalogue_changes.set_to(skills, DRILLS[:1], (), "bench", {"skills": "# ours"})


def set_aside(season) -> None:
    season.corrections.add(Correction(FIRST, Amendment.SET_ASIDE, DAY, DAY, "bench"))


ACTS: dict[str, Callable] = {
    "a correction": correct,
    "one taken back": take_back,
    "two numbers swapped": swap_numbers,
    "the catalogue": change_catalogue,
    "a comment": lambda season: season.comments.write(FIRST, "Soft ice."),
    "a practice set aside": set_aside,
    "an empty practice deleted": lambda season: season.corrections.delete(SECOND),
    "a file of tallies": lambda season: season.log.add_many([], [tally(n, observer="Edda") for n in (7, 8)]),
}


@pytest.fixture
def noted_path(season_path) -> Path:
    """Return a closed season file with some tallies, one of them corrected."""
    with open_season(season_path) as season:
        season.log.add_many([], [tally(n) for n in range(4)])
        season.tally_corrections.add(correction_of(season.log.stands(FIRST)[:1], Change.ASIDE, True, FIRST))
    return season_path


def state(path: Path) -> dict[str, list[str]]:
    """Return every row of every table, but for moments; the file must be sound."""
    with closing(sqlite3.connect(path)) as file:
        assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert file.execute("PRAGMA foreign_key_check").fetchall() == []
        tables = [name for (name,) in file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        return {table: _rows(file, table) for table in tables}


def _rows(file: sqlite3.Connection, table: str) -> list[str]:
    columns = [row[1] for row in file.execute(f"PRAGMA table_info({table})") if row[1] not in _OF_A_CLOCK]
    found = map(repr, file.execute(f"SELECT {', '.join(columns)} FROM {table}"))
    return sorted(_MOMENT.sub("then", row) for row in found)


def killed_at(nth: int, act: Callable[[Callable], None]) -> bool:
    """Do an act in a process that is killed when its nth statement is about to run; say whether it was."""
    child = os.fork()
    if child == 0:
        left = iter(range(nth))

        def trace(connection) -> None:
            connection.set_trace_callback(lambda _: next(left, None) is None and _kill())

        try:
            act(trace)
        finally:
            os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL


def _kill() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


@pytest.mark.parametrize("name", ACTS)
def test_a_change_is_there_whole_or_not_at_all(noted_path, tmp_path, name):
    """Whichever statement is the last one: opened again, the season is one of two."""
    done = Path(shutil.copy(noted_path, tmp_path / "done.db"))
    with open_season(done) as season:
        ACTS[name](season)
    before, after = state(noted_path), state(done)
    assert before != after
    seen = []
    for nth in range(0, MOST, APART):
        path = Path(shutil.copy(noted_path, tmp_path / f"{nth}.db"))

        def act(trace, path=path) -> None:
            season = open_season(path)
            trace(season._connection)
            ACTS[name](season)

        killed = killed_at(nth, act)
        open_season(path).close()
        found = state(path)
        assert found in (before, after), nth
        seen.append(found == after)
        if not killed:
            break
    assert (seen[0], seen[-1]) == (False, True)
    assert sorted(seen) == seen, "once it is there, it is there"


def test_a_season_is_founded_whole_or_not_at_all(tmp_path, monkeypatch):
    """Whichever statement is the last one: no file, or a whole one; and the next try makes it."""
    made = {"players": PLAYERS, "skills": SKILLS, "drills": DRILLS}
    connect, path, killed = creating.connect, tmp_path / "new.db", 0
    for nth in (*range(0, 200, 9), 10_000):

        def act(trace) -> None:
            def traced(draft):
                connection = connect(draft)
                trace(connection)
                return connection

            creating.connect = traced
            create_season(path, **TEAM, **made)

        if killed_at(nth, act):
            killed += 1
            assert not path.exists()
    assert killed > 5
    with open_season(path) as season:
        assert len(season.people.players()) == len(PLAYERS)
        assert [drill.key for drill in season.catalogue.drills()] == [drill.key for drill in DRILLS]
    assert [one.name for one in tmp_path.iterdir()] == ["new.db"]
