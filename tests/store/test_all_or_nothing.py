"""A write that fails says so in a sentence, leaves nothing behind, and does not stop the next one.

Cases: a load with one bad row of every kind; players; practices; a rep; another program's lock; a disk
that takes no more; a file that is damaged while it is open.
"""

import os
import sqlite3
from contextlib import closing
from dataclasses import replace
from uuid import UUID

import pytest
from lanterns_season import PLAYERS, PRACTICES, tally

from evaltrack.errors import NotSavedError, SeasonFileError
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Practice, Rep
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact
from evaltrack.rink.tally import Withdrawal
from evaltrack.store.opening import open_season

BAD_ROWS = {
    "unknown skill": {"skill": "juggling"},
    "unknown version": {"skill_version": 9},
    "unknown player": {"player": UUID(int=404)},
    "unknown practice": {"practice": "2001-01-01"},
    "unknown step": {"step": "five_on_none"},
    "unknown rep": {"rep": UUID(int=404)},
    "no outcome of ours": {"outcome": "nearly"},
    "no moment": {"at": None},
    "no number": {"at": "noon"},
}


@pytest.mark.parametrize("fault", BAD_ROWS.values(), ids=BAD_ROWS.keys())
def test_a_load_with_a_bad_row_changes_nothing(season, season_path, refused, contents, fault):
    """One bad row among good ones, and the file's bytes and rows are as before."""
    season.log.add(tally(0))
    bytes_before, rows_before = season_path.read_bytes(), contents(season_path)
    new_practice = replace(PRACTICES[0], key="2025-12-01")
    bad = replace(tally(3, observer="Somebody New"), **fault)
    with refused("not saved: ", kind=NotSavedError):
        season.log.add_many([new_practice], [tally(1), tally(2, practice="2025-12-01"), bad, tally(4)])
    assert contents(season_path) == rows_before
    assert season_path.read_bytes() == bytes_before
    assert season.log.add_many([new_practice], [tally(1)]) == 1


@pytest.mark.parametrize("fault", BAD_ROWS.values(), ids=BAD_ROWS.keys())
def test_a_bad_tally_is_not_saved_and_the_next_one_is(season, refused, fault):
    """A single tally that breaks a rule is refused, not swallowed, and the log goes on."""
    with refused("not saved: ", kind=NotSavedError):
        season.log.add(replace(tally(0), **fault))
    season.log.add(tally(1))
    assert season.log.tallies() == [tally(1)]


def test_a_withdrawal_that_breaks_a_rule_is_not_swallowed(season, refused):
    """An undo that cannot be written says so; it would otherwise look done and not be."""
    season.log.add(tally(0))
    with refused("not saved: ", kind=NotSavedError):
        season.log.withdraw(Withdrawal(tally(0).id, at=None))
    assert season.log.tallies() == [tally(0)]


def test_players_are_added_all_or_none(season, refused):
    """A number that is taken refuses the whole list, and says what is wrong."""
    new = Player("44", "Kit Alder", Position.FORWARD)
    with refused("that number is taken", kind=NotSavedError):
        season.people.add([new, Player("7", "Sol Birch", Position.FORWARD)])
    assert len(season.people.players()) == len(PLAYERS)
    season.people.add([new])
    assert new in season.people.players()


@pytest.mark.parametrize("number", ["", "1O", "-1", "4.5", "²"])
def test_a_number_that_is_none_never_gets_in(season, refused, number):
    """A jersey number that cannot be sorted would make the roster unreadable: it is refused."""
    with refused("not saved: ", kind=NotSavedError):
        season.people.add([Player(number, "Kit Alder", Position.FORWARD)])
    assert len(season.people.players()) == len(PLAYERS)


def test_practices_are_added_all_or_none(season, refused):
    """One practice with a fault keeps the others of the list out."""
    good = replace(PRACTICES[0], key="2025-12-01")
    with refused("not saved: ", kind=NotSavedError):
        season.practices.add([good, Practice("2025-12-02", good.held_on, "pond")])
    assert season.practices.all() == PRACTICES


def test_nobody_is_in_two_slots_of_a_rep(season, refused):
    """A rep with one player twice is refused whole."""
    slots = {"breakout_d": PLAYERS[0].id, "line_d": PLAYERS[0].id}
    rep = Rep(PRACTICES[0].key, "breakout_attack", "two_on_one", slots, "bench")
    fact = RotationFact(rep.practice, rep.tablet, rep.drill, rep.step, Change.NEXT, rep.id)
    with refused("two slots", kind=NotSavedError):
        season.reps.begin(rep, fact)
    assert season.reps.all(rep.practice) == []
    assert season.reps.facts(rep.practice, rep.tablet) == []


def test_an_error_of_another_kind_also_takes_everything_back(season):
    """Whatever goes wrong within a load, no half of it stays and the next write works."""

    def broken():
        yield PRACTICES[0]
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        season.log.add_many(broken(), [tally(0)])
    season.log.add(tally(1))
    assert season.log.tallies() == [tally(1)]


def test_a_write_while_another_program_writes(season_path, refused):
    """While another connection holds the write lock a tally is not saved; reading goes on; then it is."""
    with open_season(season_path, wait=0) as season, closing(sqlite3.connect(season_path)) as other:
        other.execute("BEGIN IMMEDIATE")
        for write in (lambda: season.log.add(tally(0)), lambda: season.log.add_many([], [tally(0)])):
            with refused("another program is using the season file", kind=NotSavedError):
                write()
        assert season.log.tallies() == []
        assert len(season.people.players()) == len(PLAYERS)
        other.rollback()
        season.log.add(tally(0))
        assert season.log.tallies() == [tally(0)]


@pytest.mark.skipif(os.name == "nt", reason="Windows has no limit on the size of a file")
def test_a_disk_that_takes_no_more(season, season_path, refused):
    """When the disk takes no more, a tally is not saved, nothing is counted, and later ones are saved."""
    import resource

    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    season.log.add(tally(0))
    wal = season_path.with_name(f"{season_path.name}-wal").stat().st_size
    resource.setrlimit(resource.RLIMIT_FSIZE, (wal + 1000, hard))
    try:
        for write in (lambda: season.log.add(tally(1)), lambda: season.log.add_many([], [tally(1)])):
            with refused("the disk is full or failing", kind=NotSavedError):
                write()
        assert season.log.tallies() == [tally(0)]
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    season.log.add(tally(2))
    assert season.log.tallies() == [tally(0), tally(2)]


def test_damage_that_is_met_while_reading_is_said(tallied_path, refused):
    """A file whose inner pages were overwritten opens, and the read that meets the damage says so."""
    with tallied_path.open("r+b") as file:
        page = int.from_bytes(file.read(18)[16:18], "big")
        size = file.seek(0, os.SEEK_END)
        file.seek(page)
        file.write(b"\x5a" * (size - page))
    with refused("damaged", kind=SeasonFileError), open_season(tallied_path) as season:
        season.log.cells()
