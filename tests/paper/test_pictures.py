"""Charts as pictures: the same bytes for the same numbers, words in the file, grey-proof, one player alone.

Cases: the team's, each part of it; one skill alone; a player's; nothing to draw; a file for its owner alone;
the command with each of its options and refusals.
"""

import re
import stat

import pytest
from lantern_pages import DAYS, standing
from pond_team import roster_file, tallies_file
from seasons import player, season

from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.team.courses import team_courses
from evaltrack.analysis.team.season_view import Part, SeasonView, Turned
from evaltrack.cli import commands
from evaltrack.paper import palette
from evaltrack.paper.pictures import Charts, player_pictures, save_pictures, team_pictures
from evaltrack.rink.practice import Practice
from evaltrack.rink.targets import Goal
from evaltrack.words.date_axis import DateAxis

NAMES = {"s0": "Stop & go", "s1": "Start"}


@pytest.fixture(scope="module")
def view():
    """Return the whole of a small invented season: two skills, two steps, two observers, eight practices."""
    cells, players, _ = season()
    courses = team_courses(cells, fit_season(cells), players, {"s0": (0.6, 0.7), "s1": (0.6,)})
    days = sorted({day.date() for day in cells["held_on"]})
    goals = (Goal("s0", 0.6, ((days[4], 0.7),)), Goal("s1", 0.6))
    there = frozenset(one.id for one in players[:7])
    practices = tuple(
        Turned(Practice(day.isoformat(), day), there, (("Ines", 30), ("Mo", 12))) for day in days
    )
    return SeasonView(tuple(players), practices, tuple(courses), goals, (), NAMES, {})


def test_each_part_has_its_pictures_named_by_skill_and_day(view):
    """Attendance and tallies are of no skill."""
    names = [name for name, _ in team_pictures(view, "svg")]
    assert names == [
        *(f"{what}-{skill}-2026-11-02.svg" for what in ("team", "target", "costs") for skill in ("s0", "s1")),
        "attendance-2026-11-02.svg",
        "tallies-2026-11-02.svg",
    ]
    one = [name for name, _ in team_pictures(view, "png", skill="s1")]
    assert one == [f"{what}-s1-2026-11-02.png" for what in ("team", "target", "costs")]
    assert list(team_pictures(SeasonView(), "svg")) == []


@pytest.mark.parametrize("part", list(Part))
def test_a_picture_tells_in_words_what_it_shows(view, part):
    """A title and a description that a screen reader finds, and the same bytes for the same numbers."""
    content = next(content for _, content in team_pictures(view, "svg", [part])).decode()
    assert content.index('<title id="title">') < content.index('<desc id="desc">') < content.index("<g ")
    assert 'role="img" aria-labelledby="title desc"' in content
    said = re.search('<desc id="desc">(.*?)</desc>', content, re.DOTALL)[1]
    expected = {
        Part.TEAM: "Stop &amp; go, the team: ",
        Part.TARGETS: "At 70 % or above, of those who can be judged: around",
        Part.COSTS: "in the others",
        Part.ATTENDANCE: "1 Player 1 8 of 8; ",
        Part.TALLIES: "Mo: 96 tallies, by practice 12, 12",
    }[part]
    assert expected in said.replace("from the others", "in the others")
    assert "dc:date" not in content
    assert content == next(content for _, content in team_pictures(view, "svg", [part])).decode()


def test_nothing_is_told_by_colour_alone(view):
    """Only tints of one blue, ink and greys; what was then is an outline, what is now is filled."""
    known = {value.lower() for value in vars(palette).values() if isinstance(value, str) and value[:1] == "#"}
    for part in Part:
        content = next(content for _, content in team_pictures(view, "svg", [part])).decode()
        assert set(re.findall(r"#[0-9a-f]{6}\b", content)) - {"#000000"} <= known, part
    targets = next(content for _, content in team_pictures(view, "svg", [Part.TARGETS])).decode()
    filled = len(re.findall(f"fill: {palette.BAND_50.lower()}", targets))
    assert filled == len(re.findall(f"fill: #ffffff; stroke: {palette.INK.lower()}", targets)) == 2


def test_a_players_picture_is_of_firm_shares_alone():
    """Too few tries give none; a skill that is not wanted gives none."""
    few, many = standing("start", [(2, 1)]), standing("stop", [(5, 3), (5, 5), (4, 2)], share=0.7)
    charts = Charts(player(7), [few, many], DateAxis(DAYS[0], DAYS[-1]))
    found = dict(player_pictures(charts, {"stop": "Stop", "start": "Start"}, "svg"))
    assert list(found) == [f"player-07-player-7-stop-{DAYS[-1]}.svg"]
    assert list(player_pictures(charts, {"start": "Start"}, "svg")) == []


def test_a_picture_is_for_its_owner_alone_and_replaces_the_one_before(tmp_path):
    """In a folder that is made when it is wanted; without pictures none is made."""
    folder = tmp_path / "new" / "charts"
    assert save_pictures([], folder) == []
    assert not folder.exists()
    for content in (b"one", b"two"):
        (path,) = save_pictures([("a.svg", content)], folder)
    assert (path.read_bytes(), stat.S_IMODE(path.stat().st_mode)) == (b"two", 0o600)


def test_the_command_saves_the_teams_charts_or_a_players(tmp_path):
    """As PNG or SVG, of one skill or all; what is unknown or empty is refused in a sentence."""
    from click.testing import CliRunner

    def run(*words):
        return CliRunner().invoke(commands, [str(word) for word in words])

    path, out = tmp_path / "pond.db", tmp_path / "charts"
    made = ("--team", "Pond", "--age-class", "12U", "--roster", roster_file(tmp_path))
    assert run("new", path, *made).exit_code == 0
    empty = run("charts", path, "--out", out)
    assert (empty.exit_code, empty.stderr) == (1, "there is nothing to draw yet: no picture was saved\n")
    assert not out.exists()
    assert run("load", path, tallies_file(tmp_path)).exit_code == 0
    assert run("charts", path, "--out", out, "--skill", "lane_fill").stdout == f"{out}: 2 pictures\n"
    assert run("charts", path, "--out", out, "--player", "2", "--form", "png").stdout == f"{out}: 1 picture\n"
    assert sorted(file.name for file in out.iterdir()) == [
        "player-02-tuva-ashlund-outlet-pass-2025-10-27.png",
        "target-lane-fill-2025-10-27.svg",
        "team-lane-fill-2025-10-27.svg",
    ]
    for words, sentence in (
        (("--player", "99"), "there is no player"),
        (("--skill", "juggling"), "there is no skill"),
        (("--player", "31"), "there is nothing to draw yet"),
    ):
        refused = run("charts", path, "--out", out, *words)
        assert (refused.exit_code, refused.stderr.startswith(sentence)) == (1, True)
