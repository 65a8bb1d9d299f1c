"""How the seasons lead to packs and loans; each screen comes when it is asked for."""

from functools import partial

_PACKS, _LEND, _SEASONS = "packs", "lend", "seasons"


class PackScreens:
    """A part of the app."""

    def _make_packs(self):
        from evaltrack.touch.packs.packs_screen import PacksScreen

        screen = PacksScreen(name=_PACKS, desk=self.desk, worker=self.worker)
        screen.bind(
            on_back=partial(self.go, _SEASONS),
            on_lend=partial(self.go, _LEND),
            on_folder=lambda screen, then: self.ask_for_folder(_PACKS, then),
            on_file=lambda screen, then: self.ask_for_folder(_PACKS, then, "PACK"),
        )
        return screen

    def _make_lend(self):
        from evaltrack.touch.packs.lend_screen import LendScreen

        screen = LendScreen(name=_LEND, desk=self.desk, worker=self.worker)
        screen.bind(
            on_back=partial(self.go, _PACKS),
            on_folder=lambda screen: self.ask_for_folder(_LEND, screen.lend_into),
        )
        return screen
