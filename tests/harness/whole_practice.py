"""A whole practice at random through the desk and the boards, and beside it what must be true of it.

The clock jumps, the app is killed and started again, players are swapped, go off and come late, steps and
drills change, another tablet tallies into the same file. What is expected is kept by plain rules of its own.
"""

import os
import random
import shutil
import tempfile
from collections import Counter
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from uuid import UUID

from evaltrack.rink import ident
from evaltrack.rink.tally import Outcome
from evaltrack.touch.board.group_board import GroupBoard
from evaltrack.touch.board.rep_board import RepBoard
from evaltrack.touch.desk.desk import Desk

TODAY = date(2026, 1, 13)
NOON = 1_768_330_000_000
_JUMPS = (-86_400_000, -3_600_000, -600_000, -1_000, 1_000, 60_000, 1_200_000)
_OFTEN = ("tap_rep",) * 9 + ("tap_group",) * 3 + ("correct",) * 5 + ("back",) * 3 + ("undo",) * 3
_ACTS = (
    *_OFTEN, "empty", "next_rep", "next_rep", "next_step", "other_drill", "go_off", "come", "hurt_and_late",
    "pressure", "clock", "other_tablet", "rest", "restart", "kill", "end_and_go_on", "leave_open",
)  # fmt: skip


@dataclass
class Try:
    """One tally as it is expected: whose it is, where and when it was made."""

    player: UUID
    skill: str
    outcome: Outcome
    rep: UUID | None = None
    slot: str | None = None


@contextmanager
def home_of(folder: Path):
    """Have the settings of a tablet in a folder."""
    before = os.environ.get("EVALTRACK_HOME")
    os.environ["EVALTRACK_HOME"] = str(folder)
    try:
        yield
    finally:
        os.environ["EVALTRACK_HOME"] = before or ""


class WholePractice:
    """A practice on a copy of ``season``; AssertionError as soon as something that must hold does not."""

    def __init__(self, season: Path, rng: random.Random):
        self.rng, self.at, self.starts, self.done = rng, NOON, 0, Counter()
        self.folder = Path(tempfile.mkdtemp(prefix="practice-"))
        self.path = Path(shutil.copy(season, self.folder / "0.db"))
        self.tries: list[Try] = []
        self.changes: list[list[tuple[Try, UUID]]] = []  # of the line: what each has moved, and from whom
        self.off: set[UUID] = set()
        self._real_now = ident.now_ms
        ident.now_ms = lambda: self.at
        self._open()
        drill = rng.choice([drill for drill in self.desk.drills if drill.steps[0].slots])
        here = rng.sample(self.desk.players, rng.randint(4, len(self.desk.players)))
        here = [player for player in self.desk.players if player in here]
        assert self.desk.begin(TODAY, here, drill.key, drill.steps[0].key, "Ines"), self.desk.message
        self.board.take_up()
        self.check()

    def close(self) -> None:
        """Put everything away."""
        self.desk.close()
        ident.now_ms = self._real_now
        shutil.rmtree(self.folder)

    def _open(self) -> None:
        ident._last = 0  # nothing of the process before is left
        with home_of(self.folder / "tablet"):
            self.desk = Desk(clock=lambda: self.at)
            assert self.desk.open(self.path), self.desk.message
            self.desk.go_on()
        self.board, self.group = RepBoard(self.desk), GroupBoard(self.desk)
        if self.desk.practice:
            self.board.take_up()

    def step(self) -> None:
        """Do one thing at random, and check."""
        act = self.rng.choice(_ACTS)
        self.done[act] += 1
        self.at += self.rng.randint(200, 4_000)
        getattr(self, act)()
        self.desk.message = ""
        self.check()

    # what is done

    def tap_rep(self) -> None:
        """Tap a tile of the board by rep, of this rep or the next."""
        tiles = list(enumerate(self.board._tiles))
        if not tiles:
            return
        place, tile = self.rng.choice(tiles)
        rotation = self.board._bench.rotation
        coming = rotation.next_rep() if tile.following else rotation
        self.at += 400  # no glance: what is meant is what stands there now
        outcome, before = self.rng.choice(list(Outcome)), self._rotation_facts()
        tally, _ = self.board.tally(place, outcome)
        if coming.slots.get(tile.slot.key) is None:
            assert tally is None
            return
        assert tally.player == coming.slots[tile.slot.key]
        self._changed(before)
        self.tries.append(Try(tally.player, tile.skill, outcome, tally.rep, tile.slot.key))

    def tap_group(self) -> None:
        """Tap a tile of the group's board."""
        self.group.take_up()
        here = [place for place, face in enumerate(self.group.faces()) if face.here]
        if here:
            outcome, place = self.rng.choice(list(Outcome)), self.rng.choice(here)
            tally, _ = self.group.tally(place, outcome)
            self.tries.append(Try(tally.player, self.desk.station.skill, outcome))

    def undo(self) -> None:
        """Take the last tally back."""
        before, tally = self._rotation_facts(), self.desk.undo()
        assert (tally is None) == (not self.tries)
        if tally:
            gone = self.tries.pop()
            assert (tally.player, tally.skill, tally.outcome) == (gone.player, gone.skill, gone.outcome)
            self.board.undone(tally)
            for _ in range(self._rotation_facts() - before):  # it had begun the rep, and perhaps the step
                assert not self.changes.pop()

    def correct(self) -> None:
        """Put another player into a slot, and expect just the tries of that slot and rep to go along."""
        slots = [slot for slot in self.board._slots if self.board._bench.could_be(slot)]
        if not slots:
            return
        slot = self.rng.choice(slots)
        player = self.rng.choice(self.board._bench.could_be(slot)).id
        rotation, before = self.board._bench.rotation, self._rotation_facts()
        wrong, other = rotation.slots.get(slot.key), rotation.slot_of(player)
        self._press_plate(slot.key)
        self._press_choice(lambda face: face.number == self.desk.player(player).number and not face.small)
        self._changed(before)
        after = self.board._bench.rotation
        assert after.slots.get(slot.key) == player
        pairs = {slot.key: (wrong, player)}
        positions = {one.key: one.position for one in self.board._slots}
        if other and wrong == after.slots.get(other, "") and positions[other] == slot.position:
            pairs[other] = (player, wrong)  # two of one group have changed places
        self._move(pairs)

    def back(self) -> None:
        """Take the last change of the line back, and expect just what it moved to go back."""
        can, before = self.board.can_go_back, self._rotation_facts()
        self.board.back()
        if can:
            assert self._rotation_facts() == before + 1
            for one, player in self.changes.pop():
                one.player = player

    def empty(self) -> None:
        """Leave a slot empty."""
        if self.board._slots:
            before, slot = self._rotation_facts(), self.rng.choice(self.board._slots)
            self._press_plate(slot.key)
            self._press_choice(lambda face: face.title == "nobody")
            self._changed(before)

    def next_rep(self) -> None:
        """Begin the next rep."""
        before = self._rotation_facts()
        self.board.next_rep()
        self._changed(before)

    def next_step(self) -> None:
        """Look at the next step, and perhaps at the ones behind it and back again: nobody moves."""
        facts = self._rotation_facts()
        shown, at = self._shown(), (self.desk.station.drill, self.desk.station.step, self.desk.station.skill)
        for _ in range(self.rng.randint(1, 3)):
            self.desk.next_step()
            self.board.take_up()
        assert self._rotation_facts() == facts
        if self.rng.random() < 0.3:
            self.desk.run(*at[:2])
            self.desk.watch(skill=at[2])
            self.board.take_up()
            assert self._shown()[1:] == shown[1:]

    def other_drill(self) -> None:
        """Change the drill."""
        drill = self.rng.choice(self.desk.drills)
        self.desk.run(drill.key, self.rng.choice(drill.steps).key)
        self.board.take_up()

    def go_off(self) -> None:
        """Say on the board by rep that the player in a slot is off the ice."""
        slots = self.board._bench.rotation.slots
        if not slots or len(self.desk.here()) < 2:
            return
        key = self.rng.choice(list(slots))
        player = slots[key]
        self._press_plate(key)
        self._press_choice(lambda face: face.title == "off the ice")
        self.board.take_up()
        self._final({player}, set())

    def come(self) -> None:
        """Say on the board by rep that a player who was not here stands in a slot."""
        late = [player for player in self.desk.players if player not in self.desk.here()]
        if not (late and self.board._slots):
            return
        slot, player = self.rng.choice(self.board._slots), self.rng.choice(late)
        self._press_plate(slot.key)
        before, number = self._rotation_facts(), player.number
        self._press_choice(lambda face: face.number == number and face.small == "comes now")
        self._final(set(), {player.id})
        assert self.board._bench.rotation.slots.get(slot.key) == player.id
        self._changed(before + 1)
        # whoever stood there when they came: they may have stepped in by themselves, where nobody waited
        corrected = self.board._bench.running.put_right.get(slot.key)
        if corrected:
            self._move({slot.key: corrected})
        self.board.take_up()

    def hurt_and_late(self) -> None:
        """Change who is here on the practice screen."""
        here = {player.id for player in self.desk.here()}
        changed = {player.id for player in self.rng.sample(self.desk.players, 2)}
        if here ^ changed:
            now = [player for player in self.desk.players if player.id in here ^ changed]
            assert self.desk.arrange(now), self.desk.message
            self.board.take_up()
            self._final(here & changed, changed - here)

    def pressure(self) -> None:
        """Turn pressure on or off."""
        assert self.desk.watch(pressure=not self.desk.station.pressure)

    def clock(self) -> None:
        """Set the tablet's clock."""
        self.at += self.rng.choice(_JUMPS)

    def rest(self) -> None:
        """Pause."""
        assert self.desk.rest()

    def other_tablet(self) -> None:
        """Let another tablet, with a clock of its own, tally into the same file."""
        with home_of(self.folder / "other"):
            other = Desk(clock=lambda: self.at + self.rng.randint(-(10**8), 10**8))
            assert other.open(self.path), other.message
            other.go_on()
            if not other.practice:
                at = self.desk.station
                assert other.begin(TODAY, self.desk.here(), at.drill, at.step, "Tuomo"), other.message
            tally = other.tally(self.rng.choice(other.players).id, Outcome.DONE)
            assert tally
            if self.rng.random() < 0.4:
                assert other.undo().id == tally.id
            assert other.practice.key == self.desk.practice.key
            other.close()

    def restart(self) -> None:
        """Close the app and start it again."""
        shown = self._shown()
        self.desk.close()
        self._open()
        self.starts += 1
        assert self._shown() == shown

    def kill(self) -> None:
        """Go on with the files as they lie there after a kill."""
        shown, self.starts = self._shown(), self.starts + 1
        next_path = self.folder / f"{self.starts}.db"
        for side in ("", "-wal"):
            if Path(f"{self.path}{side}").exists():
                shutil.copy(f"{self.path}{side}", f"{next_path}{side}")
        self.desk.close()
        self.path = next_path
        self._open()
        assert self._shown() == shown

    def end_and_go_on(self) -> None:
        """End the practice too early, and go on with it with those who were here."""
        at, here = self.desk.station, self.desk.here()
        assert self.desk.end()
        assert self.desk.practice is None
        assert self.desk.begin(TODAY, here, at.drill, at.step, at.observer), self.desk.message
        self.board.take_up()

    def leave_open(self) -> None:
        """Leave the app for two days: it asks, and goes on with what was shown."""
        shown = self._shown()
        self.desk.close()
        last = self.at
        self.at = max(self.at, NOON + 2 * 86_400_000) + 2 * 86_400_000
        with home_of(self.folder / "tablet"):
            self.desk = Desk(clock=lambda: self.at)
            assert self.desk.open(self.path)
            assert (self.desk.practice, self.desk.left_open.key) == (None, TODAY.isoformat())
            self.desk.go_on()
        self.board, self.group = RepBoard(self.desk), GroupBoard(self.desk)
        self.board.take_up()
        assert self._shown() == shown
        self.at = last

    # what must hold

    def check(self) -> None:
        """Check that every try belongs to whom it should, and that nobody is where they cannot be."""
        count = len(self.tries)
        found = [(t.player, t.skill, t.outcome) for t in self.desk.last(count + 1)][::-1]
        assert found == [(one.player, one.skill, one.outcome) for one in self.tries]
        rotation = self.board._bench.rotation
        waiting = [player for line in rotation.queues.values() for player in line]
        everyone = [*rotation.slots.values(), *waiting]
        here = {player.id for player in self.desk.here()}
        assert len(everyone) == len(set(everyone))
        assert set(everyone) == here
        assert not self.off & here
        places = [a.place for a in self.desk.attendance.values()]
        assert len(places) == len(set(places))

    def _shown(self) -> tuple:
        """Return all that the screens show."""
        desk, line = self.desk, self.board._bench
        at = desk.station
        watched = (desk.practice.key, at.drill, at.step, at.skill, at.pressure, at.observer)
        places = {a.player: (a.here, a.place) for a in desk.attendance.values()}
        strip = [(t.player, t.skill, t.outcome, t.pressure) for t in desk.last(len(self.tries) + 1)]
        queue = line.rotation.slots, line.rotation.queues, line.rotation.closed, line.running.number
        return watched, places, strip, desk.total, queue, self.board.can_go_back

    def _final(self, off: set[UUID], come: set[UUID]) -> None:
        """Note who went and who came: nothing before that can be taken back."""
        self.off = (self.off | off) - come
        self.changes = []

    def _move(self, pairs: dict[str, tuple[UUID, UUID]]) -> None:
        """Expect tries of this rep, made in these slots for the first of a pair, to be the other's."""
        rep, moved = self.board._bench.rep.id, []
        for one in self.tries:
            if one.rep == rep and one.slot in pairs and pairs[one.slot][0] == one.player:
                moved.append((one, one.player))
                one.player = pairs[one.slot][1]
        self.changes[-1] = moved

    def _changed(self, before: int) -> None:
        """Note as many changes of the line as there are facts more, none of which has moved anything."""
        self.changes += [[] for _ in range(self._rotation_facts() - before)]

    def _rotation_facts(self) -> int:
        return self.desk.season._connection.execute("SELECT count(*) FROM line_fact").fetchone()[0]

    def _press_plate(self, slot: str) -> None:
        self.board.choosing = ""
        self.board.press([one.key for one in self.board._slots].index(slot))

    def _press_choice(self, wanted) -> None:
        first = len(self.board._slots) + 1
        (index,) = [i for i, face in enumerate(self.board.buttons()) if i >= first and wanted(face)]
        self.board.press(index)
