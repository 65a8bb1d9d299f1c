"""An invented season for the tests of paper: a team, its tallies, and standings made by hand.

The standings here are no estimates: a plain share with made-up bands, so that paper is tested apart from
the model.
"""

import random
from dataclasses import replace
from datetime import date, timedelta

from evaltrack.analysis.standings.standing import Call, PathPoint, Seen, Standing, Trend
from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.places import sample_roster
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.creating import create_season

FIRST = date(2025, 10, 2)
DAYS = tuple(FIRST + timedelta(days=round(102 * i / 23)) for i in range(24))
NAMES = (
    "Zoë Łukasik", "Minh Nguyễn", "Ayşe Şahin", "Siobhán O'Brien-Nguyễn", "Tomás Ibáñez", "Björn Sætre",
    "Ivana Đurić", "Noor Haddad", "Kai Lindqvist", "Ottilie Brandt", "Wren Castellano", "Jonas Vermeulen",
    "Maeve Tulloch", "Pavel Horák", "Eero Koskela", "Ines Marchetti", "Ruben Achterberg", "Talia Feingold",
    "Oskar Wiśniewski", "Freya Holmström",
)  # fmt: skip

ONE = Standing(
    player="00", name='Per "Pelle" Håk, jr', position="D", skill="stop", tries=20, done=14, practices=3,
    share=2 / 3, low=0.51, high=0.8125, low50=0.6, high50=0.72, start_share=0.6, change=1 / 15,
    change_low=-0.1, change_high=0.2, p_up=0.75, target=0.6, p_below=0.2, call=Call.IN_BETWEEN,
    trend=Trend.NO_CLEAR_CHANGE,
)  # fmt: skip


def skills():
    """Return the shipped catalogue."""
    return read_skills(sample_roster() / "skills.toml")


def roster() -> list[Player]:
    """Return twenty players, numbers 2 to 21, defenders and forwards in turn."""
    return [Player(str(i + 2), name, Position("DF"[i % 2])) for i, name in enumerate(NAMES)]


def season_of(path, players=None, tries=4, days=DAYS):
    """Return a new season in which every player is seen in every skill of his at every other practice."""
    catalogue = skills()
    players = roster() if players is None else players
    drills = read_drills(sample_roster() / "drills.toml", catalogue)
    season = create_season(
        path, team="Kettle Bay Lanterns", age_class="12U", players=players, skills=catalogue, drills=drills
    )
    season.log.add_many([Practice(str(day), day) for day in days], _tallies(players, catalogue, tries, days))
    return season


def _tallies(players, catalogue, tries, days):
    rng = random.Random(17)
    for place, player in enumerate(players):
        for skill in (s for s in catalogue if s.suits(player.position)):
            ability = rng.uniform(0.25, 0.85)
            for day in days[place % 2 :: 2]:
                for _ in range(rng.randint(0, tries)):
                    outcome = Outcome.DONE if rng.random() < ability else Outcome.MISSED
                    yield Tally(
                        str(day), player.id, skill.key, outcome, "stops_starts", "on_lines", "A. Coach"
                    )


def standing(skill, seen, player="7", share=None, call=None, trend=Trend.NO_CLEAR_CHANGE, **other):
    """Return a standing of this many (tries, done) at one practice after the other."""
    tries, done = sum(t for t, _ in seen), sum(d for _, d in seen)
    share = (done + 2) / (tries + 4) if share is None else share
    if call is None:
        call = Call.TOO_FEW if tries < 10 or len(seen) < 2 else Call.IN_BETWEEN
    narrow, wide = 0.3 / (tries + 4) ** 0.5, 0.8 / (tries + 4) ** 0.5
    bands = [max(share - wide, 0), min(share + wide, 1), max(share - narrow, 0), min(share + narrow, 1)]
    values = {
        "player": player, "name": "", "position": "D", "skill": skill, "tries": tries, "done": done,
        "practices": len(seen), "share": share, "low": bands[0], "high": bands[1], "low50": bands[2],
        "high50": bands[3], "start_share": share, "change": 0.0, "change_low": -0.1, "change_high": 0.1,
        "p_up": 0.5, "target": 0.6, "p_below": 0.5, "call": call, "trend": trend,
        "path": tuple(PathPoint(day, share, *bands) for day in DAYS),
        "seen": tuple(Seen(day, t, d) for day, (t, d) in zip(DAYS, seen, strict=False)),
    }  # fmt: skip
    return Standing(**(values | other))


def standings_of(season) -> list[Standing]:
    """Return hand-made standings from the tallies of a season: counts are true, bands are made up."""
    numbers = {player.id.bytes: player.number for player in season.people.players()}
    seen: dict[tuple[str, str], dict[date, list[int]]] = {}
    for player, skill, _, held_on, *_, tries, done in season.log.cells():
        day = seen.setdefault((numbers[player], skill), {}).setdefault(date.fromisoformat(held_on), [0, 0])
        day[0], day[1] = day[0] + tries, day[1] + done
    order = {skill.key: place for place, skill in enumerate(season.catalogue.skills())}
    keys = sorted(seen, key=lambda key: (int(key[0]), order[key[1]]))
    return [_counted(key, sorted(seen[key].items())) for key in keys]


def _counted(key, days) -> Standing:
    made = standing(key[1], [tuple(count) for _, count in days], player=key[0])
    exact = tuple(Seen(day, *count) for day, count in days)
    return replace(made, seen=exact, call=_call(made))


def _call(made: Standing) -> Call:
    if made.tries < 20:
        return made.call
    return Call.SOLID if made.share > 0.72 else Call.WORK_ON if made.share < 0.45 else Call.IN_BETWEEN
