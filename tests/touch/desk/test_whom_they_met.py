"""What the bench notes by rep tells against whom it was, and a slot that is put right says so at once."""

from datetime import date

import pytest
from seasons_for_touch import new_season

from evaltrack.analysis.standings.standing import Met
from evaltrack.analysis.standings.standings import read_standings
from evaltrack.rink.tally import Outcome
from evaltrack.store.log import CELL_COLUMNS
from evaltrack.touch.desk.bench_rotation import BenchRotation
from evaltrack.touch.desk.desk import Desk

OPPONENT = CELL_COLUMNS.index("opponent")


@pytest.fixture
def desk(tmp_path):
    """Return the desk in a practice of the breakout, with everyone there."""
    desk = Desk()
    assert desk.open(new_season(tmp_path / "season.db"))
    assert desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines")
    yield desk
    desk.close()


def opponents(desk) -> list:
    """Return against whom the cells are, from the file."""
    return [cell[OPPONENT] for cell in desk.season.log.cells()]


def test_a_slot_that_is_put_right_changes_the_opponent(desk):
    """The wall F's try is against the line D on the screen, then the one who is put there, then as before."""
    bench = BenchRotation(desk)
    assert bench.take_up()
    assert bench.next_rep()
    shooter, wrong = bench.rotation.slots["wall_f"], bench.rotation.slots["line_d"]
    assert bench.tally(shooter, Outcome.DONE, ("wall_f", "shot_on_net"), desk.now())
    assert opponents(desk) == [wrong.bytes]
    right = bench.rotation.queues["D"][0]
    assert bench.swap("line_d", right)
    assert opponents(desk) == [right.bytes]
    (one,) = read_standings(desk.season)
    by_number = {player.id: player.number for player in desk.players}
    assert one.met == (Met(by_number[right], 1, 1),)
    again = BenchRotation(desk)
    assert again.take_up()
    assert again.running.stood["line_d"] == right
    assert again.back()
    assert opponents(desk) == [wrong.bytes]
