"""Whether a practice can have been held on a day, in words."""

from datetime import date

from evaltrack.language import tr
from evaltrack.rink.days import SEASON_DAYS, Span, in_full, season_span
from evaltrack.rink.practice import Practice, local_day


def why_not_held_on(season, practice: Practice, day: date) -> str:
    """Return why a practice of the season cannot have been held on a day; empty when it can."""
    if day > date.today():
        return tr("{day} has not come yet; name the day on which the practice was held", day=in_full(day))
    others = season_span(one.held_on for one in season.practices.all() if one.key != practice.key)
    if _is_in_season(season, practice, day, others):
        return ""
    if not others:
        return tr("{day} is in no season of this file; mend the date", day=in_full(day))
    return tr(
        "{day} is in no season of this file (practices: {span}); mend the date",
        day=in_full(day),
        span=others,
    )


def _is_in_season(season, practice: Practice, day: date, others: Span | None) -> bool:
    """Say whether a day fits the other practices, or the file's first year, or was this practice's before."""
    if day in {correction.was for correction in season.corrections.all(practice.key)}:
        return True
    made = local_day(season.created_at)
    if made and abs((day - made).days) <= SEASON_DAYS:
        return True
    return bool(others and others.takes(day))
