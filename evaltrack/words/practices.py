"""What happened in a practice, in words."""

from collections.abc import Sequence
from datetime import datetime

from evaltrack.language import tr, tr_many
from evaltrack.rink.days import in_full, nth
from evaltrack.rink.plain_text import capital
from evaltrack.rink.practice import Amendment, Correction, Practice
from evaltrack.rink.practice_story import Count, Story, Stretch
from evaltrack.words.corrections import Names, count_of
from evaltrack.words.wording import clock_time, counted, short_date


def number_in_day(practice: Practice, every: Sequence[Practice]) -> int:
    """Return which practice of its day it is, from 1, those that were set aside among them."""
    return 1 + [one.key for one in every if one.held_on == practice.held_on].index(practice.key)


def title_of(practice: Practice, every: Sequence[Practice]) -> str:
    """Return ``Tuesday 13 January 2026``, and which one of that day unless it is the first."""
    number = number_in_day(practice, every)
    day = capital(in_full(practice.held_on))
    return tr("{day}, {nth} practice", day=day, nth=nth(number)) if number > 1 else day


def clocks(first: datetime | None, last: datetime | None) -> str:
    """Return ``18:04 to 18:12``, or one of them when both are alike; where no time is known, that."""
    if first is None or last is None:
        return tr("without a time")
    start, end = clock_time(first), clock_time(last)
    return start if start == end else tr("{start} to {end}", start=start, end=end)


def stretch_words(stretch: Stretch, names: Names) -> str:
    """Return what one observer watched for a while, and how much was noted."""
    tallies = counted(stretch.tallies, "tally", "tallies")
    return tr(
        "{step}, {observer}: {tallies}",
        step=names.steps[stretch.drill, stretch.step],
        observer=stretch.observer,
        tallies=tallies,
    )


def gap_words(first: datetime, last: datetime) -> str:
    """Return from when to when nothing was noted."""
    minutes = round((last - first).total_seconds() / 60)
    return tr_many(
        "{clocks}  nothing noted for {number} minutes",
        "{clocks}  nothing noted for {number} minutes",
        minutes,
        clocks=clocks(first, last),
    )


def by_skill(story: Story, names: Names) -> list[tuple[str, Count]]:
    """Return each skill that was watched, by name, with what was seen in it."""
    found = [(skill.name, story.of_skill(key)) for key, skill in names.skills.items()]
    return [(name, count) for name, count in found if count.tallies]


def of_player(story: Story, player, names: Names) -> str:
    """Return ``Outlet pass 5 of 8 done; Gap up 1 of 2 done`` for a player."""
    skills = [(key, count) for (one, key), count in story.counts.items() if one == player]
    skills.sort(key=lambda pair: list(names.skills).index(pair[0]))
    return "; ".join(f"{names.skills[key].name} {count_of(count)}" for key, count in skills)


def what_became_of(correction: Correction) -> str:
    """Return what was put right of a practice as a whole."""
    if correction.change is Amendment.SET_ASIDE:
        return tr("The practice set aside")
    if correction.change is Amendment.BRING_BACK:
        return tr("The practice brought back")
    was, becomes = in_full(correction.was), in_full(correction.becomes)
    return tr("The practice from {was} to {becomes}", was=was, becomes=becomes)


def on_and_at(at: int) -> str:
    """Return ``26 Nov 2026, 18:04`` for a moment in ms, by the clock of this computer's time zone."""
    moment = datetime.fromtimestamp(at / 1000)
    return f"{short_date(moment.date())} {moment.year}, {clock_time(moment)}"
