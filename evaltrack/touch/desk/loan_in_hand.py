"""A season in hand that is on loan: what it notes as, and its end."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.loan import Loan
from evaltrack.touch.desk.season_in_hand import SeasonInHand


class LoanInHand(SeasonInHand):
    """The season in hand as a loan, ``loan``; None where it is one's own."""

    loan: Loan | None = None

    def _learn(self, known) -> None:
        super()._learn(known)
        self.loan = known.loan
        if self.loan:
            self.update_tablet(lambda tablet: replace(tablet, id=self.loan.tablet(tablet.id)))

    def _note_opened(self, path: Path) -> None:
        super()._note_opened(path)
        self.keep_lateness()

    def team_words(self) -> str:
        """Return whose season is in hand, and whether it is invented or on loan."""
        words = super().team_words()
        return tr("{team}, on loan", team=words) if self.loan else words

    @property
    def loan_is_over(self) -> bool:
        """Say whether the season in hand is a loan that has ended; how late it has become is kept with it."""
        return self.loan is not None and self._is_over(self.loan)

    def _is_over(self, loan: Loan) -> bool:
        now = self.now()
        over, was_over = loan.is_over(now), loan.is_over(loan.latest)
        if now > loan.latest:
            self.loan = replace(loan, latest=now)
        if over and not was_over:
            self.keep_lateness()
        return over

    def keep_lateness(self) -> None:
        """Keep in the file how late it has become, so that a clock that is set back revives no loan."""
        if self.loan:
            try:
                self.season.keep_latest(max(self.now(), self.loan.latest))
            except EvaltrackError as error:
                self.message = str(error)

    def save(self, write: Callable[[], None], lost: str = "") -> bool:
        """Do a write; into a loan that has ended nothing is written."""
        if self.loan_is_over:
            from evaltrack.words.lending import no_tap_words

            self.message = no_tap_words(self.loan.last_day)
            return False
        return super().save(write, lost)

    def delete_loan(self) -> bool:
        """Close the loan and delete its file here; say whether it is gone. Copies elsewhere stay."""
        from evaltrack.device.recent_seasons import forget_season
        from evaltrack.store.on_disk.left_copies import delete_with_journals

        path = self.season.path.resolve()
        self.close()
        if stuck := delete_with_journals(path):
            self.open(path)
            self.message = tr("{file} cannot be deleted: {why}", file=path.name, why=stuck)
            return False
        forget_season(path)
        self.keep(season="")
        return True
