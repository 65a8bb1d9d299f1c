"""A season with something in nearly every table, small enough to be damaged hundreds of times."""

from dataclasses import replace
from datetime import date
from pathlib import Path

from lanterns_season import DRILLS, OBSERVERS, PLAYERS, PRACTICES, SKILLS, TEAM, station, tally
from planned_cards import card

from evaltrack.rink.ice_time import IceTime
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Amendment, Attendance, Correction
from evaltrack.rink.tally import Outcome, Withdrawal
from evaltrack.rink.tally_correction import Change, correction_of
from evaltrack.store.creating import create_season

TALLIES = 420


def season_to_damage(path: Path) -> Path:
    """Make the season file, and return its path; it is closed, and whole alone."""
    more = [Player(str(20 + n), f"Quillon Marchbanks {n}", list(Position)[n % 3]) for n in range(12)]
    players = [*PLAYERS, *more]
    with create_season(path, **TEAM, players=players, skills=SKILLS, drills=DRILLS) as season:
        season.practices.add(PRACTICES)
        for name in OBSERVERS:
            season.people.add_observer(name)
        keys = [practice.key for practice in PRACTICES]
        for key in keys:
            season.practices.mark(key, [Attendance(p.id, True, n, 1) for n, p in enumerate(players)])
        season.practices.watch(station())
        season.log.add_many([], [_tally(n, players, keys) for n in range(TALLIES)])
        _change(season, players)
    return path


def _tally(n: int, players: list[Player], keys: list[str]):
    skill = SKILLS[n % 3].key
    changes = {
        "player": players[n % 17].id,
        "skill": skill,
        "practice": keys[n % 2],
        "pressure": (None, True, False)[n % 3],
    }
    return tally(n, list(Outcome)[n % 3], observer=OBSERVERS[n % 2], **changes)


def _change(season, players: list[Player]) -> None:
    key, tablet = PRACTICES[0].key, "bench"
    for n in range(0, 40, 4):
        season.log.withdraw(Withdrawal(tally(n).id, tablet, 5))
    season.people.change([replace(players[0], number="98")], date(2025, 10, 12), tablet)
    season.catalogue_changes.set_to([replace(SKILLS[0], target=0.7), *SKILLS[1:]], None, (), tablet)
    season.catalogue_changes.keep_texts({"skills": "# ours"})
    right = correction_of(season.log.stands(key)[:30], Change.ASIDE, True, key, tablet)
    season.tally_corrections.add(right)
    season.comments.write(key, "Soft ice, and a long wait at the boards.", tablet)
    day = PRACTICES[1].held_on
    season.corrections.add(Correction(PRACTICES[1].key, Amendment.TO_DATE, day, date(2025, 10, 10), tablet))
    season.plans.add(card(), tablet)
    season.calendar.note([IceTime(date(2025, 11, 4), None, 60)], tablet)
