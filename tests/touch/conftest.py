"""A season to tap in, and a driver for the app."""

from datetime import date

import pytest
from driver import Driver

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.places import sample_roster
from evaltrack.rink.player import Player, Position
from evaltrack.store.opening import create_season
from evaltrack.touch.app import EvaltrackApp

TODAY = date(2026, 1, 13)


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


@pytest.fixture
def season_path(tmp_path):
    """Return the path of a season with 20 players, the shipped catalogue and no tallies."""
    skills = read_skills(sample_roster() / "skills.toml")
    drills = read_drills(sample_roster() / "drills.toml", skills)
    path = tmp_path / "season.db"
    create_season(
        path, team="Kettle Bay Lanterns", age_class="12U", players=roster(), skills=skills, drills=drills
    ).close()
    return path


@pytest.fixture
def drive():
    """Return a function that starts the app on a season file and gives its driver."""
    drivers = []

    def start(path=None, app=None):
        driver = Driver(app or EvaltrackApp(path))
        drivers.append(driver)
        return driver

    yield start
    for driver in drivers:
        driver.close()
