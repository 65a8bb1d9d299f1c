"""The tablet is turned or put away in the middle of a practice: players, counts and numbers stay."""

import ctypes.util
import subprocess
import sys
from datetime import date

import pytest
from child import PROCESSES, environment
from kivy.core.window import Window
from kivy.metrics import dp

from evaltrack.device.tablet import BoardKind
from evaltrack.touch.widgets.button import TapButton


@pytest.fixture
def bench(drive, season_path):
    """Return the driver of an app on the board, everyone here; the window is as wide as ever afterwards."""
    before = Window.size
    driver = drive(season_path)
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    yield driver
    Window.resize(*before)


def board_of(driver):
    return driver.app.screens.get_screen("board").ids.board


def tap_everyone(driver, share):
    """Tap every tile once, at a share of its width."""
    board = board_of(driver)
    for place in range(len(board.faces)):
        tile = board.layout.tile(place)
        driver.tap((tile.x + tile.width * share, tile.y + tile.height / 2))


def shown(driver):
    """Return number, done and missed of each tile in order of place."""
    return [(face.number, face.done, face.missed) for face in board_of(driver).faces]


def turn(driver, width, height):
    Window.resize(width, height)
    driver.settle()


def test_turning_to_portrait_and_back_keeps_players_and_counts(bench):
    """Each turn keeps order and counts, taps land on the same players, and back is exactly as before."""
    tap_everyone(bench, 0.8)
    before = shown(bench)
    tiles = [board_of(bench).layout.tile(place) for place in range(len(before))]
    turn(bench, 800, 1280)
    assert shown(bench) == before
    assert [board_of(bench).layout.tile(place) for place in range(len(before))] != tiles
    tap_everyone(bench, 0.2)
    turn(bench, 1280, 800)
    assert [board_of(bench).layout.tile(place) for place in range(len(before))] == tiles
    tap_everyone(bench, 0.8)
    assert shown(bench) == [(number, 2, 1) for number, _, _ in before]
    assert bench.app.desk.total == 3 * len(before)


def test_a_paused_app_stays_and_goes_on_counting(bench):
    """Pausing keeps the app in memory; what was counted is still there, and so is the next tap."""
    tap_everyone(bench, 0.8)
    before = shown(bench)
    assert bench.app.dispatch("on_pause")
    bench.app.dispatch("on_resume")
    bench.settle()
    assert shown(bench) == before
    tap_everyone(bench, 0.8)
    assert shown(bench) == [(number, 2, 0) for number, _, _ in before]


@pytest.mark.skipif(not all(map(ctypes.util.find_library, ("GL", "EGL"))), reason="there is no GL library")
def test_a_pause_that_took_the_textures_away_leaves_no_number_blank(season_path, tmp_path):
    """A tablet may drop all that was drawn while an app is paused: afterwards every pixel is back."""
    kept = {key: value for key, value in environment().items() if not key.startswith(("KIVY", "DISPLAY"))}
    kept |= {"SDL_VIDEODRIVER": "offscreen", "LIBGL_ALWAYS_SOFTWARE": "1", "EVALTRACK_HOME": str(tmp_path)}
    command = [sys.executable, PROCESSES / "pausing.py", season_path]
    run = subprocess.run(command, env=kept, capture_output=True, text=True, check=True)
    same, shades = run.stdout.split()
    assert same == "True"
    assert int(shades) > 50


def places(driver):
    """Return the place of each key of the screen in front."""
    keys = [part for part in driver.app.screens.current_screen.walk() if isinstance(part, TapButton)]
    return [(key.title, *map(round, (*key.pos, *key.size))) for key in keys]


@pytest.mark.parametrize("kind", BoardKind)
def test_a_bar_that_was_turned_is_the_one_that_was_never_turned(bench, kind):
    """Each board's keys stand upright, and wide again, as on a tablet that was never held in another way."""
    screen = bench.app.screens.current_screen
    screen.choose(kind)
    bench.settle()
    wide = places(bench)
    turn(bench, 800, 1280)
    head = screen.ids.head
    first, second = head.children[1], head.children[0]
    assert first.height == dp(42)
    assert second.height == pytest.approx(
        head.height - dp(42) - head.padding[1] - head.padding[3] - head.spacing
    )
    turn(bench, 1280, 800)
    assert places(bench) == wide
