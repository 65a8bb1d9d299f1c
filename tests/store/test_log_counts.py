"""What the log tells without its tallies: how many, where, who was there, and which was made last."""

import sqlite3
from contextlib import closing
from datetime import date
from uuid import UUID

import pytest
from lanterns_season import DRILLS, PLAYERS, PRACTICES, STEPS, tally

from evaltrack.rink.practice import Amendment, Correction, Rep
from evaltrack.rink.rotation.running import RunningRotation
from evaltrack.rink.tally import Outcome, Withdrawal
from evaltrack.store.log import CELL_COLUMNS
from evaltrack.store.opening import open_season

FIRST, SECOND = (practice.key for practice in PRACTICES)
ELSEWHERE = {"practice": SECOND}


def aside(season, key: str) -> None:
    """Set a practice aside."""
    day = date.fromisoformat(key)
    season.corrections.add(Correction(key, Amendment.SET_ASIDE, day, day))


def test_each_practice_has_its_own_number_of_tallies(season):
    """What was taken back is not among them, what was seen without a try is, and so is what was set aside."""
    season.log.add_many([], [tally(0), tally(1), tally(2, Outcome.UNSEEN), tally(3, **ELSEWHERE)])
    season.log.withdraw(Withdrawal(tally(1).id))
    aside(season, SECOND)
    assert season.log.counts() == {FIRST: 2, SECOND: 1}
    assert season.log.count() == 2


def test_which_of_some_tallies_lie_in_practices_that_were_set_aside(season):
    """Counted by practice; those of a practice that counts, and those that nobody knows, are not told."""
    season.log.add_many([], [tally(0), tally(1, **ELSEWHERE), tally(2, **ELSEWHERE)])
    every = [tally(n).id for n in range(4)]
    assert season.log.set_aside(every) == {}
    aside(season, SECOND)
    assert season.log.set_aside(every) == {SECOND: 2}
    assert season.log.set_aside(every[:2]) == {SECOND: 1}


def test_the_newest_is_the_last_of_all_practices(season):
    """The highest identifier, in whichever practice it was made, whether a tally or a rep has it."""
    season.log.add_many([], [tally(0), tally(5), tally(3, **ELSEWHERE), tally(9, tablet="other")])
    assert season.log.newest("bench") == tally(5).id
    season.log.add(tally(7, **ELSEWHERE))
    assert season.log.newest("bench") == tally(7).id
    line, fact = RunningRotation.first(
        DRILLS, Rep(FIRST, *STEPS[0], {}, "bench", id=UUID(int=2)), PLAYERS[:1]
    )
    season.reps.begin(line.rep, fact)
    assert season.log.newest("bench") == tally(7).id


@pytest.mark.parametrize("numbers", [(0, 4, 1), (1, 0, 4), (4, 1, 0)])
def test_places_on_the_board_follow_the_roster(season, numbers):
    """Players of a loaded practice stand in the order of their ids, whoever was tallied first."""
    order = [PLAYERS[number] for number in numbers]
    season.log.add_many([], [tally(n, player=player.id) for n, player in enumerate(order)])
    found = season.practices.attendance(FIRST)
    assert [one.player for one in found] == sorted(player.id for player in order)
    moments = {player.id: tally(n).at for n, player in enumerate(order)}
    assert [one.at for one in found] == [moments[one.player] for one in found]


def test_presence_that_was_noted_before_stays(season):
    """A player who has a place keeps it, and the next one comes after the last that is taken."""
    season.log.add_many([], [tally(0), tally(1, player=PLAYERS[4].id)])
    before = season.practices.attendance(FIRST)
    season.log.add_many([], [tally(2), tally(3, player=PLAYERS[3].id)])
    after = season.practices.attendance(FIRST)
    assert after[:2] == before
    assert [(one.player, one.place) for one in after[2:]] == [(PLAYERS[3].id, 2)]


def test_a_load_brings_its_practices_and_observers(season):
    """Who observed is known from then on, once, beside those who were known before."""
    known = season.people.observers()
    season.log.add_many([], [tally(n, observer=name) for n, name in enumerate(["Marit", known[0], "Marit"])])
    assert season.people.observers() == sorted([*known, "Marit"])


def test_a_cell_is_read_by_the_names_of_its_columns(season):
    """Whoever counts goes by these names, and finds under each what the tallies say."""
    season.log.add_many([], [tally(0, pressure=True), tally(1, Outcome.MISSED, pressure=True)])
    [cell] = season.log.cells()
    assert dict(zip(CELL_COLUMNS, cell, strict=True)) == {
        "player": PLAYERS[0].id.bytes, "skill": "outlet_pass", "practice": FIRST, "held_on": "2025-10-04",
        "drill": "breakout_attack", "step": "two_on_one", "pressure": 1, "observer": "Ines", "opponent": None,
        "tries": 2, "done": 1,
    }  # fmt: skip


def test_cells_are_apart_by_all_that_explains_a_try(season):
    """Another step, pressure, observer, player or practice is another cell, each with its own counts."""
    others = [
        {}, {"pressure": True}, {"pressure": False}, {"observer": "Tuomo"}, {"step": "three_on_one"},
        {"player": PLAYERS[2].id}, ELSEWHERE, {"drill": "stops_starts", "step": "on_lines"},
    ]  # fmt: skip
    season.log.add_many([], [tally(n, **other) for n, other in enumerate(others)])
    season.log.add(tally(50, Outcome.MISSED, **others[1]))
    cells = season.log.cells()
    assert len(cells) == len(others)
    tries, done, pressure = (CELL_COLUMNS.index(name) for name in ("tries", "done", "pressure"))
    assert {(cell[tries], cell[done]) for cell in cells if cell[pressure] == 1} == {(2, 1)}
    assert {(cell[tries], cell[done]) for cell in cells if cell[pressure] != 1} == {(1, 1)}


@pytest.mark.parametrize("outcomes", [["dome"], ["dome", "done"], ["dome", "missed"]])
@pytest.mark.parametrize("others", [0, 1])
def test_an_outcome_that_is_none_is_no_try(season_path, refused, outcomes, others):
    """In a damaged file it counts neither as done nor as missed: the file is refused, and not read on."""
    with open_season(season_path) as season:
        season.log.add_many([], [tally(n) for n in range(len(outcomes))])
        season.log.add_many([], [tally(50 + n, player=PLAYERS[4].id) for n in range(others)])
    with closing(sqlite3.connect(season_path)) as connection, connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        for n, outcome in enumerate(outcomes):
            connection.execute("UPDATE tally SET outcome = ? WHERE id = ?", (outcome, tally(n).id.bytes))
    with open_season(season_path) as season, refused("damaged"):
        season.log.cells()


def test_a_practice_whose_key_hides_something_is_not_counted(season_path, refused):
    """A key is told to people and looked up: one that would garble a screen is damage, in cells as well."""
    with open_season(season_path) as season:
        season.log.add(tally(0))
    with closing(sqlite3.connect(season_path)) as connection, connection:
        connection.execute("PRAGMA foreign_keys = OFF")
        for table, column in (("practice", "key"), ("tally", "practice")):
            connection.execute(f"UPDATE {table} SET {column} = ? WHERE {column} = ?", ("\x1b[2J", FIRST))
    with open_season(season_path) as season, refused("damaged"):
        season.log.cells()


def test_of_two_observers_only_the_one_who_hides_something_is_replaced(season_path):
    """In cells as in the log; all else of the tries stays in its column."""
    with open_season(season_path) as season:
        season.log.add_many([], [tally(0), tally(1, observer="Tuomo", pressure=True)])
        before = season.log.cells()
    with closing(sqlite3.connect(season_path)) as connection, connection:
        connection.execute("UPDATE tally SET observer = ? WHERE observer = 'Tuomo'", ("Tu\x07omo",))
    with open_season(season_path) as season:
        after = season.log.cells()
    names = {"Ines": "Ines", "Tuomo": "Tu\ufffdomo"}
    place = CELL_COLUMNS.index("observer")
    expected = [(*cell[:place], names[cell[place]], *cell[place + 1 :]) for cell in before]
    assert sorted(after, key=str) == sorted(expected, key=str)
