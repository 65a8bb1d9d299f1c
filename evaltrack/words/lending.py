"""What is said of a season on loan: from whom, until when, and what becomes of it then."""

from datetime import date

from evaltrack.rink.days import in_full
from evaltrack.rink.loan import LentNames, Loan
from evaltrack.rink.practice import local_day

_NAMES = {
    LentNames.FIRST: "the players’ first names and numbers",
    LentNames.NONE: "the players’ numbers and no name",
}
_LENT = "{place}: on loan until {day}, with {names}"
_UNTIL = "On loan from {team} until {day}. For the boards alone: what you note goes back to that season."
_OVER = (
    "This loan from {team} ended on {day}, and this tablet has seen {seen}. Nothing more is noted in it: "
    "give the tallies back, then delete it from this tablet."
)
_NO_TAP = "not saved: the loan ended on {day}; give the tallies back, and ask for a new loan"
TAKE_BACK = "Copy it to the other tablet and open it there. Its tallies come back as a pack, with `join`."


def lent_words(place: object, loan: Loan) -> str:
    """Return that a loan was written, and what is in it."""
    return _LENT.format(place=place, day=in_full(loan.last_day), names=_NAMES[loan.names])


def loan_words(loan: Loan, team: str, now: int) -> str:
    """Return from whom a loan is and until when; once it has ended, what to do with it."""
    day = in_full(loan.last_day)
    if not loan.is_over(now):
        return _UNTIL.format(team=team, day=day)
    seen = local_day(max(now, loan.latest))
    return _OVER.format(team=team, day=day, seen=in_full(seen) if seen else "no day of any calendar")


def no_tap_words(last_day: date) -> str:
    """Return why a tap is not saved in a loan that has ended."""
    return _NO_TAP.format(day=in_full(last_day))
