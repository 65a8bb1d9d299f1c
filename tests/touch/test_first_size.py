"""The first window fits the display: the arithmetic, and what the library of the window says of a display."""

import subprocess
import sys

import pytest

from evaltrack.touch.first_size import fitted


@pytest.mark.parametrize(
    ("room", "size"),
    [
        ((1920, 1080), (1280, 800)),
        ((1280, 800), (1280, 800)),
        ((800, 1280), (800, 800)),
        ((1024, 768), (1024, 728)),
        ((1366, 768), (1280, 728)),
    ],
)
def test_a_window_is_no_larger_than_the_display(room, size):
    """Each side is cut to the display, and a side that is cut in height leaves room for the title."""
    assert fitted((1280, 800), room) == size


def test_the_display_is_asked_for_its_size():
    """Without a display the library makes one up (1024 x 768), and a window is cut to it."""
    code = (
        "from types import SimpleNamespace; from evaltrack.touch import first_size;"
        "first_size._library().SDL_InitSubSystem(0x20);"
        "window = SimpleNamespace(system_size=(1280, 800), left=-128, top=-16); first_size.fit(window);"
        "print(first_size.usable(), window.system_size, window.left, window.top)"
    )
    run = subprocess.run(
        [sys.executable, "-c", code],
        env={"SDL_VIDEODRIVER": "dummy", "KIVY_NO_ARGS": "1", "KIVY_NO_FILELOG": "1", "KIVY_NO_CONFIG": "1"},
        capture_output=True,
        text=True,
        check=True,
    )
    assert run.stdout.splitlines()[-1] == "(0, 0, 1024, 768) (1024, 728) 0 40"
