"""The season as a whole on the command line: in sections, as CSV, as JSON.

Cases: the pond team's four practices; nothing yet; one practice; up to a day; a target that was changed; a
player who came later; players in order of number; the same figures in every form.
"""

import csv
import io
import json
from dataclasses import replace
from datetime import date

import pytest
from pond_team import DAYS

from evaltrack.device.tablet import load_tablet
from evaltrack.paper.tables.season import COLUMNS
from evaltrack.rink.player import Player, Position
from evaltrack.store.opening import open_season


def rows_of(command, season, *words) -> list[dict]:
    """Return the rows of the CSV."""
    text = command("season", season, *words, "--format", "csv").stdout
    return list(csv.DictReader(io.StringIO(text)))


def test_the_season_is_told_in_sections(command, season):
    """The team, targets, steps and pressure, who was there by number, tallies by practice and observer."""
    text = command("season", season).stdout
    sections = [line for line in text.splitlines() if line and not line.startswith(" ")]
    assert sections == [
        "How the team goes",
        "Targets, then and now",
        "What steps and pressure cost",
        "Who was there",
        "Tallies by practice and observer",
    ]
    assert "  Outlet pass: " in text
    assert " of 64 by 2 players at 4 practices\n" in text
    assert "since 6 Oct" in text
    assert "the only step in which it was watched" in text
    numbers = [line.split()[0] for line in text.splitlines() if line.endswith(" of 4")]
    assert numbers == ["2", "7", "11", "14", "31"]
    players = [line.split() for line in text.splitlines() if line.endswith(" of 4")]
    assert players[0] == ["2", "Tuva", "Ashlund", "xxxx", "4", "of", "4"]
    assert players[-1] == ["31", "Mika", "Sundqvale", "....", "0", "of", "4"]
    assert "  2025-10-06     4 players     32  Edda 32\n" in text


def test_every_form_has_the_same_figures(command, season):
    """JSON by section, CSV row by row."""
    rows, told = rows_of(command, season), json.loads(command("season", season, "--format", "json").stdout)
    assert tuple(rows[0]) == COLUMNS
    by_section = {
        name: [row for row in rows if row["section"] == name] for name in (r["section"] for r in rows)
    }
    paths = [(one["skill"], point) for one in told["team"] for point in one["path"]]
    assert [(row["skill"], row["date"], float(row["value"])) for row in by_section["team"]] == [
        (skill, point["on"], point["share"]) for skill, point in paths
    ]
    assert [float(row["low"]) for row in by_section["change"]] == [one["change_low"] for one in told["team"]]
    reached = [one for goal in told["targets"] for one in goal["reached"]]
    assert [float(row["value"]) for row in by_section["target now"]] == [one["now"] for one in reached]
    costs = [cost for one in told["team"] for cost in one["costs"]]
    found = by_section["step"] + by_section.get("pressure", [])
    assert sorted(
        (row["step"] or row["says"], int(row["of"]), float(row["value"])) for row in found
    ) == sorted((one["named"], one["tries"], one["cost"]) for one in costs)
    assert [(row["player"], int(row["count"])) for row in by_section["attendance"]] == [
        (one["player"], one["there"]) for one in told["attendance"]
    ]
    assert [(row["practice"], int(row["count"])) for row in by_section["tallies"]] == [
        (one["practice"], one["tallies"][0]["tallies"]) for one in told["practices"]
    ]


@pytest.mark.parametrize("form", ["table", "csv", "json"])
def test_an_empty_season_is_told_as_such(command, empty_season, form):
    """A sentence to read, no row, empty lists."""
    text = command("season", empty_season, "--format", form).stdout
    if form == "table":
        assert text == "There is no practice in this season yet. What is tallied at the bench is told here.\n"
    elif form == "csv":
        assert {row.split(",")[0] for row in text.splitlines()} == {"section", "attendance"}
    else:
        told = json.loads(text)
        assert (told["team"], told["targets"], told["practices"]) == ([], [], [])


def test_of_one_practice_there_is_the_count_and_why_no_more(command, season):
    """Up to and with the first day; nothing of what came after."""
    text = command("season", season, "--as-of", DAYS[0]).stdout
    assert " of 16 by 2 players at 1 practice\n" in text
    assert (
        text.count("This skill was watched too little so far, so this is the plain count and nothing more.")
        == 6
    )
    assert DAYS[1] not in text
    assert [
        row["date"] for row in rows_of(command, season, "--as-of", DAYS[1]) if row["section"] == "players"
    ] == [*DAYS[:2]]


def test_a_target_that_was_changed_is_told_with_its_day_and_counted_for_both(command, season):
    """As many are at the first target as without the change; a higher one is reached by fewer."""
    before = next(row for row in rows_of(command, season) if row["section"] == "target now")
    with open_season(season) as file:
        skills = [
            replace(one, target=0.8) if one.key == "outlet_pass" else one for one in file.catalogue.skills()
        ]
        file.catalogue_changes.set_to(skills, None, (), load_tablet().id)
    first, today = [row for row in rows_of(command, season) if row["section"] == "target now"][:2]
    assert (first["target"], first["value"]) == (before["target"], before["value"])
    assert (today["target"], float(today["value"]) < float(first["value"])) == ("0.8", True)
    text = command("season", season).stdout
    assert f"Target {100 * float(first['target']):.0f} % at first, 80 % since {date.today().day} " in text


def test_a_player_who_came_later_is_counted_since_then(command, season):
    """Of the practices from that day on; the others as before."""
    with open_season(season) as file:
        new = Player("23", "Wren Halvorsen", Position.FORWARD)
        file.people.change([new], date.fromisoformat(DAYS[2]), load_tablet().id)
    (row,) = [row for row in rows_of(command, season) if row["player"] == "23"]
    assert (row["count"], row["of"], row["date"]) == ("0", "2", DAYS[2])
    assert "0 of 2 since 20 Oct" in command("season", season).stdout
