"""Standings made by hand, for screens that must not wait for a model."""

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from pathlib import Path

from evaltrack.analysis.standings.standing import Call, PathPoint, Seen, Standing, Trend
from evaltrack.rink.player import Player
from evaltrack.rink.skill import Skill
from evaltrack.touch.worker.thread import in_background

FIRST = date(2025, 9, 9)


class AnsweringThread:
    """Stands for the process beside the app: a thread that answers with the standings ``read`` of a file."""

    def __init__(self, read: Callable[[Path], Sequence]):
        self._read = read

    def ask(self, work, done, failed):
        """Answer as the process does: an edition, which is unknown here, and the standings in one piece."""
        path, _ = work.args
        in_background(lambda: [None, list(self._read(path))], done, failed)


def standing(player: Player, skill: Skill, tries=24, done=12, call=Call.IN_BETWEEN, practices=4) -> Standing:
    """Return what could be said of a player; their tries lie evenly over the practices, a week apart."""
    share = done / tries
    low, high = max(0.0, share - 0.2), min(1.0, share + 0.2)
    days = [FIRST + timedelta(weeks=week) for week in range(practices)]
    return Standing(
        player=player.number,
        name=player.name,
        position=player.position_text,
        skill=skill.key,
        tries=tries,
        done=done,
        practices=practices,
        share=share,
        low=low,
        high=high,
        low50=(low + share) / 2,
        high50=(high + share) / 2,
        start_share=share,
        change=0.0,
        change_low=-0.2,
        change_high=0.2,
        p_up=0.5,
        target=skill.target,
        p_below=0.5,
        call=call,
        trend=Trend.NO_CLEAR_CHANGE,
        path=tuple(PathPoint(day, share, low, high, (low + share) / 2, (high + share) / 2) for day in days),
        seen=tuple(Seen(day, tries // practices, done // practices) for day in days),
    )


def standings_for(players, skills) -> list[Standing]:
    """Return a standing for every player and each skill of their position; the last are the best."""
    return [
        standing(player, skill, done=min(24, place + 2))
        for place, player in enumerate(players)
        for skill in skills
        if skill.suits(*player.positions)
    ]
