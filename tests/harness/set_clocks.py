"""A tablet's clock that tests set, put forward and put to sleep, and apps that live by it."""

from datetime import datetime

from evaltrack.touch.app import EvaltrackApp


class TabletClock:
    """The wall clock of a tablet, and the real time that passes whatever it says."""

    def __init__(self, moment: datetime):
        self.set(moment)
        self.real = 1000.0  # seconds

    def set(self, moment: datetime) -> None:
        """Let the clock on the wall say something else from now on, in no time."""
        self.ms = int(moment.timestamp() * 1000)

    def pass_hours(self, hours: float) -> None:
        """Let real time pass, awake or asleep."""
        self.real += 3600 * hours
        self.ms += round(3_600_000 * hours)

    def now(self) -> int:
        """Return the moment by the clock on the wall, in milliseconds since 1970 in UTC."""
        self.ms += 1000  # taps and keys take their time
        self.real += 1
        return self.ms

    def today(self):
        """Return the day by the clock on the wall."""
        return datetime.fromtimestamp(self.ms / 1000).date()

    def app(self, path) -> EvaltrackApp:
        """Return an app on a season file that goes by this clock."""
        app = EvaltrackApp(path)
        app.desk._clock = self.now
        app._pause._elapsed = lambda: self.real
        app._pause._hear()
        return app


def start_on(driver, clock: TabletClock):
    """Come to the start screen, which goes by this clock."""
    screen = driver.app.screen("start")
    screen._today = clock.today
    driver.app.go("home")
    driver.app.go("start")
    driver.settle()
    return screen


def a_second_later(driver) -> None:
    """Let the app look after what it looks after once a second."""
    driver.app._check_pause()
    driver.settle()
