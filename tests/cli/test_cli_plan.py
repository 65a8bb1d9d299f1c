"""The command that plans the next practice."""

import json
from datetime import date

import pytest

from evaltrack.cli.commands.plan import GROUPS, SURFACES
from evaltrack.rink.plan import Grouping
from evaltrack.rink.practice import Surface
from evaltrack.store.opening import open_season

KEYS = {"minutes", "blocks", "groups", "watch", "unmet", "optimal"}


def planned(command, season, *words) -> dict:
    """Return the plan as JSON."""
    done = command("plan", season, "--format", "json", *words)
    assert done.exit_code == 0, done.stderr
    return json.loads(done.stdout)


def test_json_has_the_keys_that_were_promised(command, season):
    """Minutes add up, everybody is in one group, and reasons stand beside."""
    plan = planned(command, season, "--minutes", "50", "--stations", "2")
    assert set(plan) == KEYS
    assert plan["minutes"] == sum(block["minutes"] for block in plan["blocks"]) == 50
    assert all(
        set(block) == {"minutes", "drill", "step", "surface", "skills", "why"} for block in plan["blocks"]
    )
    assert all(set(group) == {"station", "players"} for group in plan["groups"])
    assert sorted(n for group in plan["groups"] for n in group["players"]) == ["11", "14", "2", "31", "7"]
    assert all(set(look) == {"player", "skill", "why"} for look in plan["watch"])
    assert plan["watch"]
    assert plan["unmet"] == []
    assert plan["optimal"] is True


def test_who_is_here_can_be_named(command, season):
    """With commas or blanks, each once."""
    plan = planned(command, season, "--here", "2, 11,14 ,11", "--stations", "1")
    (group,) = plan["groups"]
    assert group["players"] == ["2", "11", "14"]


@pytest.mark.parametrize("here", ["2,98", "98", "2,11,97,98"])
def test_a_number_that_is_not_on_the_roster_is_refused(command, season, here):
    """With exit code 1 and a sentence; nothing is printed."""
    refused = command("plan", season, "--here", here)
    assert (refused.exit_code, refused.stdout) == (1, "")
    assert "98" in refused.stderr
    assert "not on the roster" in refused.stderr


@pytest.mark.parametrize(
    "words",
    [
        ("--here", ""),
        ("--band", "8-6"),
        ("--band", "much"),
        ("--minutes", "5"),
        ("--stations", "0"),
        ("--groups", "best"),
        ("--surface", "pond"),
    ],
)
def test_what_cannot_be_asked_is_wrong_usage(command, season, words):
    """Exit code 2, and what can be asked."""
    assert command("plan", season, *words).exit_code == 2


@pytest.mark.parametrize(("groups", "surface"), [*zip(Grouping, Surface, strict=True)])
def test_every_kind_of_groups_and_surface_is_taken(command, season, groups, surface):
    """And the help names them all."""
    assert groups in GROUPS
    assert surface in SURFACES
    assert planned(command, season, "--groups", groups, "--surface", surface)["optimal"]


def test_table_reads_as_a_plan(command, season):
    """From what to train to whom to watch, with names, and the sentence that claims no more."""
    text = command("plan", season, "--stations", "2").stdout
    assert text.startswith("The next practice: 60 minutes, full ice, 5 players, 2 stations\n")
    for part in ("Blocks", "Groups, by need", "Tuva Ashlund", "Whom to watch", "It does not say that"):
        assert part in text
    assert max(map(len, text.splitlines())) <= 100


def test_wishes_are_kept_or_told(command, season, tmp_path):
    """A contradiction is in the JSON with what it does not go with."""
    path = tmp_path / "wishes.csv"
    path.write_text("wish,player,other\ntogether,2,11\napart,2,11\n", encoding="utf-8")
    (unmet,) = planned(command, season, "--stations", "2", "--wishes", path)["unmet"]
    assert {unmet["wish"], unmet["against"][0]["wish"]} == {"together", "apart"}
    assert "Not met" in command("plan", season, "--stations", "2", "--wishes", path).stdout


def test_a_season_without_a_tally_has_a_plan(command, empty_season):
    """It says that nothing is known; as JSON the remark goes to stderr."""
    assert "Nothing has been tallied yet" in command("plan", empty_season).stdout
    done = command("plan", empty_season, "--format", "json")
    assert "Nothing has been tallied yet" in done.stderr
    assert sum(block["minutes"] for block in json.loads(done.stdout)["blocks"]) == 60


def test_the_band_moves_the_step(command, season):
    """What was asked for stands in the reason."""
    assert "the 3 to 4.5 in 10 that were asked for" in command(
        "plan", season, "--band", "3-4.5"
    ).stdout.replace("\n                   ", " ")


def test_it_is_printed_and_kept_when_that_is_asked_for(command, season, tmp_path):
    """Two pages; JSON stays JSON; the season has the plan of the day, and only when it is to be kept."""
    target = tmp_path / "plan.pdf"
    planned(command, season, "--out", target, "--paper", "a4")
    assert target.read_bytes().startswith(b"%PDF")
    with open_season(season) as opened:
        assert opened.plans.last() is None
    done = command("plan", season, "--keep", "--date", "2026-02-03", "--out", target)
    assert f"{target}: 2 pages (letter)" in done.stdout
    assert "kept with the season for 3 February 2026" in done.stdout
    with open_season(season) as opened:
        card = opened.plans.last()
        assert (card.day, card.minutes, len(card.places)) == (date(2026, 2, 3), 60, 5)


def test_pages_are_a_pdf(command, season):
    """Another ending is wrong usage."""
    assert command("plan", season, "--out", "plan.txt").exit_code == 2


def test_not_again_looks_at_the_last_plan_that_was_kept(command, season, tmp_path):
    """Two who were together in it are apart now; they were asked for nothing before there was one."""
    wishes = tmp_path / "wishes.csv"
    words = "plan", season, "--stations", "2", "--date"
    assert command(*words, "2026-02-03", "--keep").exit_code == 0
    with open_season(season) as opened:
        one, other = sorted(opened.plans.groups_before(date(2026, 2, 5))[0])[:2]
    wishes.write_text(f"wish,player,other\nnot again,{one},{other}\n", encoding="utf-8")
    asked = ("--wishes", wishes, "--format", "json")
    after = json.loads(command(*words, "2026-02-05", *asked).stdout)
    assert after["unmet"] == []
    assert not [g for g in after["groups"] if {one, other} <= set(g["players"])]
