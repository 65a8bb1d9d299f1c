"""Which tallies come back with a change of the line, out of what the file has of it."""

from datetime import date
from uuid import UUID

import pytest
from seasons_for_touch import new_season

from evaltrack.rink.tally import Outcome
from evaltrack.touch.desk.bench_rotation import BenchRotation
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.desk.moved_tallies import given_by


@pytest.fixture
def swapped(tmp_path):
    """Return a line whose last change put a slot right, and the tally that it moved."""
    desk = Desk()
    assert desk.open(new_season(tmp_path / "season.db"))
    assert desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines")
    bench = BenchRotation(desk)
    assert bench.take_up()
    slot = bench.slots()[0]
    wrong, right = bench.rotation.slots[slot.key], bench.could_be(slot)[-1].id
    assert bench.tally(wrong, Outcome.DONE, (slot.key, slot.skills[0]), desk.now())
    assert bench.swap(slot.key, right)
    (moved,) = desk.tallies_of(bench.rep)
    assert moved.player == right
    yield bench.running, moved, wrong
    desk.close()


def test_a_tally_that_was_given_on_twice_comes_back_as_what_stands_for_it_now(swapped):
    """From change to change, to the one that is in the log."""
    line, moved, wrong = swapped
    ids = [UUID(int=n) for n in (1, 2, 3)]
    moves = {
        line.nth: [(ids[0], ids[1])],
        line.nth + 1: [(ids[1], ids[2])],
        line.nth + 2: [(ids[2], moved.id)],
    }
    assert given_by(line, [moved], moves) == [(moved, wrong)]
    assert given_by(line, [moved], {line.nth + 1: [(ids[0], moved.id)]}) == []


def test_moves_that_lead_in_a_circle_come_to_an_end(swapped):
    """A damaged file says that each of two tallies stands for the other."""
    line, moved, wrong = swapped
    other = UUID(int=1)
    assert given_by(line, [moved], {line.nth: [(other, moved.id), (moved.id, other)]}) == [(moved, wrong)]
