"""What is said of a season on loan: from whom, until when, and what becomes of it then."""

from datetime import date

from evaltrack.language import tr, tr_many
from evaltrack.rink.days import in_full
from evaltrack.rink.loan import LentNames, Loan
from evaltrack.rink.practice import local_day


def lent_words(place: object, loan: Loan) -> str:
    """Return that a loan was written, and what is in it."""
    values = {"place": place, "day": in_full(loan.last_day)}
    if loan.names is LentNames.FIRST:
        return tr("{place}: on loan until {day}, with the players’ first names and numbers", **values)
    return tr("{place}: on loan until {day}, with the players’ numbers and no name", **values)


def take_back_words() -> str:
    """Return how the tallies of a loan come back."""
    return tr(
        "Copy it to the other tablet and open it there. Its tallies come back as a pack, which you take in."
    )


def loan_words(loan: Loan, team: str, now: int) -> str:
    """Return from whom a loan is and until when; once it has ended, since when."""
    day = in_full(loan.last_day)
    if not loan.is_over(now):
        return tr("On loan from {team} until {day}.", team=team, day=day)
    seen = local_day(max(now, loan.latest))
    if seen is None:
        return tr("This loan from {team} has ended: this tablet’s clock shows no day at all.", team=team)
    return tr(
        "This loan from {team} ended on {day}. By this tablet’s clock it has become {seen}.",
        team=team,
        day=day,
        seen=in_full(seen),
    )


def how_words(loan: Loan, now: int) -> str:
    """Return what a loan is good for, or what to do with one that has ended."""
    if loan.is_over(now):
        return tr(
            "Nothing more is noted in it. Give the tallies back, and then delete the loan from this tablet. "
            "If the day is wrong, set the clock right and ask for a new loan."
        )
    return tr("It is for the boards alone. What you note goes back to the team as one file, a pack.")


def given_words(tallies: int, given: bool) -> str:
    """Return how many tallies are in a loan, and whether they were given back."""
    if not tallies:
        return tr("Nothing was tallied in it yet.")
    if given:
        return tr_many(
            "{number} tally, and it was given back", "{number} tallies, and all were given back", tallies
        )
    return tr_many(
        "{number} tally that was not given back yet",
        "{number} tallies, not all of them given back yet",
        tallies,
    )


def no_tap_words(last_day: date) -> str:
    """Return why a tap is not saved in a loan that has ended."""
    return tr("Not saved: the loan ended on {day}. Give the tallies back.", day=in_full(last_day))
