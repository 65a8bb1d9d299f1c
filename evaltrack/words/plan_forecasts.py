"""What a step of a plan gives, in sentences: how often a skill comes off in it, and how many tries."""

from collections.abc import Sequence

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.plan import Basis, Forecast, Pace
from evaltrack.words.plan_names import PlanNames
from evaltrack.words.wording import counted, decimal, tenths_words


def forecast_words(forecast: Forecast, band: tuple[float, float], names: PlanNames) -> str:
    """Return how often a skill is predicted to come off in the step, and whether that is in the band."""
    share = forecast.share
    about = round(share.value, 2)  # as it is told
    said = _BELOW if about < band[0] else _ABOVE if about > band[1] else _WITHIN
    return tr(
        said[forecast.tries > 0],
        skill=names.skills[forecast.skill],
        share=_tenth(share.value),
        span=tenths_words(share.low, share.high),
        low=_tenth(band[0]),
        high=_tenth(band[1]),
    )


# by whether it was ever tallied in the step
_BELOW = {
    True: mark(
        "{skill} is predicted to come off about {share} times in 10 ({span}) in this step: below the "
        "{low} to {high} in 10 that were asked for."
    ),
    False: mark(
        "{skill} is predicted to come off about {share} times in 10 ({span}) in this step, where it was "
        "never tallied, so that is a guess: below the {low} to {high} in 10 that were asked for."
    ),
}
_WITHIN = {
    True: mark(
        "{skill} is predicted to come off about {share} times in 10 ({span}) in this step: within the {low} "
        "to {high} in 10 that were asked for."
    ),
    False: mark(
        "{skill} is predicted to come off about {share} times in 10 ({span}) in this step, where it was "
        "never tallied, so that is a guess: within the {low} to {high} in 10 that were asked for."
    ),
}
_ABOVE = {
    True: mark(
        "{skill} is predicted to come off about {share} times in 10 ({span}) in this step: above the "
        "{low} to {high} in 10 that were asked for."
    ),
    False: mark(
        "{skill} is predicted to come off about {share} times in 10 ({span}) in this step, where it was "
        "never tallied, so that is a guess: above the {low} to {high} in 10 that were asked for."
    ),
}


def steps_words(forecasts: Sequence[Forecast], names: PlanNames) -> str:
    """Return how often a skill is predicted to come off in each of its steps."""
    told = [_in_step(one, names.step(one.drill, one.step)) for one in forecasts]
    return tr("predicted of 10: {steps}", steps="; ".join(told)) if told else ""


def _in_step(forecast: Forecast, step: str) -> str:
    share = _tenth(forecast.share.value)
    if forecast.tries:
        return tr("{step}: {share}", step=step, share=share)
    return tr("{step}: {share} (never tallied there, a guess)", step=step, share=share)


def _tenth(share: float) -> str:
    return decimal(10 * share, trim=True)


def tries_each(fewest: int, most: int, skill: str, pace: str) -> str:
    """Return how many tries each player can expect, at a pace that is told already."""
    if fewest < most:
        return tr(
            "About {low} to {high} tries each in {skill}, at {pace}.",
            low=fewest,
            high=most,
            skill=skill,
            pace=pace,
        )
    return tr_many(
        "About {number} tries each in {skill}, at {pace}.",
        "About {number} tries each in {skill}, at {pace}.",
        most,
        skill=skill,
        pace=pace,
    )


def pace_words(pace: Pace) -> str:
    """Return how many reps a minute there are, and how that is known."""
    reps = decimal(pace.reps, trim=True)
    if pace.basis is Basis.REPS:
        how = counted(pace.counted, "rep")
        return tr("{reps} reps a minute as this team made them ({how} counted)", reps=reps, how=how)
    if pace.basis is Basis.TALLIES:
        how = counted(pace.counted, "tally", "tallies")
        return tr("{reps} reps a minute or more, by the times of {how}", reps=reps, how=how)
    return tr("{reps} reps a minute, a common default: how many this team makes is not known", reps=reps)
