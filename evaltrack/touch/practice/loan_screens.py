"""How a season on loan leads to its boards, back to whoever lent it, and off the tablet."""

from functools import partial

_LOAN, _SETUP, _SEASONS = "loan", "setup", "seasons"


class LoanScreens:
    """A part of the app."""

    def _make_loan(self):
        from evaltrack.touch.practice.loan_screen import LoanScreen

        screen = LoanScreen(name=_LOAN, desk=self.desk, worker=self.worker)
        screen.bind(
            on_practice=self._to_practice,
            on_folder=lambda screen: self.ask_for_folder(_LOAN, screen.give_into),
            on_setup=partial(self.go, _SETUP),
            on_seasons=partial(self.go, _SEASONS),
            on_deleted=partial(self.go, _SEASONS),
            on_pre_enter=self._rest_before,
        )
        return screen

    def _rest_before(self, *_) -> None:
        self.desk.rest()
