"""Tap on a board in a real window without a display, pause and resume, and compare the pixels.

python pausing.py SEASON.db     prints whether they are the same, and how many shades there were
"""

import sys
from datetime import date
from pathlib import Path

from evaltrack.touch.launch import prepare

prepare()

from driver import Driver
from kivy.core.window import Window
from kivy.graphics import Callback
from kivy.graphics.opengl import GL_RGB, GL_UNSIGNED_BYTE, glReadPixels

from evaltrack.touch.app import EvaltrackApp


def pixels(driver) -> bytes:
    """Return what the window shows, as red, green and blue of each pixel."""
    found = []
    with Window.canvas.after:
        reader = Callback(lambda _: found.append(glReadPixels(0, 0, *Window.size, GL_RGB, GL_UNSIGNED_BYTE)))
    driver.frames(3)
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    Window.canvas.after.remove(reader)
    return bytes(found[-1])


def main(path: str) -> None:
    """Tap, pause, resume, and print what became of the pixels."""
    driver = Driver(EvaltrackApp(Path(path)))
    desk = driver.app.desk
    moment = desk.now()
    desk._clock = lambda: moment  # the time since the last tally is on the screen too
    assert desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines"), desk.message
    driver.app.go("board")
    driver.settle()
    layout = driver.app.screens.current_screen.ids.board.layout
    for place in range(0, 20, 3):
        tile = layout.tile(place)
        driver.tap((tile.x + tile.width * 0.3, tile.y + tile.height / 2))
    before = pixels(driver)
    assert driver.app.dispatch("on_pause")
    driver.app.dispatch("on_resume")
    after = pixels(driver)
    print(before == after, len(set(before)))


if __name__ == "__main__":
    main(*sys.argv[1:])
