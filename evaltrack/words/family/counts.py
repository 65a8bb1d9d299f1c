"""A child's counts in whole sentences: with their denominator, and never a share without its count."""

from datetime import date

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import tr, tr_many
from evaltrack.rink.days import day_and_month
from evaltrack.words.wording import FRESH_DAYS, share_words


def worked(done: int, tries: int) -> str:
    """Say how often it worked: ``It worked in 26 of 37 tries, about 7 in 10.`` and the like."""
    if done == 0:
        return tr("It has not worked yet in {tries} tries.", tries=tries)
    if tries == 10:
        return tr_many(
            "It worked in {number} of {tries} tries.",
            "It worked in {number} of {tries} tries.",
            done,
            tries=tries,
        )
    return tr_many(
        "It worked in {number} of {tries} tries, {share}.",
        "It worked in {number} of {tries} tries, {share}.",
        done,
        tries=tries,
        share=share(done, tries),
    )


def share(done: int, tries: int) -> str:
    """Return ``about 7 in 10``; without "about" where it is just that."""
    exact = 0 < done < tries and 10 * done % tries == 0
    return tr("{tenths} in 10", tenths=10 * done // tries) if exact else share_words(done, tries)


def worked_so_far(done: int, tries: int) -> str:
    """Say the same of what is still being learned: ``So far, it has worked in 5 of 22 tries.`` alone."""
    if done == 0:
        return tr("It has not worked yet in {tries} tries, so we start here.", tries=tries)
    return tr_many(
        "So far, it has worked in {number} of {tries} tries.",
        "So far, it has worked in {number} of {tries} tries.",
        done,
        tries=tries,
    )


def day_words(day: date) -> str:
    """Return ``2 October``: within one season the year is known."""
    return day_and_month(day)


def first_day(standing: Standing) -> date:
    """Return the day from which a trend is told."""
    return (standing.path or standing.seen)[0].on


def last_day(standing: Standing) -> date:
    """Return the day up to which a trend is told."""
    return (standing.path or standing.seen)[-1].on


def is_old(standing: Standing, last: date) -> bool:
    """Say whether a standing is of so long before a day that nothing of it may be told as of then."""
    return (last - last_day(standing)).days > FRESH_DAYS
