"""What the page says of one skill: under going well, and as a next step. All in whole sentences.

"Likely" stands only where the call does, and a direction only where the trend does.
"""

from collections.abc import Iterable
from datetime import date

from evaltrack.analysis.standings.standing import Standing, Trend
from evaltrack.rink.skill import Skill
from evaltrack.words.family.choice import Step, Strength, is_at_target, next_step, strength
from evaltrack.words.family.counts import day_words, first_day, is_old, last_day, worked, worked_so_far

LIKELY_ABOVE = "In our usual drills, it likely works more often than the coach asks for."
STILL_ABOVE = "It likely still works more often than the coach asks for."
LIKELY_BELOW = "In our usual drills, it likely works less often than the coach asks for."
NOT_YET_SOLID = "We want to see more of it before we call it solid."
AT_HOME = "See what to try at home."
NAMED = "The coach named this one."


def strength_words(skill: Skill, standing: Standing, last: date) -> str:
    """Return what is said of a strength; ``last`` is the day up to which the page counts."""
    said = [_strength_head(skill.name, standing, last), worked(standing.done, standing.tries)]
    reason = strength(standing)
    if standing.trend is Trend.DOWN:
        said += [_gone_down(standing, last), STILL_ABOVE]
    elif reason is Strength.SOLID and not is_at_target(standing):
        said.append(LIKELY_ABOVE)
    elif reason is Strength.LIKELY:
        said.append(NOT_YET_SOLID)
    return " ".join(said)


def _strength_head(name: str, standing: Standing, last: date) -> str:
    reason, rising = strength(standing), standing.trend is Trend.UP
    first, end = day_words(first_day(standing)), day_words(last_day(standing))
    old = is_old(standing, last)
    if reason is Strength.SOLID and not rising:
        return f"{name}: solid."
    if reason is Strength.SOLID:
        return (
            f"{name}: solid, and it went up from {first} to {end}."
            if old
            else (f"{name}: solid, and going up since {first}.")
        )
    if reason is Strength.RISING:
        return f"{name}: it went up from {first} to {end}." if old else f"{name}: going up since {first}."
    return (
        f"{name}: looking good so far." if reason is Strength.LIKELY else f"{name}: the coach named this one."
    )


def next_words(skill: Skill, standing: Standing, last: date) -> str:
    """Return what is said of a next step: what it looks like, then the count, then where to look for help."""
    return " ".join(_next(skill, standing, last))


def _next(skill: Skill, standing: Standing, last: date) -> Iterable[str]:
    yield f"{skill.name}. When it works, it looks like this: {skill.looks_like.rstrip('.')}."
    yield worked_so_far(standing.done, standing.tries)
    reason = next_step(standing)
    if standing.trend is Trend.UP:
        yield _gone_up(standing, last)
    elif reason is Step.FALLING:
        yield _gone_down(standing, last)
    if reason is Step.CALLED and is_at_target(standing):
        yield LIKELY_BELOW
    if reason is Step.PICKED:
        yield NAMED
    if skill.at_home:
        yield AT_HOME


def _gone_up(standing: Standing, last: date) -> str:
    first, end = day_words(first_day(standing)), day_words(last_day(standing))
    return (
        f"It went up from {first} to {end}." if is_old(standing, last) else f"It has gone up since {first}."
    )


def _gone_down(standing: Standing, last: date) -> str:
    first, end = day_words(first_day(standing)), day_words(last_day(standing))
    return (
        f"It went down from {first} to {end}."
        if is_old(standing, last)
        else f"It has gone down since {first}."
    )
