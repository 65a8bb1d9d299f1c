"""The whole app, killed while it is tapped, and the modules that the first board needs."""

import subprocess
import sys

import pytest
from child import environment
from killing import kill_once

HEAVY = ("sqlite_utils", "pandas", "numpy", "scipy", "matplotlib", "typst", "fontTools", "docx", "bidi")


@pytest.mark.skipif(sys.platform == "win32", reason="SIGKILL is not to be had there")
def test_killed_apps_lose_nothing_that_was_shown(season_path, tmp_path):
    """Eight times SIGKILL at a random tap: all that was shown is there, also in copies of the file alone."""
    copies = tmp_path / "copies"
    copies.mkdir()
    kills = [kill_once(season_path, seed, copies) for seed in range(8)]
    assert [kill for kill in kills if not kill.harmless] == []
    assert {kill.resumed_on for kill in kills} == {"board"}
    assert kills[-1].kept > 0
    assert sum(kill.copies for kill in kills) > 0


def test_the_first_board_needs_no_heavy_module(season_path):
    """A fresh process reaches the board and tallies with nothing but the standard library and Kivy."""
    kill_once(season_path, 1)
    code = (
        "import sys; import headless; headless.install();"
        "from driver import Driver; from evaltrack.touch.app import EvaltrackApp; from pathlib import Path;"
        f"driver = Driver(EvaltrackApp(Path({str(season_path)!r}))); driver.settle();"
        "screen = driver.app.screens.current_screen; tile = screen.ids.board.layout.tile(0);"
        "before = driver.app.desk.total; driver.tap((tile.x + 9, tile.y + 9));"
        f"print(screen.name, driver.app.desk.total - before, sorted(set({HEAVY!r}) & set(sys.modules)))"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment()
    )
    assert run.stdout.split("\n")[-2] == "board 1 []"
