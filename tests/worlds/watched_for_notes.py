"""A small season for families' pages: three players, in skills that come off often, seldom, now and then."""

from datetime import date
from pathlib import Path

from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.opening import open_season

BEFORE = (date(2025, 10, 7), date(2025, 11, 11), date(2025, 12, 9), date(2026, 1, 13))
AFTER = (date(2026, 2, 10), date(2026, 3, 3))
DONE_OF_TWELVE = {"outlet_pass": 11, "gap_up": 3, "shot_on_net": 7, "stop": 11}


def watch(path: Path, days=BEFORE, done=None, players: int = 3) -> None:
    """Add a practice on each of these days, with twelve tries of each player in each skill."""
    done = done or DONE_OF_TWELVE
    practices = [Practice(day.isoformat(), day) for day in days]
    with open_season(path) as season:
        watched = season.people.players()[:players]
        season.log.add_many(
            practices,
            [
                Tally(
                    practice.key,
                    player.id,
                    skill,
                    Outcome.DONE if nth < count else Outcome.MISSED,
                    "breakout_attack",
                    "two_on_one",
                    "Marit",
                )
                for practice in practices
                for player in watched
                for skill, count in done.items()
                for nth in range(12)
            ],
        )
