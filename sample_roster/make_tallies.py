"""Make tallies.csv, the half season of the demo team. Everything in it is invented.

    python sample_roster/make_tallies.py [FOLDER]

The Kettle Bay Lanterns, their players, observers and outcomes do not exist; no figure here says anything
about real children. The script reads the roster and the catalogue as any file is read, plays 24 practices
with a fixed seed, and writes the same bytes every time.

What is put in, so that there is something to find: abilities that hang together within a player, harder
steps as the season goes on, pressure in a part, two observers of whom one is stricter, good days and bad
ones, players who improve, players who need work on passing or stopping, one who joined in November and one
who is away since December. Once a month both observers watch the same tries. All on the logit scale.
"""

import math
import random
import sys
from bisect import bisect
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import accumulate
from pathlib import Path
from statistics import NormalDist

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.intake.roster import read_roster
from evaltrack.intake.tallies import wall_clock_ms
from evaltrack.intake.writing import write_tallies
from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Practice
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Outcome, Tally

SEED = 20250909
FIRST_PUCK = time(17, 45)
BLOCK = timedelta(minutes=10)  # one drill, one step, one skill for each observer
BLOCK_STARTS = (timedelta(minutes=8), timedelta(minutes=27))
TRIES = {  # in a block, by who is watched: a rep shows one or two defenders, but two or three forwards
    (Position.DEFENCE,): 40,
    (Position.FORWARD,): 66,
    (Position.DEFENCE, Position.FORWARD): 80,
    (Position.GOALIE,): 14,
}

JOINED = {"21": date(2025, 11, 4)}
LEFT = {"19": date(2025, 12, 1)}
OFTEN_AWAY = {"10": 0.7, "4": 0.75}  # everyone else comes nine times in ten

IMPROVING = {"13": 0.8, "9": 0.8, "2": 0.8}  # added at the end and lacking at the start; 0.15 for the rest
WEAK_PASSES = {("22", "outlet_pass"): -1.6, ("44", "outlet_pass"): -1.6, ("00", "indirect_pass"): -1.2}
NEEDS_WORK = WEAK_PASSES | {("17", "stop"): -1.6, ("0", "stop"): -1.3, ("7", "receive_pass"): -1.2}


@dataclass(frozen=True)
class Observer:
    """Who taps: how often a done is read as missed and the other way round, and how far the clock is off."""

    name: str
    strict: float
    kind: float
    clock: timedelta


OBSERVERS = (
    Observer("Marit", strict=0.05, kind=0.13, clock=timedelta(0)),
    Observer("Dev", strict=0.13, kind=0.04, clock=timedelta(seconds=38)),
)


@dataclass(frozen=True)
class Block:
    """One stretch of a practice: when, who is there, the step that runs, what each observer watches.

    ``progress`` runs from 0 at the first practice to 1 at the last; ``luck`` is the practice's own.
    """

    begins: datetime
    present: list[Player]
    progress: float
    luck: float
    drill: Drill
    step: Step
    skills: tuple[Skill, Skill]


def practice_dates() -> list[date]:
    """Return 24 dates: Tuesdays and Thursdays at first, fewer once games begin, none over the holidays."""
    opening = [date(2025, 9, 9) + timedelta(weeks=week, days=day) for week in range(6) for day in (0, 2)]
    autumn = [date(2025, 10, 21) + timedelta(weeks=week) for week in range(5)]
    winter = "2025-12-02 2025-12-04 2025-12-09 2025-12-16 2026-01-06 2026-01-08 2026-01-13"
    return opening + autumn + [date.fromisoformat(day) for day in winter.split()]


class Dice:
    """Chance from nothing but ``random()``, whose stream is the same in every Python."""

    def __init__(self, seed: int):
        self._random = random.Random(seed)

    def happens(self, share: float) -> bool:
        """Say yes in this share of the asks."""
        return self._random.random() < share

    def normal(self, sd: float) -> float:
        """Draw from a normal distribution around zero."""
        return NormalDist(0, sd).inv_cdf(max(self._random.random(), 1e-12))

    def between(self, low: float, high: float) -> float:
        """Draw evenly between two numbers."""
        return low + (high - low) * self._random.random()

    def one_of(self, weights: dict):
        """Draw a key with a chance in proportion to its weight."""
        reached = list(accumulate(weights.values()))
        return list(weights)[bisect(reached, self._random.random() * reached[-1])]

    def shuffled(self, things: Iterable) -> list:
        """Return the things in chance order."""
        return sorted(things, key=lambda _: self._random.random())


class Team:
    """What every player can do in every skill, and how that changes from the first practice to the last."""

    def __init__(self, dice: Dice, players: list[Player], skills: list[Skill], drills: list[Drill]):
        self._level: dict[tuple[str, str], float] = {}
        self._gain: dict[tuple[str, str], float] = {}
        self._step = {
            (drill.key, step.key, key): dice.normal(0.2) - 0.5 * hardness(drill, step)
            for drill in drills
            for step in drill.steps
            for key in sorted(step.skills)  # not as the slots stand, so that these may be moved
        }
        middle = {skill.key: 1.25 + dice.normal(0.15) for skill in skills}
        for player in players:
            common = dice.normal(0.4)
            for skill in skills:
                pair = player.number, skill.key
                self._level[pair] = middle[skill.key] + common + dice.normal(0.4) + NEEDS_WORK.get(pair, 0)
                self._gain[pair] = 0.15 + IMPROVING.get(player.number, 0) + dice.normal(0.1)

    def logit(self, player: Player, skill: Skill, block: Block) -> float:
        """Return the logit of a try without pressure."""
        pair = player.number, skill.key
        place = self._step[block.drill.key, block.step.key, skill.key]
        return self._level[pair] + self._gain[pair] * (2 * block.progress - 1) + place + block.luck


def hardness(drill: Drill, step: Step) -> float:
    """Return where the step stands in its drill, from 0 to 1."""
    return drill.steps.index(step) / (len(drill.steps) - 1)


class HalfSeason:
    """Plays the practices one after the other and keeps the tallies."""

    def __init__(self, dice: Dice, players: list[Player], skills: list[Skill], drills: list[Drill]):
        self._dice, self._players, self._drills = dice, players, drills
        self._skills = {skill.key: skill for skill in skills}
        self._team = Team(dice, players, skills, drills)
        self._tries_each = dict.fromkeys(self._skills, 0.0)
        self._tallies: list[Tally] = []

    def play(self) -> list[Tally]:
        """Return the tallies of the whole half season in order of time."""
        days = practice_dates()
        for n, day in enumerate(days):
            present = [player for player in self._players if self._comes(player, day)]
            luck = self._dice.normal(0.2)
            for begins in BLOCK_STARTS:
                together = n % 6 == 2 and begins == BLOCK_STARTS[0]
                moment = datetime.combine(day, FIRST_PUCK) + begins
                self._watch(self._block(moment, present, n / (len(days) - 1), luck, together))
        return sorted(self._tallies, key=lambda tally: tally.at)

    def _comes(self, player: Player, day: date) -> bool:
        on_team = JOINED.get(player.number, day) <= day <= LEFT.get(player.number, day)
        return self._dice.happens(OFTEN_AWAY.get(player.number, 0.9)) and on_team

    def _block(self, begins: datetime, present: list[Player], progress: float, luck: float, together: bool):
        """Choose a step as hard as the season is old, and in it what was watched least so far."""
        weights = {}
        for drill in self._drills:
            for step in drill.steps:
                fits = math.exp(-2.5 * (hardness(drill, step) - progress) ** 2)
                least = sum(sorted(self._tries_each[key] for key in step.skills)[:2]) / 2
                weights[drill, step] = fits * math.exp(-least / 3)
        drill, step = self._dice.one_of(weights)
        first, second, *_ = sorted(sorted(step.skills), key=self._tries_each.get)
        skills = self._skills[first], self._skills[first if together else second]
        return Block(begins, present, progress, luck, drill, step, skills)

    def _watch(self, block: Block) -> None:
        """Let the tries of a block happen while both observers tap."""
        one, other = block.skills
        if one is other:
            for attempt in self._tries(block, one):
                for observer in OBSERVERS:
                    self._tap(block, observer, one, *attempt)
            return
        for observer, skill in zip(self._dice.shuffled(OBSERVERS), block.skills, strict=True):
            noted = not self._dice.happens(0.08)  # now and then nobody thinks of the pressure switch
            for moment, player, pressure, came_off in self._tries(block, skill):
                self._tap(block, observer, skill, moment, player, pressure if noted else None, came_off)

    def _tries(self, block: Block, skill: Skill) -> Iterator[tuple[datetime, Player, bool, bool]]:
        """Yield the moment, the player, whether there was pressure, and whether the try came off."""
        suited = [player for player in block.present if skill.suits(player.position)]
        count = TRIES[skill.positions] if suited else 0
        self._tries_each[skill.key] += count / max(len(suited), 1)
        pressed = block.drill.key in ("breakout_attack", "small_area") and self._dice.happens(0.4)
        line: list[Player] = []
        for n in range(count):
            line = line or self._dice.shuffled(suited)
            player = line.pop()
            pressure = block.step.key == "pressured" or (pressed and n >= count / 2)
            moment = block.begins + BLOCK * ((n + self._dice.between(0, 0.9)) / count)
            logit = self._team.logit(player, skill, block) - 0.6 * pressure
            yield moment, player, pressure, self._dice.happens(1 / (1 + math.exp(-logit)))

    def _tap(self, block, observer, skill, moment, player, pressure, came_off) -> None:
        """Note what the observer makes of the try, by the clock of his tablet."""
        done = self._dice.happens(1 - observer.strict if came_off else observer.kind)
        outcome = Outcome.DONE if done else Outcome.MISSED
        if self._dice.happens(0.03):
            outcome = Outcome.UNSEEN
        clock = moment + observer.clock + timedelta(seconds=self._dice.between(0.5, 2.5))
        at = wall_clock_ms(clock.date(), clock.time().replace(microsecond=0))
        practice = block.begins.date().isoformat()
        where = {"practice": practice, "drill": block.drill.key, "step": block.step.key}
        who = {"player": player.id, "observer": observer.name}
        self._tallies.append(
            Tally(skill=skill.key, outcome=outcome, pressure=pressure, at=at, **where, **who)
        )


def make(folder: Path) -> None:
    """Write tallies.csv from the roster and the catalogue in this script's folder."""
    here = Path(__file__).resolve().parent
    players, skills = read_roster(here / "roster.csv"), read_skills(here / "skills.toml")
    drills = read_drills(here / "drills.toml", skills)
    tallies = HalfSeason(Dice(SEED), players, skills, drills).play()
    practices = [Practice(key, date.fromisoformat(key)) for key in {tally.practice for tally in tallies}]
    write_tallies(folder / "tallies.csv", tallies, players, practices)


if __name__ == "__main__":
    make(Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).parent))
