"""What the page says of one skill: under going well, and as a next step. All in whole sentences.

"Likely" stands only where the call does, and a direction only where the trend does.
"""

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from evaltrack.analysis.standings.standing import Standing, Trend
from evaltrack.language import mark, tr
from evaltrack.rink.skill import Skill
from evaltrack.words.family.choice import Step, Strength, is_at_target, next_step, strength
from evaltrack.words.family.counts import day_words, first_day, is_old, last_day, worked, worked_so_far


class Change(NamedTuple):
    """A change in words: as it goes on, and as it went where it was last watched long ago."""

    going: str
    went: str

    def told(self, standing: Standing, last: date, name: str = "") -> str:
        """Return the words with their days, and with the skill's name where they have it."""
        words = self.went if is_old(standing, last) else self.going
        first, end = day_words(first_day(standing)), day_words(last_day(standing))
        return tr(words, name=name, first=first, end=end)


SOLID = mark("{name}: solid.")
SOLID_RISING = Change(
    mark("{name}: solid, and going up since {first}."),
    mark("{name}: solid, and it went up from {first} to {end}."),
)
RISING = Change(mark("{name}: going up since {first}."), mark("{name}: it went up from {first} to {end}."))
LIKELY = mark("{name}: looking good so far.")
PICKED = mark("{name}: the coach sees this going well.")
UP = Change(mark("It has gone up since {first}."), mark("It went up from {first} to {end}."))
DOWN = Change(mark("It has gone down since {first}."), mark("It went down from {first} to {end}."))

LIKELY_ABOVE = mark("In our usual drills, it likely works more often than the coach asks for.")
STILL_ABOVE = mark("It likely still works more often than the coach asks for.")
LIKELY_BELOW = mark("In our usual drills, it likely works less often than the coach asks for.")
NOT_YET_SOLID = mark("We have not seen enough of it yet to call it solid.")
LOOKS_LIKE = mark("{name}. When it works, it looks like this: {looks_like}.")
NAMED = mark("The coach chose this one.")
AT_HOME = mark("See what to try at home.")


def strength_words(skill: Skill, standing: Standing, last: date) -> str:
    """Return what is said of a strength; ``last`` is the day up to which the page counts."""
    return " ".join(_strength(skill, standing, last))


def _strength(skill: Skill, standing: Standing, last: date) -> Iterable[str]:
    reason = strength(standing)
    yield _strength_head(skill.name, standing, last)
    yield worked(standing.done, standing.tries)
    if standing.trend is Trend.DOWN:
        yield DOWN.told(standing, last)
        yield tr(STILL_ABOVE)
    elif reason is Strength.SOLID and not is_at_target(standing):
        yield tr(LIKELY_ABOVE)
    elif reason is Strength.LIKELY:
        yield tr(NOT_YET_SOLID)


def _strength_head(name: str, standing: Standing, last: date) -> str:
    reason, rising = strength(standing), standing.trend is Trend.UP
    if rising:
        return (SOLID_RISING if reason is Strength.SOLID else RISING).told(standing, last, name)
    heads = {Strength.SOLID: SOLID, Strength.LIKELY: LIKELY, Strength.PICKED: PICKED}
    return tr(heads[reason], name=name)


def next_words(skill: Skill, standing: Standing, last: date) -> str:
    """Return what is said of a next step: what it looks like, then the count, then where to look for help."""
    return " ".join(_next(skill, standing, last))


def _next(skill: Skill, standing: Standing, last: date) -> Iterable[str]:
    reason = next_step(standing)
    yield tr(LOOKS_LIKE, name=skill.name, looks_like=skill.looks_like.rstrip("."))
    yield worked_so_far(standing.done, standing.tries)
    if standing.trend is Trend.UP:
        yield UP.told(standing, last)
    elif reason is Step.FALLING:
        yield DOWN.told(standing, last)
    if reason is Step.CALLED and is_at_target(standing):
        yield tr(LIKELY_BELOW)
    if reason is Step.PICKED:
        yield tr(NAMED)
    if skill.at_home:
        yield tr(AT_HOME)
