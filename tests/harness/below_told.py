"""How many players are below a target, read from wherever a coach reads it: one number for the same words."""

import json
import re

from click.testing import CliRunner

from evaltrack.analysis.planning.known_season import read_known
from evaltrack.analysis.planning.needs import needs_of
from evaltrack.analysis.standings.below_target import read_below
from evaltrack.cli import commands
from evaltrack.store.opening import open_season
from evaltrack.words.below import NOBODY_JUDGED
from evaltrack.words.planning import PlanNames, need_words
from evaltrack.words.team import percent

_BELOW = (
    r"about (\d+) of the (\d+) players?(?: here)? who can be judged "
    r"(?:is|are) below .*?\(very likely (.*?)\)"
)
_AT = r"about (\d+) of (\d+) \(very likely (.*?)\)"
NOBODY = (0, 0, 0, 0)


def below_told(said):
    """Return who many are below, of how many, and the ends of its interval, from a sentence that says so."""
    if "can be judged in it yet" in said:
        return NOBODY
    about, of, span = re.search(_BELOW, said).groups()
    return int(about), int(of), *_ends(span)


def _from_above(said):
    """Return the same from a sentence that says how many are at the target now."""
    if NOBODY_JUDGED in said:
        return NOBODY
    about, of, span = re.findall(_AT, said)[-1]
    low, high = _ends(span)
    return int(of) - int(about), int(of), int(of) - high, int(of) - low


def _ends(span):
    ends = [int(end) for end in span.split(" to ")]
    return ends[0], ends[-1]


def of_plan(path):
    """Return by skill what a plan says of it when everybody is here; and the expected numbers."""
    with open_season(path) as season:
        known = read_known(season)
        needs = needs_of(known.roster, known.skills, known.fits, known.standings, known.lately)
    names = PlanNames({one.key: one.key for one in known.skills}, {})
    said = {one.need.skill: below_told(need_words(one.need, names)) for one in needs}
    return said, {one.need.skill: one.need.below.value for one in needs}


def of_form(driver, skill):
    """Return what the form of a skill says of the target in force."""
    app = driver.app
    app._to_skill_form(None, skill)
    target = app.screen("skill_form")._target
    driver.wait(lambda: target.says.startswith(("Now about", "Nobody")), timeout=60)
    return below_told(target.says)


def of_season_command(path):
    """Return by skill what the season's table says of each target, and its JSON."""
    told = CliRunner().invoke(commands, ["season", str(path), "--format", "json"]).stdout
    return {row["skill"]: row for row in json.loads(told)["targets"]}


def assert_below_agrees(driver, path, told):
    """Forms, skills' screens (``told``), season, plan and targets have one number, of the same players."""
    skills = {key: driver.app.desk.skills[key] for key in told}
    with open_season(path) as season:
        counted = read_below(season, {key: (skill.target,) for key, skill in skills.items()})
    planned, expected = of_plan(path)
    rows = of_season_command(path)
    for key, skill in skills.items():
        (one,) = counted[key]
        wanted = (one.about, one.of, one.low, one.high)
        assert of_form(driver, skill) == wanted
        reached = rows[key]["reached"]
        team = [line for line in told[key][0] if line.startswith(f"At {percent(skill.target)} or above")]
        assert len(team) == bool(reached)
        if reached:
            assert _from_above(team[0]) == wanted
            assert reached[-1]["of"] == one.of
            assert abs(reached[-1]["now"] - (one.of - one.expected)) < 1e-5
            assert (reached[-1]["now_low"], reached[-1]["now_high"]) == (one.of - one.high, one.of - one.low)
        else:
            assert wanted == NOBODY
        if key in planned:
            assert planned[key] == wanted
            assert abs(expected[key] - one.expected) < 1e-5
