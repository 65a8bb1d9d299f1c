"""How a player leads to what is kept of them."""

from functools import partial

_KEPT, _FORM, _PLAYERS = "kept", "player_form", "players"


class KeptScreens:
    """A part of the app."""

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
