"""How the list of practices leads to one of them, and to its tallies; each comes when it is asked for."""

from functools import partial

_LIST, _ONE, _TALLIES = "practices", "practice", "tallies"


class PuttingRightScreens:
    """A part of the app."""

    def _make_practices(self):
        from evaltrack.touch.putting_right.practices_screen import PracticesScreen

        screen = PracticesScreen(name=_LIST, desk=self.desk)
        screen.bind(on_back=partial(self.go, "home"), on_practice=self._to_held)
        return screen

    def _make_practice(self):
        from evaltrack.touch.putting_right.practice_screen import PracticeScreen

        screen = PracticeScreen(name=_ONE, desk=self.desk, worker=self.worker)
        to_list = partial(self.go, _LIST)
        screen.bind(on_back=to_list, on_gone=to_list, on_tallies=self._to_tallies)
        return screen

    def _make_tallies(self):
        from evaltrack.touch.putting_right.tallies_screen import TalliesScreen

        screen = TalliesScreen(name=_TALLIES, desk=self.desk)
        to_one = partial(self.go, _ONE)
        screen.bind(on_back=to_one, on_done=to_one)
        return screen

    def _to_held(self, _, key: str) -> None:
        self.screen(_ONE).key = key
        self.go(_ONE)

    def _to_tallies(self, practice) -> None:
        self.screen(_TALLIES).key = practice.key
        self.go(_TALLIES)
