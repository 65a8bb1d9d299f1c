"""The standings in the background: worked out once, again when stale, and dropped when nobody wants them."""

import time
from datetime import date
from threading import Event

import pytest
from kivy.clock import Clock

from evaltrack.errors import EvaltrackError
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.opening import open_season
from evaltrack.touch.desk import Desk
from evaltrack.touch.review import NO_SEASON, WORKING, Review, read_season, review_of


class Reader:
    """Stands for the model: counts how often it is asked, and answers when it is let go."""

    def __init__(self):
        self.asked, self.go = [], Event()
        self.fault = None

    def __call__(self, path):
        self.asked.append(path)
        number = len(self.asked)
        assert self.go.wait(5)
        if self.fault:
            raise self.fault
        return [number]


def until(condition, timeout=5.0):
    end = time.monotonic() + timeout
    while not condition():
        assert time.monotonic() < end, "timed out"
        Clock.tick()


@pytest.fixture
def desk(season_path):
    desk = Desk()
    assert desk.open(season_path)
    desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Marit")
    yield desk
    desk.close()


@pytest.fixture
def reader():
    reader = Reader()
    yield reader
    reader.go.set()


def test_without_a_season_nothing_is_worked_out(reader):
    """A tablet without a season file says so and starts no work."""
    review = Review(Desk(), reader)
    review.refresh()
    assert (review.state, review.words, reader.asked) == ("nothing", NO_SEASON, [])


def test_refresh_returns_at_once_and_the_result_comes_later(desk, reader):
    """The screen goes on while the standings are worked out, and is told when they are there."""
    review = Review(desk, reader)
    review.refresh()
    assert (review.state, review.words) == ("working", WORKING)
    reader.go.set()
    until(lambda: review.state == "ready")
    assert (review.standings, review.words) == ((1,), "")


def test_unchanged_season_is_not_worked_out_again(desk, reader):
    """Coming back to the screen costs nothing while nobody tallied."""
    review = Review(desk, reader)
    reader.go.set()
    review.refresh()
    until(lambda: review.state == "ready")
    review.refresh()
    assert review.state == "ready"
    assert len(reader.asked) == 1


def test_new_tally_makes_the_standings_stale(desk, reader):
    """After a tally the old standings stay on show until the new ones are there."""
    review = Review(desk, reader)
    reader.go.set()
    review.refresh()
    until(lambda: review.state == "ready")
    desk.tally(desk.players[0].id, Outcome.DONE)
    review.refresh()
    assert (review.state, review.standings) == ("working", (1,))
    until(lambda: review.state == "ready")
    assert review.standings == (2,)


def test_another_program_that_writes_makes_them_stale(desk, reader):
    """What is loaded from the command line while the app is open is seen on the next visit."""
    review = Review(desk, reader)
    reader.go.set()
    review.refresh()
    until(lambda: review.state == "ready")
    with open_season(desk.season.path) as other:
        other.practices.add([Practice("2026-01-15", date(2026, 1, 15))])
    review.refresh()
    until(lambda: len(reader.asked) == 2)


def test_tally_during_the_work_is_not_missed(desk, reader):
    """A result of the file as it was is replaced by one of the file as it is, one worker at a time."""
    review = Review(desk, reader)
    review.refresh()
    desk.tally(desk.players[0].id, Outcome.DONE)
    review.refresh()
    until(lambda: reader.asked)
    assert len(reader.asked) == 1
    reader.go.set()
    until(lambda: review.state == "ready")
    assert review.standings == (2,)


def test_result_for_a_closed_season_is_dropped(desk, reader):
    """Standings of children whose file was closed never come up on the screen afterwards."""
    review = Review(desk, reader)
    review.refresh()
    desk.close()
    reader.go.set()
    until(lambda: not review._running)
    assert (review.state, review.standings) == ("nothing", ())


@pytest.mark.parametrize(
    ("fault", "words"),
    [(EvaltrackError("the file is held"), "the file is held"), (KeyError("x"), "KeyError")],
)
def test_failure_is_told_and_tried_again(desk, reader, fault, words):
    """A failure is a sentence on the screen, and the next visit tries once more."""
    review = Review(desk, reader)
    reader.fault = fault
    reader.go.set()
    review.refresh()
    until(lambda: review.state == "failed")
    assert words in review.words
    reader.fault = None
    review.refresh()
    until(lambda: review.state == "ready")


def test_one_review_for_all_screens(desk):
    """Both screens show the same standings, worked out once."""
    assert review_of(desk) is review_of(desk)


def test_real_standings_are_read_over_a_connection_of_their_own(desk):
    """The whole way: tallies on disk, the model on another thread, counts on this one."""
    player = desk.players[0]
    days = [date(2025, 10, day) for day in (1, 8, 15)]
    practices = [Practice(day.isoformat(), day) for day in days]
    tallies = [
        Tally(p.key, player.id, "outlet_pass", outcome, "breakout_attack", "two_on_one", "Marit")
        for p in practices
        for outcome in [Outcome.DONE] * 6 + [Outcome.MISSED] * 3
    ]
    desk.season.log.add_many(practices, tallies)
    review = Review(desk, read_season)
    review.refresh()
    until(lambda: review.state == "ready", timeout=60)
    (one,) = review.of(player.number)
    assert (one.skill, one.tries, one.done) == ("outlet_pass", 27, 18)
