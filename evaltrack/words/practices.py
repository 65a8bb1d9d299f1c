"""What happened in a practice, in words."""

from datetime import datetime

from evaltrack.rink.practice_story import Count, Story, Stretch
from evaltrack.words.corrections import Names, count_of
from evaltrack.words.wording import counted


def clocks(first: datetime | None, last: datetime | None) -> str:
    """Return ``18:04 to 18:12``, or one of them when both are alike; where no time is known, that."""
    if first is None or last is None:
        return "without a time"
    return " to ".join(dict.fromkeys(f"{moment:%H:%M}" for moment in (first, last)))


def stretch_words(stretch: Stretch, names: Names) -> str:
    """Return what one observer watched for a while, and how much was noted."""
    tallies = counted(stretch.tallies, "tally", "tallies")
    return f"{names.steps[stretch.drill, stretch.step]}, {stretch.observer}: {tallies}"


def gap_words(first: datetime, last: datetime) -> str:
    """Return from when to when nothing was noted."""
    minutes = round((last - first).total_seconds() / 60)
    return f"{clocks(first, last)}  nothing noted for {minutes} minutes"


def by_skill(story: Story, names: Names) -> list[tuple[str, Count]]:
    """Return each skill that was watched, by name, with what was seen in it."""
    found = [(skill.name, story.of_skill(key)) for key, skill in names.skills.items()]
    return [(name, count) for name, count in found if count.tallies]


def of_player(story: Story, player, names: Names) -> str:
    """Return ``Outlet pass 5 of 8 done; Gap up 1 of 2 done`` for a player."""
    skills = [(key, count) for (one, key), count in story.counts.items() if one == player]
    skills.sort(key=lambda pair: list(names.skills).index(pair[0]))
    return "; ".join(f"{names.skills[key].name} {count_of(count)}" for key, count in skills)
