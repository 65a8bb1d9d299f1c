"""How the other screens lead to the end of a season; each screen comes when it is asked for."""

_SEASON_END = "season_end"


class ClosingScreens:
    """A part of the app."""

    _season_end_from = "seasons"

    def _to_season_end(self, screen) -> None:
        self._season_end_from = screen.name
        self.go(_SEASON_END)

    def _make_season_end(self):
        from evaltrack.touch.closing.season_end_screen import SeasonEndScreen

        screen = SeasonEndScreen(name=_SEASON_END, desk=self.desk, worker=self.worker)
        screen.bind(on_back=lambda _: self.go(self._season_end_from))
        return screen
