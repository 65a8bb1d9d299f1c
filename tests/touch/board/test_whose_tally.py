"""Whose a tally is, whatever happens at the board by rep: anything in any order, on a real desk and file.

Taps on this rep and the next, slots put right, left empty, players off the ice and late, the next rep, other
steps and drills, back, undo, a clock that is set back, an app that starts again. After each: every tally
belongs to the player who stood in its slot, unless a correction says otherwise; going back after one gives
back exactly what it moved; nobody is in two slots; nobody who is off is in any; looking through the steps
writes nothing; and after a new start all of it is the same.
"""

import shutil
import tempfile
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from uuid import UUID

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from seasons_for_touch import new_season

from evaltrack.rink.tally import Outcome
from evaltrack.touch.board.rep_board import RepBoard
from evaltrack.touch.desk.desk import Desk

_ANY = st.integers(0, 10_000)


@dataclass
class Made:
    """A try that was tallied, and whose it is by now."""

    rep: UUID
    slot: str
    skill: str
    outcome: Outcome
    owner: UUID


@dataclass
class Change:
    """A change that can be taken back: the number of its fact, and what it moved, with whose it was."""

    nth: int
    moved: list[tuple[Made, UUID]] = field(default_factory=list)


class Bench(RuleBasedStateMachine):
    """An assistant who does anything at any moment, and what has to come of it."""

    folder: Path

    @initialize(
        few=st.one_of(st.integers(4, 8), st.integers(9, 20)),
        step=_ANY,
        players=st.permutations(range(20)),
        start=st.integers(0, 9),
    )
    def begin(self, few, step, players, start):
        self.now = 1_768_330_000_000
        self.path = Path(tempfile.mkdtemp(dir=self.folder)) / "season.db"
        shutil.copy(self.folder / "season.db", self.path)
        self.desk = self.open()
        self.steps = [(d.key, s.key) for d in self.desk.drills for s in d.steps if s.slots]
        here = [self.desk.players[i] for i in players[:few]]
        assert self.desk.begin(date(2026, 1, 13), here, *self.steps[step % len(self.steps)], "Ines")
        self.take_up()
        self.made, self.changes = [], []

    def open(self) -> Desk:
        desk = Desk(clock=lambda: self.now)
        assert desk.open(self.path), desk.message
        return desk

    def take_up(self):
        self.board = RepBoard(self.desk)
        assert self.board.take_up()
        self.line = self.board._bench

    def teardown(self):
        if hasattr(self, "desk"):
            self.desk.close()
            shutil.rmtree(self.path.parent)

    def kept(self, moved=()):
        """Follow what can be taken back: a change is pushed, or the last ones are gone."""
        line, known = self.line._kept, [change.nth for change in self.changes]
        newer = []
        while line.can_go_back and line.nth not in known:
            newer.append(Change(line.nth))
            line = line.before
        if not line.can_go_back:
            self.changes = []
        while self.changes and self.changes[-1].nth != line.nth:
            self.changes.pop()
        self.changes += newer[::-1]
        if moved:
            self.changes[-1].moved = list(moved)

    def facts(self):
        return self.desk.season.reps.facts(self.desk.practice.key, self.desk.tablet.id)

    @rule(which=_ANY, outcome=st.sampled_from(Outcome))
    def tap(self, which, outcome):
        self.now += 700
        place = which % len(self.board._tiles)
        tile = self.board._tiles[place]
        rotation = self.line.rotation.next_rep() if tile.following else self.line.rotation
        stands = rotation.slots.get(tile.slot.key)
        tally, _ = self.board.tally(place, outcome)
        assert (tally and tally.player) == stands
        if tally:
            assert (tally.rep, tally.slot) == (self.line.rep.id, tile.slot.key)
            self.made.append(Made(tally.rep, tally.slot, tally.skill, outcome, stands))
        self.kept()

    @rule(outcome=st.sampled_from(Outcome))
    def tap_all_of_this_rep(self, outcome):
        for place in [n for n, tile in enumerate(self.board._tiles) if not tile.following]:
            self.tap(place, outcome)

    @rule(slots=st.lists(_ANY, min_size=2, max_size=4), which=_ANY, backs=st.integers(0, 4))
    def put_right_again_and_again(self, slots, which, backs):
        for n, slot in enumerate(slots):
            self.tap_all_of_this_rep(Outcome.DONE)
            self.put_right(slot, which + n)
        for _ in range(backs):
            self.back()

    @rule(slot=_ANY, which=_ANY)
    def put_right(self, slot, which):
        self.now += 700
        number, board = slot % len(self.board._slots), self.board
        slot, before = board._slots[number], self.line.rotation
        rep = self.line.rep.id if self.line.is_kept else None
        board.press(number)
        first = len(board._slots) + 1
        chosen = which % (len(board.buttons()) - first)
        face = board.buttons()[first + chosen]
        board.press(first + chosen)
        by_number = {p.number: p for p in self.desk.players}
        moved = []
        if face.number:
            moved = self.moved_by(before, slot, by_number[face.number].id, rep)
        self.kept(moved)

    def moved_by(self, before, slot, right, rep):
        """Give what was tallied in a slot of this rep while somebody else stood there to who it was."""
        pairs, wrong = {}, before.slots.get(slot.key)
        if wrong:
            pairs[slot.key, wrong] = right
            other = next((s for s in before.step.slots if before.slots.get(s.key) == right), None)
            if other and other.position == slot.position:
                pairs[other.key, right] = wrong
        moved = [(m, m.owner) for m in self.made if m.rep == rep and (m.slot, m.owner) in pairs]
        for made, owner in moved:
            made.owner = pairs[made.slot, owner]
        return moved

    @rule()
    def next_rep(self):
        self.now += 700
        self.board.next_rep()
        self.kept()

    @rule()
    def back(self):
        self.now += 700
        can, top = self.board.can_go_back, self.changes[-1:]
        assert can <= bool(top)
        self.board.back()
        if can:
            for made, owner in top[0].moved:
                made.owner = owner
        self.kept()
        assert not can or self.changes[-1:] != top

    @rule(times=st.integers(1, 3))
    def undo(self, times):
        for _ in range(times):
            self.now += 700
            tally = self.desk.undo()
            if tally:
                gone = self.made.pop()
                assert (tally.player, tally.slot) == (gone.owner, gone.slot)
                for change in self.changes:  # what is gone does not come back
                    change.moved = [(made, owner) for made, owner in change.moved if made is not gone]
                self.board.undone(tally)
            self.kept()

    @rule(ways=st.lists(_ANY, min_size=1, max_size=3), back=st.booleans())
    def look_through_the_steps(self, ways, back):
        self.now += 700
        at, before, facts = self.desk.station, self.shown(), len(self.facts())
        for way in ways:
            assert self.desk.run(*self.steps[way % len(self.steps)])
            assert self.board.take_up()
        assert len(self.facts()) == facts
        if back:
            assert self.desk.run(at.drill, at.step)
            assert self.board.take_up()
            assert self.shown() == before

    @rule(who=st.lists(_ANY, min_size=1, max_size=3))
    def come_or_go(self, who):
        self.now += 700
        players = [self.desk.players[n % len(self.desk.players)] for n in who]
        here = [p for p in self.desk.here() if p not in players]
        here += [p for p in players if p not in self.desk.here()]
        if here:
            assert self.desk.arrange(here)
            assert self.board.take_up()
            self.kept()

    @rule()
    def clock_is_set_back(self):
        self.now -= 600_000

    @precondition(lambda self: hasattr(self, "desk"))
    @rule()
    def start_anew(self):
        before = self.shown(), [(t.player, t.slot) for t in self.desk.last(10_000)]
        self.desk.close()
        self.desk = self.open()
        if not self.desk.practice:
            self.desk.go_on()
        self.take_up()
        assert (self.shown(), [(t.player, t.slot) for t in self.desk.last(10_000)]) == before

    def shown(self):
        """Return what the board shows, the counts included."""
        rotation = self.line.rotation
        return (self.board.words, rotation.slots, rotation.queues, self.board.can_go_back, self.board.faces())

    @invariant()
    def every_tally_is_whose_it_is(self):
        if hasattr(self, "made"):
            book = [(t.rep, t.slot, t.skill, t.outcome, t.player) for t in self.desk.last(10_000)[::-1]]
            assert book == [(m.rep, m.slot, m.skill, m.outcome, m.owner) for m in self.made]

    @invariant()
    def nobody_is_twice_or_off_and_in_a_slot(self):
        if hasattr(self, "made"):
            rotation = self.line.rotation
            inside = list(rotation.slots.values())
            assert len(inside) == len(set(inside))
            assert set(rotation.groups) == {player.id for player in self.desk.here()}
            assert set(inside) <= set(rotation.groups)
            assert (self.desk.station.drill, self.desk.station.step) == (
                self.line.rep.drill, self.line.rep.step,
            )  # fmt: skip


@pytest.fixture(scope="module", autouse=True)
def _a_season_to_copy(tmp_path_factory):
    Bench.folder = tmp_path_factory.mktemp("bench")
    new_season(Bench.folder / "season.db")


Bench.TestCase.settings = settings(max_examples=10, stateful_step_count=30, deadline=None)
TestBench = Bench.TestCase
