"""The standings beside the app: kept up to date, worked out once, and dropped when nobody wants them."""

import shutil
import time
from datetime import date
from pathlib import Path
from threading import Event

import pytest
from kivy.clock import Clock
from made_standings import AnsweringThread
from seasons_for_touch import demo_season, more_tries

from evaltrack.analysis.standings.standings import read_standings, read_strict_observers
from evaltrack.errors import EvaltrackError
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.review import review as review_module
from evaltrack.touch.review.review import NO_SEASON, UPDATING, WORKING, Review
from evaltrack.touch.worker.worker import Worker

HANGING = 120.0  # seconds; no test waits for it unless something never comes, however slow the machine


class Reader:
    """Stands for the model: counts how often it is asked, and answers when it is let go."""

    def __init__(self):
        self.asked, self.go = [], Event()
        self.fault = None

    def __call__(self, path):
        self.asked.append(path)
        number = len(self.asked)
        assert self.go.wait(HANGING)
        if self.fault:
            raise self.fault
        return [number]


def until(condition):
    end = time.monotonic() + HANGING
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


@pytest.fixture(autouse=True)
def quick_looks(monkeypatch):
    """Let a screen on show look at its file more often, so that no test waits for it."""
    monkeypatch.setattr(review_module, "_POLL", 0.02)
    monkeypatch.setattr(review_module, "_PAUSE", 0)


@pytest.fixture
def reader():
    reader = Reader()
    yield reader
    reader.go.set()


def test_without_a_season_nothing_is_worked_out(reader):
    """A tablet without a season file says so and starts no work."""
    review = Review(Desk(), AnsweringThread(reader))
    review.refresh()
    assert (review.state, review.words, reader.asked) == ("nothing", NO_SEASON, [])


def test_refresh_returns_at_once_and_the_result_comes_later(desk, reader):
    """The screen goes on while the standings are worked out, and is told when they are there."""
    review = Review(desk, AnsweringThread(reader))
    review.refresh()
    assert (review.state, review.words) == ("working", WORKING)
    reader.go.set()
    until(lambda: review.state == "ready")
    assert (review.standings, review.words) == ((1,), "")


def test_unchanged_season_is_not_worked_out_again(desk, reader):
    """Coming back to the screen costs nothing while nobody tallied."""
    review = Review(desk, AnsweringThread(reader))
    reader.go.set()
    review.refresh()
    until(lambda: review.state == "ready")
    review.refresh()
    assert review.state == "ready"
    assert len(reader.asked) == 1


def test_new_tally_makes_the_standings_stale(desk, reader):
    """After a tally the old standings stay on show until the new ones are there."""
    review = Review(desk, AnsweringThread(reader))
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
    review = Review(desk, AnsweringThread(reader))
    reader.go.set()
    review.refresh()
    until(lambda: review.state == "ready")
    written(desk, "2026-01-15")
    review.refresh()
    until(lambda: len(reader.asked) == 2)


def test_tally_during_the_work_is_not_missed(desk, reader):
    """A result of the file as it was is replaced by one of the file as it is, one worker at a time."""
    review = Review(desk, AnsweringThread(reader))
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
    review = Review(desk, AnsweringThread(reader))
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
    review = Review(desk, AnsweringThread(reader))
    reader.fault = fault
    reader.go.set()
    review.refresh()
    until(lambda: review.state == "failed")
    assert words in review.words
    reader.fault = None
    review.refresh()
    until(lambda: review.state == "ready")


def test_one_review_for_all_screens(drive, season_path):
    """Both screens show the same standings, worked out once."""
    app = drive(season_path).app
    assert app.screen("team").review is app.screen("player").review is app.review


def test_each_tally_and_undo_is_followed(desk, reader):
    """Once the review follows the desk, new standings come after a tally and after its undoing, unasked."""
    review = Review(desk, AnsweringThread(reader))
    reader.go.set()
    review.follow()
    until(lambda: review.standings == (1,))
    desk.tally(desk.players[0].id, Outcome.DONE)
    until(lambda: review.standings == (2,))
    desk.undo()
    until(lambda: review.standings == (3,))


def test_taps_that_come_close_together_come_first(desk, reader, monkeypatch):
    """After the first of them nothing begins before there is a pause, unless a screen asks."""
    monkeypatch.setattr(review_module, "_PAUSE", 60)
    review = Review(desk, AnsweringThread(reader))
    reader.go.set()
    review.follow()
    until(lambda: review.state == "ready")
    desk.tally(desk.players[0].id, Outcome.DONE)
    until(lambda: review.standings == (2,))
    for player in desk.players[1:6]:
        desk.tally(player.id, Outcome.DONE)
        Clock.tick()
    assert review._in_a_pause.is_triggered
    assert len(reader.asked) == 2
    review.refresh()
    until(lambda: review.standings == (3,))


def test_burst_is_taken_together_and_shown_on_the_way(desk, reader):
    """Tallies during the work are worked out in one go after it; what it found is shown meanwhile."""
    review = Review(desk, AnsweringThread(reader))
    found = []
    review.bind(standings=lambda _, standings: found.append(standings))
    review.follow()
    until(lambda: reader.asked)
    for player in desk.players[:6]:
        desk.tally(player.id, Outcome.DONE)
        Clock.tick()
    reader.go.set()
    until(lambda: review.state == "ready" and review.standings == (2,))
    assert found == [(1,), (2,)]
    assert len(reader.asked) == 2


def test_screen_on_show_is_told_and_a_hidden_one_is_not(desk, reader):
    """A screen draws again while it is shown, and not behind another one."""
    review, drawn = Review(desk, AnsweringThread(reader)), []
    reader.go.set()

    def update(*_):
        drawn.append(review.standings)

    review.show(update)
    until(lambda: review.state == "ready")
    assert drawn[-1] == (1,)
    review.hide(update)
    count = len(drawn)
    desk.tally(desk.players[0].id, Outcome.DONE)
    review.refresh()
    until(lambda: review.standings == (2,))
    assert len(drawn) == count
    review.show(update)
    assert drawn[-1] == (2,)


def test_file_is_looked_at_only_while_a_screen_shows_it(desk, reader):
    """Another program's write is noticed by itself while standings are on show, and not before."""
    review = Review(desk, AnsweringThread(reader))
    reader.go.set()
    review.show(print)
    until(lambda: review.state == "ready")
    review.hide(print)
    written(desk, "2026-01-15")
    assert not review._poll.is_triggered
    review.show(print)
    until(lambda: review.standings == (2,))
    written(desk, "2026-01-17")
    until(lambda: review.standings == (3,))
    review.hide(print)


@pytest.mark.parametrize(("patience", "words"), [(60, []), (0, [UPDATING, ""])])
def test_long_work_is_told_but_not_at_once(desk, reader, monkeypatch, patience, words):
    """While newer standings are short in coming nothing flickers; when patience ends the screen says so."""
    monkeypatch.setattr(review_module, "_PATIENCE", patience)
    review, said = Review(desk, AnsweringThread(reader)), []
    reader.go.set()
    review.refresh()
    until(lambda: review.state == "ready")
    review.bind(words=lambda _, words: said.append(words))
    reader.go.clear()
    desk.tally(desk.players[0].id, Outcome.DONE)
    review.refresh()
    until(lambda: len(reader.asked) == 2)
    Clock.tick()
    reader.go.set()
    until(lambda: review.state == "ready")
    assert said == words


def test_season_opened_anew_during_the_work_is_worked_out(desk, reader, season_path):
    """Work for a file that was closed is dropped; the same file opened again is asked for again."""
    review = Review(desk, AnsweringThread(reader))
    review.follow()
    until(lambda: reader.asked)
    desk.open(season_path)
    reader.go.set()
    until(lambda: review.state == "ready")
    assert review.standings == (2,)


def written(desk, day):
    """Write to the season file as another program does."""
    with open_season(desk.season.path) as other:
        other.practices.add([Practice(day, date.fromisoformat(day))])


# the whole way: tallies on disk, the model in the process beside the app, standings here


@pytest.fixture(scope="module")
def one_worker():
    """Return a process of these tests' own, which no other test has asked for anything."""
    worker = Worker()
    yield worker
    worker.close()


@pytest.fixture(scope="module")
def demo_path(tmp_path_factory):
    """Return the path of a demo season to copy."""
    return demo_season(tmp_path_factory.mktemp("demo") / "demo.db")


@pytest.fixture
def demo(demo_path, tmp_path):
    """Return a desk with the demo season and a practice that runs."""
    desk = Desk()
    assert desk.open(Path(shutil.copy(demo_path, tmp_path)))
    desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    yield desk
    desk.close()


@pytest.fixture
def followed(one_worker):
    """Return a function that gives a review of a desk once it has standings."""

    def followed(desk):
        review = Review(desk, one_worker)
        review.follow()
        until(lambda: review.state == "ready")
        return review

    return followed


def test_tally_is_in_the_standings_that_come_after_it(demo, followed):
    """The tallied player's count grows by one try with the tap, and shrinks with its undoing."""
    review = followed(demo)
    skill = demo.station.skill
    player = next(p for p in demo.players if skill in [one.skill for one in review.of(p.number)])
    before = {one.skill: one.tries for one in review.of(player.number)}
    demo.tally(player.id, Outcome.MISSED)
    until(lambda: {s.skill: s.tries for s in review.of(player.number)} == before | {skill: before[skill] + 1})
    demo.undo()
    until(lambda: {s.skill: s.tries for s in review.of(player.number)} == before)


def test_live_standings_are_those_of_the_command_line(demo, followed):
    """After a series of tallies, each worked out from the last, they are what is worked out from nothing."""
    review = followed(demo)
    for player, outcome in zip(demo.players[:3], [Outcome.DONE, Outcome.MISSED, Outcome.DONE], strict=True):
        demo.tally(player.id, outcome)
        until(lambda: review.state == "ready" and review._asked[1] == demo.changed)
    from_nothing = read_standings(demo.season)
    assert [(s.player, s.skill, s.tries, s.done) for s in review.standings] == [
        (s.player, s.skill, s.tries, s.done) for s in from_nothing
    ]
    assert [one.observer for one in review.strict] == [
        one.observer for one in read_strict_observers(demo.season)
    ]
    for live, cold in zip(review.standings, from_nothing, strict=True):
        assert (live.call, live.trend) == (cold.call, cold.trend)
        for name in ("share", "low", "high", "change", "p_below"):
            assert getattr(live, name) == pytest.approx(getattr(cold, name), abs=5e-4)


def test_nothing_comes_over_anew_when_no_try_came(demo, followed):
    """Choosing another skill at the bench writes to the file, but the standings stay the same objects."""
    review = followed(demo)
    before = review.standings
    demo.watch(pressure=True)
    until(lambda: review.state == "working")
    until(lambda: review.state == "ready")
    assert review.standings is before


def test_vanished_file_is_told_and_the_app_goes_on(demo, followed):
    """When the file is moved away under a screen on show, a sentence says so; once back, it is read again."""
    review = followed(demo)
    review.show(print)
    path, away = demo.season.path, demo.season.path.with_name("away.db")
    path.rename(away)
    until(lambda: review.state == "failed")
    assert "there is no file" in review.words
    away.rename(path)
    until(lambda: review.state == "ready")
    assert review.words == ""
    review.hide(print)


def test_another_season_is_begun_anew(demo, season_path, followed):
    """Nothing of one team's standings is left when another team's file is opened."""
    review = followed(demo)
    assert review.standings
    demo.open(season_path)
    assert review.standings == ()
    until(lambda: review.state == "ready")
    assert review.standings == ()


def test_loaded_tallies_are_seen_while_standings_are_on_show(demo, followed):
    """What another program adds to the file comes up by itself."""
    review = followed(demo)
    review.show(print)
    tries = sum(one.tries for one in review.standings)
    # whole before the next look: one amid a commit sees the journal as it stays, and the old tries
    more_tries(demo.season.path, 5)
    until(lambda: sum(one.tries for one in review.standings) == tries + 5)
    review.hide(print)
