"""A season file that another window of the tablet has open: told, not touched, and opened once it is free."""

import subprocess
import sys

import pytest
from pressing import press

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.touch.widgets.palette import DARK
from evaltrack.touch.widgets.theme import theme

_OTHER_APP = (
    "import sys; from pathlib import Path; from evaltrack.touch.desk.season_in_hand import SeasonInHand;"
    "hand = SeasonInHand(); print(hand.open(Path(sys.argv[1])), flush=True); sys.stdin.read()"
)


@pytest.fixture
def other_window(season_path):
    """Return a process of its own that has the season in hand as the app has it."""
    child = subprocess.Popen(
        [sys.executable, "-c", _OTHER_APP, str(season_path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert child.stdout.readline().strip() == "True"
    yield child
    child.kill()
    child.communicate()


def test_a_second_window_is_told_and_opens_the_season_once_it_is_free(other_window, drive, season_path):
    """Nothing of the file is shown meanwhile; one tap opens it after the other window was killed."""
    driver = drive(season_path)
    home, desk = driver.app.screens.current_screen, driver.app.desk
    assert (home.name, desk.season) == ("home", None)
    assert desk.message.startswith("season.db is open in another window")
    press(driver, "Open it again")
    assert desk.season is None
    keep_tablet(load_tablet(), dark=True)  # as the other window would
    other_window.kill()
    other_window.wait()
    press(driver, "Open it again")
    assert (desk.season is not None, desk.message) == (True, "")
    assert theme.palette is DARK
    assert home.summary.startswith("20 players")


def test_a_closed_app_leaves_the_season_to_the_next(drive, season_path):
    """While the app runs, no other process gets the file; when it has ended, the next one does."""
    held = [sys.executable, "-c", _OTHER_APP, str(season_path)]

    def opens():
        run = subprocess.run(held, input="", stdout=subprocess.PIPE, text=True, check=True)
        return run.stdout.strip() == "True"

    driver = drive(season_path)
    assert driver.app.desk.season
    assert not opens()
    driver.close()
    assert opens()
