"""Undo and redo in any order, on every board, against a plain list of acts; and with real touches.

A model keeps what was done as a list of states: undo steps back in it, redo forward, a new act cuts off what
lies ahead. The log of the season file only grows meanwhile, and in whatever order its facts come to another
file, the same tallies count there.
"""

import shutil
import sqlite3
import tempfile
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from on_boards import board_of, both_ways_up, correct, in_slots, screen_of, tap, written
from pressing import press
from seasons_for_touch import new_season

from evaltrack.device.tablet import BoardKind
from evaltrack.rink.tally import Outcome, Withdrawal
from evaltrack.store.opening import open_season
from evaltrack.touch.board.boards import Boards
from evaltrack.touch.board.taking_back import TakingBack
from evaltrack.touch.desk.desk import Desk

DONE, MISSED = Outcome.DONE, Outcome.MISSED
_ANY = st.integers(0, 10_000)


class Bench(RuleBasedStateMachine):
    """An assistant who taps on two boards, puts slots right, and goes back and forth."""

    folder: Path

    @initialize(step=st.sampled_from(["two_on_one", "three_on_one"]))
    def begin(self, step):
        self.now = 1_768_330_000_000
        self.path = Path(tempfile.mkdtemp(dir=self.folder)) / "season.db"
        shutil.copy(self.folder / "season.db", self.path)
        self.desk = Desk(clock=lambda: self.now)
        assert self.desk.open(self.path)
        assert self.desk.begin(date(2026, 1, 13), self.desk.players, "breakout_attack", step, "Ines")
        self.boards = Boards(self.desk)
        self.rep, self.group = self.boards[BoardKind.REP], self.boards[BoardKind.GROUP]
        assert self.rep.take_up()
        assert self.group.take_up()
        self.taking_back = TakingBack(self.desk, self.boards)
        self.states, self.at, self.facts = [self.state()], 0, 0

    def teardown(self):
        if hasattr(self, "desk"):
            self.desk.close()
            shutil.rmtree(self.path.parent)

    def state(self):
        """Return what counts, in which rep, and who is where, with no ids in it."""
        running, reps, line = self.rep._bench.running, [None], self.rep._bench.running
        while line:
            reps.append(line.rep.id)
            line = line.before
        nth = {rep: n for n, rep in enumerate(dict.fromkeys(reps[::-1]))}
        tallies = [
            (t.player, t.skill, t.outcome, t.pressure, t.at, t.slot, nth[t.rep])
            for t in self.desk.last(10_000)
        ]
        return tallies, running.rotation.slots, running.rotation.queues, running.number

    def did(self):
        self.states[self.at + 1 :] = [self.state()]
        self.at += 1

    @rule(which=_ANY, outcome=st.sampled_from(Outcome), later=st.sampled_from([400, 5000]))
    def tap_by_rep(self, which, outcome, later):
        self.now += later
        if self.rep.tally(which % len(self.rep._tiles), outcome)[0]:
            self.did()

    @rule(which=_ANY, outcome=st.sampled_from(Outcome))
    def tap_by_group(self, which, outcome):
        self.now += 400
        self.group.tally(which % len(self.desk.players), outcome)
        self.did()

    @rule()
    def next_rep(self):
        self.now += 400
        self.rep.next_rep()
        self.did()

    @rule(outcome=st.sampled_from(Outcome), times=st.integers(1, 3))
    def tap_in_a_rep_and_go_back_and_forth(self, outcome, times):
        self.next_rep()
        for place in range(times):
            self.tap_by_rep(place, outcome, 5000)
        self.undo(times + 1)
        self.redo(times + 1)

    @rule(slot=_ANY, which=_ANY)
    def put_right(self, slot, which):
        self.now += 400
        bench, slot = self.rep._bench, self.rep._slots[slot % len(self.rep._slots)]
        could = bench.could_be(slot)
        assert bench.swap(slot.key, could[which % len(could)].id)
        self.did()

    @rule(slot=_ANY)
    def leave_empty(self, slot):
        self.now += 400
        slot = self.rep._slots[slot % len(self.rep._slots)]
        assert self.rep._bench.empty(slot.key)
        self.did()

    @rule(times=st.integers(1, 6))
    def undo(self, times):
        for _ in range(times):
            self.now += 400
            offered = self.taking_back.would_undo(BoardKind.REP)
            assert bool(offered) == (self.at > 0)
            self.taking_back.undo(BoardKind.REP)
            self.at -= self.at > 0
            assert self.state() == self.states[self.at]

    @rule(times=st.integers(1, 6))
    def redo(self, times):
        for _ in range(times):
            self.now += 400
            offered = self.taking_back.would_redo(BoardKind.REP)
            assert bool(offered) == (self.at < len(self.states) - 1)
            self.taking_back.redo(BoardKind.REP)
            self.at += self.at < len(self.states) - 1
            assert self.state() == self.states[self.at]

    @rule(kind=st.sampled_from([BoardKind.GROUP, BoardKind.PLAYER]))
    def undo_and_redo_elsewhere(self, kind):
        """On a board without slots only a tally is undone, and comes back with the rep that it began."""
        act = self.taking_back.would_undo(BoardKind.REP)
        if act and act.tally:
            self.boards[kind].take_up()
            before = self.state()
            assert self.taking_back.undo(kind)[0]
            assert self.state() == self.states[self.at - 1]
            assert self.taking_back.would_redo(kind).tally
            self.taking_back.redo(kind)
            assert self.state() == before

    @rule()
    def look_at_another_skill(self):
        assert self.desk.watch(skill="stop", pressure=not self.desk.station.pressure)

    @invariant()
    def the_log_only_grows(self):
        if hasattr(self, "desk"):
            tables = ("tally", "withdrawal", "line_fact")
            count = f"SELECT {' + '.join(f'(SELECT count(*) FROM {table})' for table in tables)}"
            (facts,) = self.desk.season._connection.execute(count).fetchone()
            assert facts >= self.facts
            self.facts = facts

    @invariant()
    def what_counts_is_on_disk(self):
        if hasattr(self, "desk"):
            counted = self.desk.season.log.tallies(practice=self.desk.practice.key)
            assert {t.id for t in counted} == {t.id for t in self.desk.last(10_000)}


@pytest.fixture(scope="module", autouse=True)
def _a_season_to_copy(tmp_path_factory):
    Bench.folder = tmp_path_factory.mktemp("undo")
    new_season(Bench.folder / "season.db")


Bench.TestCase.settings = settings(max_examples=15, stateful_step_count=25, deadline=None)
TestBench = Bench.TestCase


@both_ways_up
@pytest.mark.parametrize("kind", ["Group", "By rep", "Player"])
def test_what_was_undone_by_mistake_comes_back_with_one_tap(bench, season_path, kind):
    """Redo says what it brings back, the same try comes back, and no tile moves for the key."""
    press(bench, kind)
    screen, board = screen_of(bench), board_of(bench)
    assert screen.redoes == ""
    places = dict(board.layout.tiles)
    tap(bench, 1, DONE)
    before, said = written(season_path), screen.undoes
    (made,) = bench.app.desk.last(1)
    press(bench, "Undo")
    assert (written(season_path), screen.undoes) == ([], "")
    number, outcome = said.split(",")[0].split(" ")[0], said.split(",")[0].split(" ")[-1]
    assert screen.redoes.split(",")[0] == f"{number} {outcome}"  # brief: it stands on a narrow key
    assert board.layout.tiles == places
    press(bench, "Redo")
    (again,) = bench.app.desk.last(1)
    assert replace(again, id=made.id, rep=made.rep) == made
    assert (written(season_path), screen.redoes, screen.undoes) == (before, "", said)
    assert board.layout.tiles == places


def test_something_new_takes_redo_away(bench):
    """A tap after an undo leaves nothing to be done again; looking at another skill does."""
    screen = screen_of(bench)
    tap(bench, 1, DONE)
    tap(bench, 2, MISSED)
    press(bench, "Undo")
    said = screen.redoes
    assert said
    press(bench, "Pressure")
    assert screen.redoes.startswith(said.split(",")[0])
    tap(bench, 3, DONE)
    assert (screen.redoes, screen.ids.redo.width) == ("", 0)
    bench.key(ord("r"), "r")
    assert bench.app.desk.total == 2


def test_a_rep_and_a_slot_come_back_by_rep_and_are_no_act_on_another_board(bench):
    """By rep undo takes the slot and the rep back, and redo brings them; the group's board shows neither."""
    press(bench, "By rep")
    screen, first = screen_of(bench), in_slots(bench)
    press(bench, "Next rep")
    second = in_slots(bench)
    assert screen.undoes == "next rep"
    correct(bench, "Wall F", bench.app.desk.here()[-2].number)
    third, said = in_slots(bench), screen.undoes
    press(bench, "Undo")
    press(bench, "Undo")
    assert (in_slots(bench), screen.redoes, screen.undoes) == (first, "next rep", "")
    press(bench, "Group")
    assert (screen.redoes, screen.undoes) == ("", "")
    press(bench, "By rep")
    press(bench, "Redo")
    assert (in_slots(bench), screen.redoes) == (second, said)
    press(bench, "Redo")
    assert (in_slots(bench), screen.redoes) == (third, "")


def test_the_facts_of_undo_and_redo_mean_the_same_in_any_order(bench, season_path, tmp_path):
    """Tallies and withdrawals that come to another file backwards, and twice, leave the same tallies."""
    for place in (1, 2, 3):
        tap(bench, place, DONE)
    for title in ("Undo", "Undo", "Redo", "Undo", "Redo", "Redo", "Undo"):
        press(bench, title)
    other = new_season(tmp_path / "other.db")
    with open_season(season_path) as season:
        kept = season.log.tallies()
        rows = season._connection.execute("SELECT tally, tablet, at FROM withdrawal").fetchall()
        tallies = season._connection.execute("SELECT * FROM tally").fetchall()
    connection = sqlite3.connect(other)
    for row in reversed(rows * 2):
        connection.execute("INSERT OR IGNORE INTO withdrawal VALUES (?, ?, ?)", row)
    connection.execute("PRAGMA foreign_keys = OFF")
    marks = ", ".join("?" * len(tallies[0]))
    for row in reversed(tallies * 2):
        connection.execute(f"INSERT OR IGNORE INTO tally VALUES ({marks})", row)
    left = "SELECT id FROM tally t WHERE NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.tally = t.id)"
    found = {row[0] for row in connection.execute(left)}
    connection.close()
    assert found == {tally.id.bytes for tally in kept}
    assert Withdrawal(kept[0].id).tally not in {row[0] for row in rows}
    assert len(kept) == 2


@pytest.mark.parametrize("kind", [BoardKind.GROUP, BoardKind.REP])
def test_where_nothing_was_undone_redo_changes_nothing(bench, season_path, kind):
    """Asked for all the same it says that there is neither a tally nor a board to draw again."""
    taking_back = screen_of(bench)._taking_back
    assert taking_back.would_redo(kind) is None
    assert taking_back.redo(kind) == (None, False)
    assert written(season_path) == []
