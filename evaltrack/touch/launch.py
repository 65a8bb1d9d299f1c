"""Opening the app in a window: Kivy's settings have to be made before it is imported."""

import gc
import logging
import os
import sys
from pathlib import Path


def prepare() -> None:
    """Make Kivy leave the command line, the logs and the escape key alone, and take each touch once."""
    os.environ.setdefault("KIVY_NO_ARGS", "1")
    os.environ.setdefault("KIVY_NO_CONFIG", "1")
    os.environ.setdefault("KIVY_NO_FILELOG", "1")
    os.environ.setdefault("KIVY_LOG_MODE", "PYTHON")
    # a start makes many objects and little garbage: looking for it again and again is time lost
    gc.set_threshold(50_000, 20, 50)
    from kivy.config import Config

    # what Kivy misses on a machine (a touch library, a clipboard) is no fault that a user could mend
    logging.getLogger("kivy").setLevel(logging.CRITICAL + 1)
    Config.set("kivy", "exit_on_escape", "0")
    Config.set("graphics", "width", "1280")
    Config.set("graphics", "height", "800")
    if sys.platform in ("linux", "win32", "darwin"):
        os.environ.setdefault("KIVY_AUDIO", "sdl2")  # in every wheel, and the quickest for a short click
        # no second finger from a right click, and no mouse beside a panel that reports touches itself
        Config.set("input", "mouse", "mouse,disable_multitouch,disable_on_activity")


def run(season: Path | None = None) -> None:
    """Open the app on a season file, or on the one used last."""
    prepare()
    from kivy.core.window import Window

    from evaltrack.touch.app import EvaltrackApp
    from evaltrack.touch.first_size import fit

    if Window:  # none where no window can be opened, of which Kivy tells
        fit(Window)
    EvaltrackApp(season).run()
