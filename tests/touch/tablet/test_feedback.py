"""Sound and vibration: after the commit, the same for done and missed, and not even loaded while off."""

import subprocess
import sys
from datetime import date

import pytest
from child import PROCESSES, environment

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.places import assets
from evaltrack.rink.tally import Outcome
from evaltrack.touch.tablet.feedback import Feedback


class Answers:
    """Stands where the click and the shake stand, and writes down what was on disk when it was asked."""

    def __init__(self, desk):
        self.heard, self.desk = [], desk

    def play(self):
        self.heard.append(self.desk.season.log.count())

    __call__ = play


@pytest.fixture
def bench(drive, season_path):
    """Return the driver of an app on the board, with sound and vibration on."""
    keep_tablet(load_tablet(), sound=True, vibration=True)
    driver = drive(season_path)
    desk = driver.app.desk
    desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    return driver


def tap(driver, place, outcome, frames=1):
    """Tap a half of a tile."""
    tile = driver.app.screens.get_screen("board").ids.board.layout.tile(place)
    share = 0.75 if outcome is Outcome.DONE else 0.25
    driver.tap((tile.x + tile.width * share, tile.y + tile.height / 2), frames=frames)


def with_answers(driver) -> tuple[Answers, Answers]:
    """Put what listens in the place of the device's sound and vibrator."""
    feedback = driver.app.feedback
    click, shake = Answers(driver.app.desk), Answers(driver.app.desk)
    feedback._click, feedback._shake = click, shake
    feedback.follow()
    return click, shake


def test_each_tally_is_answered_once_it_is_on_disk(bench):
    """At the click the tally is in the file already; done and missed are answered alike."""
    click, shake = with_answers(bench)
    for place, outcome in enumerate([Outcome.DONE, Outcome.MISSED, Outcome.DONE]):
        tap(bench, place, outcome)
    assert click.heard == shake.heard == [1, 2, 3]


def test_what_is_not_saved_is_not_answered(bench):
    """A tap that the file did not take, an undo and another skill are silent."""
    click, shake = with_answers(bench)
    tap(bench, 0, Outcome.DONE)
    bench.app.desk.undo()
    bench.app.desk.watch(skill="stop")
    bench.app.desk.season.log.add = None  # any failure will do, and this one is a fault
    with pytest.raises(TypeError):
        tap(bench, 1, Outcome.DONE)
    bench.frames(2)
    assert click.heard == shake.heard == [1]


def test_off_means_silent_and_on_again_means_heard(bench):
    """The settings are followed at once, each for itself."""
    click, shake = with_answers(bench)
    desk, feedback = bench.app.desk, bench.app.feedback
    for sound, vibration in ((False, True), (False, False), (True, False)):
        desk.keep(sound=sound, vibration=vibration)
        feedback.follow()
        tap(bench, 0, Outcome.MISSED)
    assert (len(click.heard), len(shake.heard)) == (1, 1)


def test_a_device_without_either_tallies_all_the_same(bench):
    """Sound and vibration on, and nothing there to play or shake: the taps count."""
    bench.app.feedback.follow()
    assert not bench.app.feedback.can_click
    tap(bench, 0, Outcome.DONE)
    assert bench.app.desk.total == 1


def test_while_off_nothing_is_loaded(drive, season_path):
    """By default no module of sound or feedback is imported, from the start to the first tally."""
    code = (
        "import sys; import headless; headless.install();"
        "from driver import Driver; from evaltrack.touch.app import EvaltrackApp; from pathlib import Path;"
        f"driver = Driver(EvaltrackApp(Path({str(season_path)!r})));"
        "driver.app._follow_settings(); driver.frames(3);"
        "print(sorted({'kivy.core.audio', 'evaltrack.touch.tablet.feedback', 'evaltrack.touch.tablet.latch',"
        " 'evaltrack.touch.tablet.scale'} & set(sys.modules)))"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment()
    )
    assert run.stdout.split("\n")[-2] == "[]"


def test_the_click_comes_out_of_the_device(season_path, tmp_path):
    """A real sound device that writes to a file: silent before the tap, not silent after it."""
    keep_tablet(load_tablet(), sound=True)
    heard = tmp_path / "heard.raw"
    disk = environment(KIVY_AUDIO="sdl2", SDL_AUDIODRIVER="disk", SDL_DISKAUDIOFILE=str(heard))
    command = [sys.executable, str(PROCESSES / "clicking.py"), str(season_path), str(heard)]
    run = subprocess.run(command, capture_output=True, text=True, check=True, env=disk)
    assert run.stdout.split("\n")[-2] == "silent before, heard after"


def test_the_click_is_made_by_the_script_beside_it(tmp_path):
    """The sound is computed, the same bytes every time, and under 5 kB."""
    script = assets() / "sounds" / "make_tick.py"
    subprocess.run([sys.executable, str(script), str(tmp_path)], check=True)
    made = (tmp_path / "tick.wav").read_bytes()
    assert made == (assets() / "sounds" / "tick.wav").read_bytes()
    assert len(made) < 5000


def test_a_feedback_that_is_off_listens_to_nothing(bench):
    """With both off the desk has nobody to tell."""
    desk = bench.app.desk
    desk.keep(sound=False, vibration=False)
    bench.app.feedback.follow()
    assert list(desk.get_property_observers("on_tallied")) == []
    assert isinstance(bench.app.feedback, Feedback)
