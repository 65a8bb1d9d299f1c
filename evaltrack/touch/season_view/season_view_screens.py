"""How home leads to the season as a whole; the screen comes when it is asked for."""

from functools import partial

_SEASON = "season"


class SeasonViewScreens:
    """A part of the app."""

    def _make_season(self):
        from evaltrack.touch.season_view.season_screen import SeasonScreen

        screen = SeasonScreen(name=_SEASON, desk=self.desk, worker=self.worker)
        screen.bind(on_back=partial(self.go, "home"))
        return screen
