"""How the other screens lead to the end of a season; each screen comes when it is asked for."""

from pathlib import Path

from evaltrack.language import tr

_SEASON_END, _NEXT_SEASON = "season_end", "next_season"


class ClosingScreens:
    """A part of the app."""

    _season_end_from = _next_season_from = "seasons"

    def _to_season_end(self, screen) -> None:
        self._season_end_from = screen.name
        self.go(_SEASON_END)

    def _make_season_end(self):
        from evaltrack.touch.closing.season_end_screen import SeasonEndScreen

        screen = SeasonEndScreen(name=_SEASON_END, desk=self.desk, worker=self.worker)
        screen.bind(on_back=lambda _: self.go(self._season_end_from), on_next_season=self._to_next_season)
        return screen

    def _to_next_season(self, screen) -> None:
        self._next_season_from = screen.name
        self.go(_NEXT_SEASON)

    def _make_next_season(self):
        from evaltrack.touch.closing.next_season_screen import NextSeasonScreen

        screen = NextSeasonScreen(name=_NEXT_SEASON, desk=self.desk, worker=self.worker)
        screen.bind(on_back=lambda _: self.go(self._next_season_from), on_made=self._to_next)
        return screen

    def _to_next(self, screen, path: Path) -> None:
        if not self.desk.open(path):
            screen.words = self.desk.message
            return
        self.go("home")
        self.desk.message = tr("The next season is in {file}, and is open now.", file=path)
