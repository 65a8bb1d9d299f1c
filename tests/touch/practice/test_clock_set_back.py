"""A tablet whose clock is set back in a practice, and which is then stopped, comes back as it was shown.

Cases: what is watched, who is here, undo; the identifiers of a later start; two tablets with clocks of their
own in one file; late players that another program has noted meanwhile; the practice that Start names.
"""

import os
import sqlite3
from contextlib import closing
from datetime import date, timedelta

import pytest

from evaltrack.rink import ident
from evaltrack.rink.practice import local_day
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.opening import open_season
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.desk.season_in_hand import NOT_WHOLE
from evaltrack.touch.practice.earlier import earlier_on

TODAY = date(2026, 1, 13)
NOON = 1_768_330_000_000


class Clock:
    """A clock that the test sets, for the desk and for identifiers."""

    def __init__(self, at: int = NOON):
        self.at = at

    def __call__(self) -> int:
        return self.at


@pytest.fixture
def clock(monkeypatch):
    """Return the clock of this tablet."""
    clock = Clock()
    monkeypatch.setattr(ident, "now_ms", clock)
    return clock


def opened(path, clock) -> Desk:
    desk = Desk(clock=clock)
    assert desk.open(path), desk.message
    return desk


def restarted(desk: Desk, path, clock, monkeypatch) -> Desk:
    """Stop the app as a kill does, and start it again: nothing of the process is left."""
    desk.close()
    monkeypatch.setattr(ident, "_last", 0)
    return opened(path, clock)


def begun(desk: Desk, on: date = TODAY, **how) -> None:
    assert desk.begin(on, desk.players, "breakout_attack", "two_on_one", "Ines", **how), desk.message


def test_what_was_shown_comes_back(season_path, clock, monkeypatch):
    """Ten minutes back: the later step, skill and pressure hold, and nobody who was hurt is here again."""
    desk = opened(season_path, clock)
    begun(desk)
    first, second, hurt = (player.id for player in desk.players[1:4])
    clock.at += 60_000
    desk.tally(first, Outcome.DONE)
    clock.at -= 600_000
    desk.tally(second, Outcome.MISSED)
    desk.watch(pressure=True)
    desk.next_step()
    desk.watch(skill="gap_at_line")
    desk.arrange([player for player in desk.players if player.id != hurt])
    assert not desk.attendance[hurt].here
    shown = desk.station, desk.last(5), desk.attendance
    again = restarted(desk, season_path, clock, monkeypatch)
    assert (again.station, again.last(5), again.attendance) == shown
    assert not again.attendance[hurt].here
    assert again.undo().player == second
    assert again.undo().player == first
    again.close()


def test_undo_takes_back_in_the_order_of_taps_over_many_starts(season_path, clock, monkeypatch):
    """Each start finds the clock an hour earlier; the last tap is still the one that was made last."""
    desk, made = opened(season_path, clock), []
    begun(desk)
    for start in range(4):
        for player in desk.players[start : start + 3]:
            made.append(desk.tally(player.id, Outcome.DONE).id)
        clock.at -= 3_600_000
        desk = restarted(desk, season_path, clock, monkeypatch)
    assert made == sorted(made)
    assert [desk.undo().id for _ in made] == made[::-1]
    desk.close()


def test_two_tablets_in_one_file_each_come_back_to_their_own(season_path, tmp_path, clock, monkeypatch):
    """Two tablets, a day apart by their clocks: each has its own station, strip and undo."""
    homes = [tmp_path / "bench", tmp_path / "stand"]
    clocks = [clock, Clock(NOON + 86_400_000)]

    def at(tablet: int, act):
        monkeypatch.setenv("EVALTRACK_HOME", str(homes[tablet]))
        desk = opened(season_path, clocks[tablet])
        try:
            return act(desk)
        finally:
            desk.close()

    def tallied(desk: Desk) -> Tally:
        if not desk.practice:
            begun(desk)
        return desk.tally(desk.players[0].id, Outcome.DONE)

    def watching(desk: Desk):
        desk.watch(skill="gap_at_line")
        return desk.station

    mine, theirs = at(0, tallied), at(1, tallied)
    assert mine.practice == theirs.practice == TODAY.isoformat()
    assert mine.tablet != theirs.tablet
    watched = at(0, watching)
    clock.at -= 7_200_000
    assert at(1, lambda desk: desk.station.skill) != "gap_at_line"
    assert at(0, lambda desk: desk.station) == watched
    assert at(0, lambda desk: (desk.total, desk.others, desk.last(1)[0].id)) == (1, 1, mine.id)
    assert at(1, lambda desk: desk.undo().id) == theirs.id


def test_late_players_never_share_a_place(season_path, clock):
    """A form with an absent player's tick is loaded while the practice runs; then a late one comes."""
    desk = opened(season_path, clock)
    *here, absent, late = desk.players
    assert desk.begin(TODAY, here, "breakout_attack", "two_on_one", "Ines")
    with open_season(season_path) as other:
        tally = Tally(
            TODAY.isoformat(), absent.id, "stop", Outcome.DONE, "breakout_attack", "two_on_one", "Ines"
        )
        assert other.log.add_many([], [tally]) == 1
    assert desk.arrange([*desk.here(), late])
    places = [a.place for a in desk.attendance.values()]
    assert len(places) == len(set(places)) == len(desk.players)
    desk.close()


def test_start_runs_the_practice_that_it_names(season_path, tmp_path, clock, monkeypatch):
    """Another tablet, a day ahead, is still in a practice: Start here is for here and now."""
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "ahead"))
    other = opened(season_path, Clock(NOON + 86_400_000))
    begun(other, TODAY + timedelta(days=1))
    other.close()
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "here"))
    desk = opened(season_path, clock)
    assert desk.practice is None
    begun(desk)
    assert desk.practice.held_on == TODAY
    assert desk.tally(desk.players[0].id, Outcome.DONE).practice == TODAY.isoformat()
    desk.close()


def test_a_second_practice_of_a_day_has_its_own_key(season_path, clock, monkeypatch):
    """In the morning and in the evening: two practices, and a start goes on with the last one."""
    desk = opened(season_path, clock)
    begun(desk)
    desk.tally(desk.players[0].id, Outcome.DONE)
    desk.end()
    begun(desk, another=True)
    assert (desk.practice.key, desk.total) == (f"{TODAY.isoformat()}.2", 0)
    desk = restarted(desk, season_path, clock, monkeypatch)
    assert desk.practice.key == f"{TODAY.isoformat()}.2"
    desk.end()
    begun(desk)
    assert desk.practice.key == f"{TODAY.isoformat()}.2"
    desk.close()


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file in its place")
@pytest.mark.parametrize("how", ["end", "over", "rest", "close"])
def test_a_copy_of_the_file_alone_has_all_that_was_tallied(season_path, tmp_path, clock, how):
    """A hundred taps, then End now or later, a pause, or the app closed; a coach copies the file alone."""
    desk = opened(season_path, clock)
    begun(desk)
    for n in range(100):
        desk.tally(desk.players[n % 20].id, Outcome.DONE)
    if how == "over":  # it was left open, and somebody says on the first screen that it has ended
        desk.leave_open()
    getattr(desk, "end_left_open" if how == "over" else how)()
    copy = tmp_path / "stick.db"
    copy.write_bytes(season_path.read_bytes())
    with open_season(copy) as season:
        assert season.log.count() == 100
        assert [practice.held_on for practice in season.practices.all()] == [TODAY]
    desk.close()


def test_who_went_off_stays_off_whatever_another_tablet_says_of_others(
    season_path, tmp_path, clock, monkeypatch
):
    """A second tablet, which still shows them as here, marks somebody else off, or goes on from its start."""
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "bench"))
    desk = opened(season_path, clock)
    begun(desk)
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "stand"))
    other = opened(season_path, Clock(NOON + 5_000))
    shown = [player.id for player in other.players]
    begun(other)
    hurt, tired = desk.players[3], other.players[8]
    assert desk.arrange([player for player in desk.here() if player != hurt])
    assert other.arrange([player for player in other.here() if player != tired])
    assert not other.attendance[hurt.id].here
    begun(other, shown=shown)
    for one in (desk, other):
        assert one.arrange(one.here())
        gone = {player for player, mark in one.attendance.items() if not mark.here}
        assert hurt.id in gone
        one.close()


@pytest.mark.parametrize("hours", [1, 12])
def test_nobody_who_went_off_is_taken_for_here_in_the_next_practice(season_path, clock, hours):
    """The second practice of the day, or one that begins after midnight, does not begin with who was hurt."""
    desk = opened(season_path, clock)
    begun(desk)
    hurt = desk.players[4]
    desk.arrange([player for player in desk.here() if player != hurt])
    desk.end()
    later = local_day(NOON + hours * 3_600_000)
    assert hurt.id in earlier_on(desk, later).gone
    assert earlier_on(desk, later + timedelta(days=2)).gone == frozenset()
    desk.close()


def test_a_clock_that_was_ahead_for_a_while_does_not_hide_a_forgotten_end(season_path, clock, monkeypatch):
    """A week ahead for one tap, put right for the next; three days later it asks."""
    desk = opened(season_path, clock)
    begun(desk)
    clock.at += 7 * 86_400_000
    desk.tally(desk.players[0].id, Outcome.DONE)
    clock.at -= 7 * 86_400_000 - 1000
    desk.watch(pressure=True)
    desk.tally(desk.players[1].id, Outcome.DONE)
    clock.at += 3 * 86_400_000
    desk = restarted(desk, season_path, clock, monkeypatch)
    assert (desk.practice, desk.left_open.key) == (None, TODAY.isoformat())
    desk.close()


def test_where_the_file_alone_is_not_whole_it_says_so(season_path, clock):
    """Another program reads an older state at End: all is saved, and nobody is told the file is whole."""
    desk = opened(season_path, clock)
    begun(desk)
    with closing(sqlite3.connect(season_path, isolation_level=None)) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM tally").fetchone()
        desk.tally(desk.players[0].id, Outcome.DONE)
        assert desk.end()
        assert desk.message == NOT_WHOLE
    assert desk.rest(patient=False)
    assert desk.message == ""
    desk.close()
