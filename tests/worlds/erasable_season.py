"""A season in which the name of one player stands wherever a name can stand, and others beside it."""

import random
from contextlib import closing
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from sqlite3 import connect
from uuid import UUID

from lanterns_season import DRILLS, OBSERVERS, PLAYERS, SKILLS, TEAM, tally
from planned_cards import card

from evaltrack.rink.ice_time import IceTime
from evaltrack.rink.ident import new_id
from evaltrack.rink.plan_card import CardLook
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Attendance, Practice, Rep
from evaltrack.rink.rotation.rotation_fact import Change as Turn
from evaltrack.rink.rotation.rotation_fact import RotationFact
from evaltrack.rink.tally import Outcome, Withdrawal
from evaltrack.rink.tally_correction import Change, correction_of
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season

ZORA = Player("88", "Žofia Quillembrück", Position.DEFENCE, 2013, id=UUID(int=88))
EARLIER = ("Zofja Quillembruck", "Žofia Vandersloot")
FIRST = date(2025, 10, 4)
STEP = ("breakout_attack", "two_on_one")
WORDS = ("Žofia was tired; Juno Reed was not.", "ask VANDERSLOOT's parents", "Soft ice.")


def noted(path: Path, tallies: int = 90, practices: int = 3) -> Path:
    """Make a season file with about so many tallies, and everything that can name a player in it."""
    with create_season(path, **TEAM, players=[*PLAYERS, ZORA], skills=SKILLS, drills=DRILLS) as season:
        for name in OBSERVERS:
            season.people.add_observer(name)
        keys = _practise(season, tallies, practices)
        _rename(season)
        _put_right(season, keys[0])
        _rotate(season, keys[0])
        for key, words in zip(keys, WORDS, strict=False):
            season.comments.write(key, words, "bench")
        _plan(season)
    return path


def _practise(season, tallies: int, practices: int) -> list[str]:
    chance, everybody = random.Random(7), [*PLAYERS, ZORA]
    keys = [(FIRST + timedelta(weeks=week)).isoformat() for week in range(practices)]
    season.practices.add([Practice(key, date.fromisoformat(key)) for key in keys])
    for key in keys:
        season.practices.mark(key, [Attendance(p.id, True, n) for n, p in enumerate(everybody)], "bench")
    made = [
        tally(
            n,
            chance.choice([Outcome.DONE, Outcome.DONE, Outcome.MISSED]),
            practice=keys[n % practices],
            player=everybody[n // practices % len(everybody)].id,
            skill=chance.choice(["outlet_pass", "shot_on_net"]),
            observer=OBSERVERS[n % 2],
            id=new_id(),
        )
        for n in range(tallies)
    ]
    season.log.add_many([], made)
    season.log.withdraw(Withdrawal(made[-1].id, "bench", 1))
    return keys


def _rename(season) -> None:
    for name in (*EARLIER, ZORA.name):
        season.people.change([replace(ZORA, name=name)], FIRST, "bench")


def _put_right(season, key: str) -> None:
    """Let tries change hands: from her, to her, to her and on, and to her and back."""
    juno, oda = PLAYERS[4].id, PLAYERS[0].id

    def stands(player) -> list:
        return [one for one in season.log.stands(key) if one.tally.player == player]

    def give(chosen, player):
        season.tally_corrections.add(correction_of(chosen, Change.PLAYER, player, key, "bench"))

    give(stands(ZORA.id)[:2], juno)
    give(stands(juno)[2:4], ZORA.id)
    passed_on = stands(oda)[:1]
    give(passed_on, ZORA.id)
    give([one for one in season.log.stands(key) if one.tally.id == passed_on[0].tally.id], juno)
    give(stands(oda)[:1], ZORA.id)
    season.tally_corrections.put_in_force(season.tally_corrections.all()[-1], False, "bench")
    mine = stands(ZORA.id)
    season.tally_corrections.add(correction_of(mine[:2], Change.OUTCOME, Outcome.UNSEEN, key, "bench"))
    season.tally_corrections.add(correction_of(mine[2:3], Change.ASIDE, True, key, "bench"))


def _rotate(season, key: str) -> None:
    rep = Rep(key, *STEP, {"breakout_d": ZORA.id, "wall_f": PLAYERS[4].id}, "bench", 1, new_id())
    start = ((ZORA.id, ZORA.position), (PLAYERS[4].id, PLAYERS[4].position))
    season.reps.begin(rep, RotationFact(key, "bench", *STEP, Turn.FIRST, rep.id, start=start, at=1))


def _plan(season) -> None:
    plan = card(FIRST)
    places = plan.places | {ZORA.id: plan.places[PLAYERS[0].id]}
    looks = (*plan.looks, CardLook(1, ZORA.id, "Zofja Quillembruck: 7 tries"))
    remarks = ("Z\u030cofia Quillembru\u0308ck and Juno Reed are apart.",)
    season.plans.add(replace(plan, places=places, looks=looks, remarks=remarks), "bench")
    season.calendar.note([IceTime(FIRST, place="Pond of the Quillembrücks")], "bench")


def scatter(path: Path) -> None:
    """Let the name stand in free pages of the file and in its WAL too, as after many changes."""
    with open_season(path) as season:
        for n in range(40):
            season.comments.write(FIRST.isoformat(), f"{ZORA.name} " * 30 + str(n), "bench")
    with closing(connect(path)) as file:
        file.execute("DELETE FROM practice_comment WHERE length(words) > 300")
        file.commit()
