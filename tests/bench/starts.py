"""Starts in fresh processes: to the first touch against a bare window, and back on the board after a kill.

Each is timed in up to three kinds of window:

- real window, software GL: what this machine shows without a graphics card; the card's work is done by the
  processor, which no tablet does.
- real window, nothing rasterised: the same window, context and driver, with Mesa's no-op driver behind them.
  All of the app's own work is in it, and none of the card's.
- window without pixels: GL calls that do nothing at all; needs no GL library.
"""

import ctypes.util
import signal
import statistics
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import at_home  # noqa: F401
import child
from child import PROCESSES

_TALLIES = 500  # an hour of ice, eight a minute
SOFTWARE, NO_OP, NO_PIXELS = (
    "real window, software GL", "real window, nothing rasterised", "window without pixels"
)  # fmt: skip

_HEAD = """
import sys
if sys.argv[2] == 'window without pixels': import headless; headless.install()
"""
_RENDERER = """
if sys.argv[2] != 'window without pixels':
    from kivy.graphics.opengl import glGetString, GL_RENDERER
    print(glGetString(GL_RENDERER).decode())
"""
_END = "import os; sys.stdout.flush(); os._exit(0)"
_BARE = f"""{_HEAD}
from kivy.app import App
from kivy.uix.button import Button
from driver import Driver
class Bare(App):
    def load_kv(self, *args, **kwargs): pass
    def build(self): return Button(text='one')
driver = Driver(Bare()); driver.tap((640, 400))
{_RENDERER}{_END}"""
_OURS = f"""{_HEAD}
from pathlib import Path
from evaltrack.touch.launch import prepare; prepare()
from evaltrack.touch.app import EvaltrackApp
from driver import Driver
driver = Driver(EvaltrackApp(Path(sys.argv[1]))); driver.tap((640, 400))
assert driver.app.screens.current == 'board' and driver.app.desk.total
{_RENDERER}{_END}"""
# the whole command as a user gives it, which ends when the first frame with the board was shown
_COMMAND = """
import os, sys
from evaltrack import __main__
from evaltrack.touch import launch
def run(season):
    launch.prepare()
    from kivy.core.window import Window
    from evaltrack.touch.app import EvaltrackApp
    app = EvaltrackApp(season)
    flip = Window.flip
    def shown():
        flip()
        print(app.screens.current, app.desk.total, flush=True)
        os._exit(0)
    Window.flip = shown
    app.run()
launch.run = run
sys.argv = ['evaltrack', 'open', sys.argv[1]]
__main__.main()
"""


def kinds() -> list[str]:
    """Return the kinds of window that this machine can make."""
    if all(map(ctypes.util.find_library, ("GL", "EGL"))):
        return [SOFTWARE, NO_OP, NO_PIXELS]
    return [NO_PIXELS]


def environment(kind: str, bytecode: Path | None = None) -> dict[str, str]:
    """Return the environment of a process with this kind of window, which may keep bytecode in a folder.

    Python keeps it wherever it is not told otherwise; a build machine that tells it so would have every start
    compile the house anew, but not Kivy, whose bytecode came with its installation.
    """
    away = ("KIVY", "DISPLAY", *(("PYTHONDONTWRITEBYTECODE",) if bytecode else ()))
    kept = {key: value for key, value in child.environment().items() if not key.startswith(away)}
    kept |= {"PYTHONPYCACHEPREFIX": str(bytecode)} if bytecode else {}
    kept |= {"KIVY_NO_ARGS": "1", "KIVY_NO_CONFIG": "1", "KIVY_NO_FILELOG": "1", "KIVY_LOG_MODE": "PYTHON"}
    kept |= {"SDL_VIDEODRIVER": "offscreen", "LIBGL_ALWAYS_SOFTWARE": "1"}
    return kept | ({"GALLIUM_NOOP": "1"} if kind == NO_OP else {})


def _bytecode(path: Path) -> Path:
    return path.with_name("bytecode")


def running_practice(path: Path, tallies: int) -> Path:
    """Make a season in which a practice runs that has so many tallies, and return its path."""
    from seasons_for_touch import new_season

    from evaltrack.rink.tally import Outcome
    from evaltrack.touch.desk.desk import Desk

    desk = Desk()
    assert desk.open(new_season(path)), desk.message
    assert desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines"), desk.message
    for number in range(tallies):
        desk.tally(desk.players[number % 20].id, list(Outcome)[number % 3])
    desk.close()
    return path


def time_starts(path: Path, starts: int) -> None:
    """Start a bare window and the app in turn up to the first touch, and print the ratios."""
    running_practice(path, _TALLIES)
    print(
        f"start of a process to its first touch, on a running practice of {_TALLIES} tallies, {starts} pairs"
    )
    more = {}
    for kind in kinds():
        pairs = [(_timed(_BARE, path, kind), _timed(_OURS, path, kind)) for _ in range(starts + 1)][1:]
        bare, ours = (statistics.median(times) for times in zip(*pairs, strict=True))
        ratio = statistics.median(b / a for a, b in pairs)
        more[kind] = ours - bare
        print(f"  {kind}: {ours * 1000:.0f} ms against {bare * 1000:.0f} ms, median ratio {ratio:.2f}")
    if NO_OP in more:
        drawn = more[SOFTWARE] - more[NO_OP]
        print(
            f"  more than the bare window: {more[SOFTWARE] * 1000:.0f} ms, of which {drawn * 1000:.0f} ms is "
            "rasterising, which a graphics card does"
        )


def _timed(code: str, path: Path, kind: str) -> float:
    command = [sys.executable, "-c", code, str(path), kind]
    start = time.perf_counter()
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.DEVNULL}  # Kivy tells what this machine lacks
    run = subprocess.run(command, check=True, text=True, env=environment(kind, _bytecode(path)), **pipes)
    took = time.perf_counter() - start
    assert kind != NO_OP or run.stdout.strip() == "NOOP", f"{run.stdout} rasterises"
    return took


def time_returns(path: Path, returns: int) -> None:
    """Kill a tapping app and start it again by its command, and print how long the board was away."""
    print(f"killed while it is tapped, then `evaltrack open`: time to the first frame, {returns} times")
    for kind in kinds()[:-1]:
        took = [_timed_return(path, seed, kind) for seed in range(returns)]
        print(f"  {kind}: median {statistics.median(took):.2f} s, longest {max(took):.2f} s")
    if len(kinds()) == 1:
        print("  left out, there is no GL library")


def _timed_return(path: Path, seed: int, kind: str) -> float:
    tapping = [sys.executable, str(PROCESSES / "tapping.py"), str(path), str(seed)]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.DEVNULL, "text": True}
    with subprocess.Popen(tapping, env=child.environment(), **pipes) as app:
        shown = [app.stdout.readline() for _ in range(20)][-1].split()
        start = time.perf_counter()
        app.send_signal(signal.SIGKILL)
    command = [sys.executable, "-c", _COMMAND, str(path)]
    settings = {"stdout": subprocess.PIPE, "text": True, "env": environment(kind, _bytecode(path))}
    run = subprocess.run(command, check=True, **settings)
    took = time.perf_counter() - start
    screen, total = run.stdout.split()
    assert screen == "board", f"back on {screen}"
    assert int(total) >= int(shown[1]) - 1, f"{total} tallies of {shown[1]}"
    return took
