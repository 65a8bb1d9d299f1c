"""Drives a real App inside one process. Works for mock, offscreen-EGL and Xvfb windows."""

import itertools
import time

from kivy.animation import Animation
from kivy.base import EventLoop, runTouchApp, stopTouchApp
from kivy.cache import Cache
from kivy.clock import Clock
from kivy.core.window import Window
from kivy.input.motionevent import MotionEvent
from kivy.uix.textinput import TextInput

_ids = itertools.count(1)
_FRAME = 0.004  # seconds between two frames while work beside the app is awaited, which needs the processor
_HEARD = ("on_key_down", "on_key_up", "on_textinput", "on_touch_down")


def _listening(event):
    return [heard() for heard in Window.get_property_observers(event) if not heard.is_dead()]


class Finger(MotionEvent):
    def __init__(self, x, y):
        self._n = next(_ids)
        super().__init__("test", self._n, self._norm(x, y), is_touch=True, type_id="touch")

    @staticmethod
    def _norm(x, y):
        w, h = Window.size
        return {"x": x / (w - 1.0), "y": y / (h - 1.0)}

    def depack(self, args):
        self.sx, self.sy = args["x"], args["y"]
        self.profile = ["pos"]
        super().depack(args)

    def down(self):
        EventLoop._dispatch_input("begin", self)  # queued: passes postproc like a real one
        return self

    def to(self, x, y):
        self.move(self._norm(x, y))
        EventLoop._dispatch_input("update", self)
        return self

    def up(self):
        self.update_time_end()
        EventLoop._dispatch_input("end", self)
        return self


def end_timers():
    """End the timers and animations of a dead app: they go on beside the next one, and keep it in memory."""
    for cell in TextInput._adjust_viewport.__closure__:
        if isinstance(cell.cell_contents, list):  # the field that scrolled last, held by Kivy's ``triggered``
            cell.cell_contents.clear()
    for ev in Clock.get_events():
        called = ev.get_callback()
        if called is not Cache._purge_by_timeout and ev is not Window.trigger_keyboard_height:
            ev.cancel()
    for animation in list(Animation._instances):
        for widget in [held["widget"] for held in animation._widgets.values()]:
            animation.cancel(widget)


class Driver:
    def __init__(self, app):
        self.app = app
        Clock._max_fps = 0  # no 60 Hz sleep in tests
        self._listeners = {event: _listening(event) for event in _HEARD}
        app._run_prepare()  # build() + on_start
        runTouchApp(embedded=True)  # EventLoop.start() without mainloop
        self.frames(2)

    def frames(self, n=1):
        for _ in range(n):
            EventLoop.idle()

    def settle(self):
        """Run frames until no widget moves any more: layouts follow one another over several frames."""
        last = None
        while (now := [(*w.pos, *w.size) for root in Window.children for w in root.walk()]) != last:
            last = now
            self.frames(2)

    def wait(self, cond, timeout=60.0):
        end = time.monotonic() + timeout
        while not cond():
            assert time.monotonic() < end, "timed out"
            EventLoop.idle()
            time.sleep(_FRAME)

    def tap(self, widget_or_pos, frames=1):
        if hasattr(widget_or_pos, "to_window"):
            w = widget_or_pos
            x, y = w.to_window(*w.center)
        else:
            x, y = widget_or_pos
        f = Finger(x, y).down()
        self.frames(frames)
        f.up()
        self.frames(frames)

    def key(self, key, text=None, modifiers=()):
        Window.dispatch("on_key_down", key, 0, text, list(modifiers))
        if text:
            Window.dispatch("on_textinput", text)
        Window.dispatch("on_key_up", key, 0)
        self.frames(1)

    def close(self):
        app, self.app = self.app, None
        if app is None:
            return
        # dispatch on_stop like a real exit, but leave Window alive for the next app
        app.dispatch("on_stop")
        for child in list(Window.children):  # Popups included
            Window.remove_widget(child)
        Window.release_all_keyboards()
        for event, before in self._listeners.items():  # a dead app's screen would take the next one's keys
            for heard in _listening(event):
                if heard not in before:
                    Window.unbind(**{event: heard})
        EventLoop.touches.clear()
        EventLoop.input_events.clear()
        for pp in EventLoop.postproc_modules:
            for name in ("touches", "last_touches"):
                if hasattr(pp, name):
                    getattr(pp, name).clear()
        end_timers()
        from kivy.app import App

        App._running_app = None
        EventLoop.stopping = False
        if EventLoop.status == "started":  # else Kivy would stop the next app: another driver was first
            stopTouchApp()  # status -> 'closed'
        EventLoop.status = "idle"
        EventLoop.quit = False
