"""One burst of taps in one window, timed tap by tap; ``bench_frames.py`` runs it.

python frames.py board|bare KIND FOLDER TAPS RATE
"""

import random
import sys
import time
from collections import deque
from datetime import date
from pathlib import Path
from threading import Thread

import at_home  # noqa: F401

WHAT, KIND, FOLDER, TAPS, RATE = sys.argv[1], sys.argv[2], Path(sys.argv[3]), *map(int, sys.argv[4:])
if KIND == "window without pixels":
    import headless

    headless.install()

from driver import Driver, Finger
from kivy.app import App
from kivy.base import EventLoop
from kivy.clock import Clock
from kivy.graphics import Color, Rectangle
from kivy.input.provider import MotionEventProvider
from kivy.uix.widget import Widget


class Panel(MotionEventProvider):
    """A touch panel: a thread puts fingers down at moments of their own, the app takes them in each round."""

    def __init__(self, spots):
        super().__init__("panel", "")
        self._spots = spots
        self._waiting: deque = deque()
        self.down: deque = deque()  # moments of the fingers that the app has not answered yet

    def start(self):
        if self._spots:
            Thread(target=self._tap, daemon=True).start()

    def _tap(self):
        rng, due = random.Random(1), time.perf_counter()
        for spot in self._spots:
            due += (0.5 + rng.random()) / RATE
            time.sleep(max(0.0, due - time.perf_counter()))
            self._waiting.append((time.perf_counter(), spot))

    def update(self, dispatch_fn):
        while self._waiting:
            moment, spot = self._waiting.popleft()
            self.down.append(moment)
            finger = Finger(*spot)
            dispatch_fn("begin", finger)
            finger.update_time_end()
            dispatch_fn("end", finger)


class OneRectangle(Widget):
    """Another colour at each touch; ``answers`` counts them."""

    answers = 0

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        with self.canvas:
            self._colour = Color(0, 0, 1)
            self._shape = Rectangle()
        self.bind(size=lambda _, size: setattr(self._shape, "size", size))

    def on_touch_down(self, touch):
        self.answers += 1
        self._colour.rgb = (self.answers % 2, 0, 1)
        return True


class Bare(App):
    def load_kv(self, *_, **__):
        """Load nothing."""

    def build(self):
        return OneRectangle()


def bare():
    """Return a driver, the spots to tap, and a count of what is shown."""
    driver = Driver(Bare())
    return driver, [(640, 400)] * TAPS, lambda: driver.app.root.answers


def board():
    """Return a driver on the board, the spots to tap, and a count of what the tiles show."""
    from seasons_for_touch import new_season

    from evaltrack.touch.app import EvaltrackApp

    driver = Driver(EvaltrackApp(new_season(FOLDER / "season.db")))
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines"), desk.message
    driver.app.go("board")
    driver.settle()
    shown = driver.app.screens.current_screen.ids.board
    rng, spots = random.Random(2), []
    for _ in range(TAPS):
        tile = shown.layout.tile(rng.randrange(len(shown.faces)))
        spots.append((tile.x + tile.width * rng.choice((0.25, 0.75)), tile.y + tile.height * 0.4))
    return driver, spots, lambda: sum(face.done + face.missed for face in shown.faces)


def answer(panel: Panel, count, frames: list[int]) -> list[float]:
    """Run frames until every tap is answered, and return the time of each in milliseconds."""
    took: list[float] = []
    while len(took) < TAPS:
        drawn = len(frames)
        EventLoop.idle()
        end = time.perf_counter()
        if not panel.down:
            continue
        assert len(frames) > drawn, "no frame was drawn for this answer"
        while panel.down:
            took.append(1000 * (end - panel.down.popleft()))
        assert count() == len(took), "the screen does not show what was tapped"
    return took


def main():
    driver, spots, count = board() if WHAT == "board" else bare()
    driver.frames(20)
    Clock._max_fps = 60
    frames: list[int] = []
    EventLoop.window.bind(on_flip=lambda _: frames.append(1))
    panel = Panel(spots)
    EventLoop.add_input_provider(panel)
    panel.start()
    took = answer(panel, count, frames)
    if KIND == "window without pixels":
        print("none")
    else:
        from kivy.graphics.opengl import GL_RENDERER, glFinish, glGetString

        glFinish()
        print(glGetString(GL_RENDERER).decode())
    print(*took, sep="\n")


if __name__ == "__main__":
    main()
