"""How the roster leads to its players, and to what is kept of each; a screen comes when it is asked for."""

from functools import partial

_HOME, _PLAYERS, _FORM, _KEPT = "home", "players", "player_form", "kept"


class PeopleScreens:
    """A part of the app."""

    def _make_players(self):
        from evaltrack.touch.people.players_screen import PlayersScreen

        screen = PlayersScreen(name=_PLAYERS, desk=self.desk)
        screen.bind(on_back=partial(self.go, _HOME), on_player=self._to_player_form)
        return screen

    def _make_player_form(self):
        from evaltrack.touch.people.player_form import PlayerForm

        screen = PlayerForm(name=_FORM, desk=self.desk)
        to_players = partial(self.go, _PLAYERS)
        screen.bind(on_back=to_players, on_done=to_players, on_kept=self._to_kept)
        return screen

    def _to_player_form(self, _, player) -> None:
        self.screen(_FORM).open(player)
        self.go(_FORM)

    def _make_kept(self):
        from evaltrack.touch.people.kept_screen import KeptScreen

        screen = KeptScreen(name=_KEPT, desk=self.desk, worker=self.worker)
        screen.bind(
            on_back=partial(self.go, _FORM),
            on_done=partial(self.go, _PLAYERS),
            on_folder=lambda screen: self.ask_for_folder(_KEPT, screen.write_into),
        )
        return screen

    def _to_kept(self, _, player) -> None:
        self.screen(_KEPT).open(player)
        self.go(_KEPT)
