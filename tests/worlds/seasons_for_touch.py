"""Seasons to tap in: one of twenty players without tallies, and the demo team's."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.intake.roster import read_roster
from evaltrack.intake.tallies import read_tallies
from evaltrack.places import sample_roster
from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.ident import new_id
from evaltrack.rink.player import Player, Position
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season


def roster(count: int = 20) -> list[Player]:
    """Return invented players, two of them with the same first name."""
    names = (
        "Zoë Łukasik", "Bo Tarnquist", "Emeka Duru", "Per Håkansgård", "Mina Castellano", "Theo Bannerman",
        "Aoife Ní Dhúlain", "Kaan Yıldız", "Nguyễn Ánh", "Silas Quimby", "Ilze Kēniņa", "Ravi Palande",
        "Jonah Feld", "Chloé Côtéval", "Oskar Winther", "Dario Sestri", "Amara Oyelaran", "Lucía Íbarra",
        "Mina Řeháček", "Bartholomew Featherstonehaugh-O'Brien",
    )  # fmt: skip
    groups = [Position.DEFENCE] * 7 + [Position.FORWARD] * 12 + [Position.GOALIE]
    known = [names[i] if i < 20 else f"Player {i}" for i in range(count)]
    return [Player(str(2 + 3 * i), name, groups[i % 20]) for i, name in enumerate(known)]


def new_season(path: Path, players: int | list[Player] = 20) -> Path:
    """Make the season file of so many invented players, or of these, and return its path."""
    if isinstance(players, int):
        players = roster(players)
    skills = read_skills(sample_roster() / "skills.toml")
    drills = read_drills(sample_roster() / "drills.toml", skills)
    team = {"team": "Kettle Bay Lanterns", "age_class": "12U"}
    create_season(path, **team, players=players, skills=skills, drills=drills).close()
    return path


def small_catalogue(path: Path) -> Path:
    """Make the season file of six invented players with three skills and one drill, and return its path."""
    skills = {skill.key: skill for skill in read_skills(sample_roster() / "skills.toml")}
    own = [skills[key] for key in ("gap_up", "lane_fill", "rebound_control")]
    slot = Slot("line_d", "Line D", Position.DEFENCE, None, ("gap_up",))
    drills = [Drill("going_up", "Going up", (Step("alone", "Alone", (slot,)),))]
    team = {"team": "Kettle Bay Lanterns", "age_class": "12U"}
    create_season(path, **team, players=roster(6), skills=own, drills=drills).close()
    return path


def made_on(path: Path, day: date) -> None:
    """Let a season file have been made on a day, whatever the clock of this machine says."""
    moment = int(datetime.combine(day, time(12)).timestamp()) * 1000
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        file.execute("UPDATE season SET created_at = ?", (moment,))


def demo_season(path: Path) -> Path:
    """Make the demo team's season file, with its tallies, and return its path."""
    folder = sample_roster()
    players = read_roster(folder / "roster.csv")
    skills = read_skills(folder / "skills.toml")
    drills = read_drills(folder / "drills.toml", skills)
    team = {"team": "Kettle Bay Lanterns", "age_class": "12U"}
    with create_season(path, **team, players=players, skills=skills, drills=drills) as season:
        loaded = read_tallies(folder / "tallies.csv", players, skills, drills)
        season.log.add_many(loaded.practices, loaded.tallies)
    return path


def more_tries(path: Path, count: int) -> None:
    """Add tries to a season file, one like another that is there already, as another program would."""
    with open_season(path) as season:
        known = season.log.tallies(practice=season.practices.all()[0].key)[0]
        season.log.add_many([], [replace(known, id=new_id()) for _ in range(count)])
