"""Run a Kivy app's full widget tree, clock, kv rules and touch dispatch with no
display server, no libGL/libEGL and no system package.

Call install() BEFORE anything imports kivy.uix / kivy.core.window.

What is real:   properties, kv, layouts, Clock, input post-processing, touch grab,
                popups, ScreenManager, keyboard events, TextInput, font metrics (SDL_ttf).
What is mocked: every GL call (nothing is drawn, Window.screenshot() is unavailable).
"""

import logging
import os
import sys


def install(size=(1280, 800), density=None, home=None):
    assert "kivy.core.window" not in sys.modules, "install() came too late"
    env = os.environ
    env["KIVY_NO_ARGS"] = "1"  # do not eat pytest's argv
    env["KIVY_NO_CONFIG"] = "1"  # do not read/write ~/.kivy/config.ini
    env["KIVY_NO_FILELOG"] = "1"
    env["KIVY_GL_BACKEND"] = "mock"
    env["KIVY_WINDOW"] = ""  # no provider: ours is put in below
    env.setdefault("KIVY_AUDIO", "")
    env.setdefault("KIVY_CLIPBOARD", "dummy")
    if density:
        env["KIVY_METRICS_DENSITY"] = str(density)
    if home:
        env["KIVY_HOME"] = str(home)

    import kivy  # noqa: F401
    from kivy.config import Config

    for key, _ in Config.items("input"):
        Config.remove_option("input", key)  # no mouse/mtdev/probesysfs providers
    Config.set("graphics", "width", size[0])
    Config.set("graphics", "height", size[1])
    logging.getLogger("kivy").setLevel(logging.CRITICAL + 1)
    Config.set("kivy", "desktop", "0")
    Config.set("kivy", "exit_on_escape", "0")

    logging.disable(logging.CRITICAL)  # silences "no window provider"
    try:
        import kivy.core.window as kw
    finally:
        logging.disable(logging.NOTSET)

    class HeadlessWindow(kw.WindowBase):
        """Smallest possible window provider; GL is the mock backend."""

        managed_textinput = True

        def resize(self, w, h):
            self.system_size = w, h  # -> trigger_create_window -> on_resize
            self.trigger_create_window.cancel()
            self.create_window()

        def close(self):  # EventLoop.exit() must not kill us
            pass

        def set_title(self, title):
            self.title = title

        def set_icon(self, filename):
            pass

        def _get_window_pos(self):
            return 0, 0

        def _set_window_pos(self, x, y):
            pass

        def mainloop(self):
            pass

    kw.Window = HeadlessWindow()
    # The C-level pixel scale is only half initialised without SDL: without this line
    # dp(48) returned -48.0 when KIVY_METRICS_DENSITY was set. Setting it explicitly fixes it.
    from kivy.metrics import Metrics

    Metrics.density = float(env.get("KIVY_METRICS_DENSITY", density or 1.0))
    Metrics.dpi = float(env.get("KIVY_DPI", 160 * Metrics.density))
    return kw.Window
