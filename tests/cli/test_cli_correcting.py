"""Practices listed and put right from the command line, and what `load` makes of them afterwards."""

import json
import shutil
import subprocess
import sys
from datetime import date, timedelta

import pypdf
import pytest
from pond_team import HEADER, tallies_file, tally_lines

from evaltrack.rink.practice import Attendance, Practice, Station
from evaltrack.store.opening import open_season

STRAY = "2010-01-01"
_HOLD = (
    "import sys; from evaltrack.device.season_claim import SeasonClaim; claim = SeasonClaim();"
    "print(claim.take(sys.argv[1]), flush=True); sys.stdin.read()"
)


def practise(path, key, players=3, tallies=0, ended=True):
    """Write a practice as the app does, with these players here; return how many players there are."""
    with open_season(path) as season:
        roster = season.people.players()
        marks = [Attendance(player.id, True, place) for place, player in enumerate(roster[:players])]
        station = Station(key, "wall_work", "free", "wall_puck_feet", "Ines", tablet="bench")
        season.practices.begin(Practice(key, date.fromisoformat(key[:10])), marks, station)
        if ended:
            season.practices.end(key)
        return len(roster)


def held(path):
    """Return the day of each practice that counts, by key."""
    with open_season(path) as season:
        return {one.key: str(one.held_on) for one in season.practices.all()}


def listed(command, path, *words):
    """Return the practices as JSON lists them."""
    return json.loads(command("practices", path, "--format", "json", *words).stdout)


def day_lines(day, observers=("Edda", "Tuomo")):
    """Return 12 tries that two observers watched on a day, one of them by a player without other tallies."""
    clocks = [f"18:{minute:02}:{second:02}" for minute in (1, 2, 3) for second in (5, 45)]
    return [
        f"{day},wall_work,free,{skill},{number},{'done' if n % 3 else 'missed'},no,{who},{clock}"
        for who in observers
        for n, clock in enumerate(clocks)
        for skill, number in (("outlet_pass", "7"), ("rebound_control", "31"))
    ]


def seen(command, path, folder):
    """Return everything that the commands say of a season."""
    said = {
        name: command(name, path, "--format", "csv").stdout for name in ("standings", "coverage", "agreement")
    }
    assert command("notes", path, "--out", folder).exit_code == 0
    for page in sorted(folder.glob("*.pdf")):
        said[page.name] = "".join(sheet.extract_text() for sheet in pypdf.PdfReader(page).pages)
    said["sheet"] = command("sheet", path, "--out", folder / "sheet.pdf").stdout.replace(str(folder), "")
    said["places"] = pypdf.PdfReader(folder / "sheet.pdf").pages[0].extract_text()
    return said


def test_a_practice_that_was_set_aside_counts_nowhere(command, season, tmp_path):
    """Standings, coverage, agreement, notes and sheets: as if it had never been. Brought back, it counts."""
    plain = shutil.copy(season, tmp_path / "plain.db")
    practise(season, "2025-11-03", players=2, ended=False)
    lines = tallies_file(tmp_path, day_lines("2025-11-03"))
    lines.write_text(lines.read_text().replace(HEADER, f"{HEADER},time"), encoding="utf-8")
    assert "24 of them new" in command("load", season, lines).stdout
    with_it = seen(command, season, tmp_path / "with")
    aside = command("correct", season, "--practice", "2025-11-03", "--set-aside")
    assert aside.exit_code == 0, aside.stderr
    without, never = seen(command, season, tmp_path / "aside"), seen(command, plain, tmp_path / "never")
    assert without == never
    assert [name for name in never if with_it.get(name) == never[name]] == []
    assert command("correct", season, "--practice", "2025-11-03", "--bring-back").exit_code == 0
    assert seen(command, season, tmp_path / "again") == with_it


def test_a_practice_that_was_redated_counts_as_of_its_new_day(command, season):
    """What is asked for as of a day follows the day on which it was held, and not its key."""
    words = ("standings", season, "--format", "csv", "--as-of", "2025-10-20")
    before = command(*words).stdout
    moved = command("correct", season, "--practice", "2025-10-27", "--to-date", "2025-10-19")
    assert "from Monday 27 October 2025 to Sunday 19 October 2025" in moved.stdout
    assert command(*words).stdout != before
    back = moved.stdout.splitlines()[-1].split()
    assert back[0] == "evaltrack"
    assert command(*back[1:]).exit_code == 0
    assert command(*words).stdout == before


def test_a_dry_run_changes_nothing_and_says_all(command, season):
    """Date with weekday, players and tallies are told; the file keeps every byte."""
    before = season.read_bytes()
    said = command("correct", season, "--practice", "2025-10-27", "--to-date", "2025-10-20", "--dry-run")
    assert said.stdout == (
        "practice 2025-10-27 (4 players, 32 tallies): would move from Monday 27 October 2025 to "
        "Monday 20 October 2025, the second practice of that day\nNothing was changed.\n"
    )
    assert season.read_bytes() == before
    assert held(season)["2025-10-27"] == "2025-10-27"


@pytest.mark.parametrize(("words", "said"), [
    (("--practice", "2025-10-28", "--set-aside"), "there is no practice `2025-10-28` in this season; did"),
    (("--practice", "x", "--set-aside"), "known: 2025-10-06, 2025-10-13, 2025-10-20, 2025-10-27"),
    (("--practice", "2025-10-27", "--to-date", "2025-10-27"), "was held on Monday 27 October 2025 already"),
    (("--practice", "2025-10-27", "--bring-back"), "is not set aside"),
    (("--practice", "2025-10-27", "--to-date", "2099-01-01"), "has not come yet"),
    (("--practice", "2025-10-27", "--to-date", "2012-02-01"), "is in no season of this file (practices: 20"),
])  # fmt: skip
def test_what_cannot_be_put_right_is_refused(command, season, words, said):
    """Unknown keys, days to come or of no season, and what is so already: a sentence, exit 1, no change."""
    before = season.read_bytes()
    refused = command("correct", season, *words)
    assert (refused.exit_code, refused.stdout) == (1, "")
    assert said in refused.stderr
    assert season.read_bytes() == before


def test_set_aside_twice_is_nothing_to_change(command, season):
    """The second time says so."""
    words = ("correct", season, "--practice", "2025-10-27", "--set-aside")
    assert command(*words).exit_code == 0
    assert "is set aside already; nothing is to be changed" in command(*words).stderr


@pytest.mark.parametrize("words", [(), ("--set-aside", "--bring-back"), ("--to-date", STRAY, "--set-aside")])
def test_exactly_one_change_is_asked_for(command, season, words):
    """None and two are wrong usage, exit 2."""
    assert command("correct", season, "--practice", "2025-10-27", *words).exit_code == 2


def test_a_practice_that_runs_in_an_open_window_is_left_alone(command, season):
    """While an app has the file its running practice is refused; another one can be put right."""
    practise(season, "2025-11-03", ended=False)
    child = subprocess.Popen(
        [sys.executable, "-c", _HOLD, str(season)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    try:
        assert child.stdout.readline().strip() == "True"
        refused = command("correct", season, "--practice", "2025-11-03", "--set-aside")
        assert refused.exit_code == 1
        assert "runs in an open window of the app" in refused.stderr
        assert command("correct", season, "--practice", "2025-10-27", "--set-aside").exit_code == 0
    finally:
        child.kill()
        child.communicate()
    assert command("correct", season, "--practice", "2025-11-03", "--set-aside").exit_code == 0


def test_the_list_tells_what_runs_what_was_set_aside_and_every_correction(command, season):
    """Table, CSV and JSON have the same practices in the same order."""
    practise(season, "2025-11-03", ended=False)
    command("correct", season, "--practice", "2025-10-27", "--to-date", "2025-10-26")
    command("correct", season, "--practice", "2025-10-20", "--set-aside")
    rows = listed(command, season)
    assert [(row["practice"], row["date"], row["runs"], row["set_aside"]) for row in rows] == [
        ("2025-10-06", "2025-10-06", False, False),
        ("2025-10-13", "2025-10-13", False, False),
        ("2025-10-20", "2025-10-20", False, True),
        ("2025-10-27", "2025-10-26", False, False),
        ("2025-11-03", "2025-11-03", True, False),
    ]
    (moved,) = rows[3]["corrections"]
    assert (moved["change"], moved["was"], moved["becomes"]) == ("to_date", "2025-10-27", "2025-10-26")
    table = command("practices", season).stdout.splitlines()
    assert table[3].endswith("set aside")
    assert "from Monday 27 October 2025 to Sunday 26 October 2025" in table[6]
    assert table[7].endswith("runs")
    sheet = command("practices", season, "--format", "csv").stdout.splitlines()
    assert (
        sheet[0]
        == "practice,date,weekday,surface,players,tallies,observers,runs,set_aside,comment,corrections"
    )
    assert sheet[4].startswith("2025-10-27,2025-10-26,Sunday,full,4,32,Edda,no,no,,corrected ")
    (one,) = listed(command, season, "--practice", "2025-10-27")
    assert rows[3].items() <= one.items()
    details = command("practices", season, "--practice", "2025-10-27").stdout
    assert details.startswith("2025-10-27: Sunday 26 October 2025, full ice\n")
    assert "2 Tuva Ashlund" in details
    assert "(Outlet pass 16, Fill the lane 16)" in details


def test_a_season_without_practices_lists_none(command, empty_season):
    """There is a sentence, an empty list, or only the header."""
    assert "no practice in this season yet" in command("practices", empty_season).stdout
    assert listed(command, empty_season) == []
    refused = command("correct", empty_season, "--practice", STRAY, "--set-aside")
    assert "there is no practice in this season yet" in refused.stderr


# a tablet whose clock was wrong, and the files of all other days


@pytest.mark.parametrize("stray", [STRAY, str(date.today() + timedelta(500))])
def test_a_stray_practice_keeps_no_file_out(command, empty_season, stray):
    """Tallies and forms of the season are taken; stderr has which practice is a stray, and the way out."""
    practise(empty_season, stray)
    loaded = command("load", empty_season, tallies_file(empty_season.parent))
    assert loaded.exit_code == 0, loaded.stderr
    assert "128 of them new" in loaded.stdout
    assert f"evaltrack correct {empty_season} --practice {stray} --to-date" in loaded.stderr
    assert stray in command("standings", empty_season, "--format", "csv").stderr
    form = command("sheet", empty_season, "--out", empty_season.with_name("f.csv"), "--date", "2025-10-28")
    assert form.exit_code == 0, form.stderr
    mended = command("correct", empty_season, "--practice", stray, "--to-date", "2025-10-14")
    assert mended.exit_code == 0, mended.stderr
    assert command("standings", empty_season, "--format", "csv").stderr == ""
    taken_back = command("correct", empty_season, "--practice", stray, "--to-date", stray)
    assert (taken_back.exit_code == 0) == (stray == STRAY)


def test_a_few_strays_keep_no_file_out_while_the_season_has_more_days(command, season):
    """Three of them beside four practices: which season it is stays plain."""
    for key in ("2010-01-01", "2010-01-03", "2010-01-05"):
        practise(season, key)
    more = [line.replace("2025-10-27", "2025-11-03") for line in tally_lines() if "2025-10-27" in line]
    loaded = command("load", season, tallies_file(season.parent, more))
    assert loaded.exit_code == 0, loaded.stderr


def test_a_file_of_another_season_is_refused_though_it_is_larger(command, season):
    """Last year's file does not turn the practices of this season into strays."""
    lines = [
        line.replace("2025-", "2023-", 1).replace("-10-", f"-{m}-", 1)
        for line in tally_lines()
        for m in (10, 11)
    ]
    refused = command("load", season, tallies_file(season.parent, lines))
    assert refused.exit_code == 1
    assert "more than one season" in refused.stderr


def test_strays_alone_can_be_put_right(command, empty_season):
    """Even when every practice of the file is a stray, each can be given a day of the season that begins."""
    for key in ("2010-01-01", "2010-01-03", "2010-01-05"):
        practise(empty_season, key)
    today = str(date.today())
    assert command("correct", empty_season, "--practice", "2010-01-01", "--to-date", today).exit_code == 0


# which practice a loaded day goes to


def test_a_loaded_day_goes_to_the_practice_that_was_held_then(command, season):
    """A practice of another key that was moved to the day takes the tallies of that day."""
    practise(season, STRAY)
    command("correct", season, "--practice", STRAY, "--to-date", "2025-11-03")
    lines = [line for line in tally_lines() if line.startswith("2025-10-27")]
    late = tallies_file(season.parent, [line.replace("2025-10-27", "2025-11-03") for line in lines])
    assert "32 of them new" in command("load", season, late).stdout
    assert held(season)[STRAY] == "2025-11-03"
    assert "2025-11-03" not in held(season)
    (row,) = [row for row in listed(command, season) if row["practice"] == STRAY]
    assert row["tallies"] == 32


@pytest.mark.parametrize("change", [("--set-aside",), ("--to-date", "2025-10-28")])
def test_a_file_loaded_again_after_a_correction_adds_nothing(command, season, change):
    """No tally, no empty practice, no presence: the lines are known, wherever they are filed now."""
    assert command("correct", season, "--practice", "2025-10-27", *change).exit_code == 0
    before = listed(command, season)
    again = command("load", season, season.with_name("tallies.csv"))
    assert "128 tallies of 4 practices read, 0 of them new" in again.stdout
    assert listed(command, season) == before


def test_more_of_a_day_whose_practice_was_set_aside_is_a_practice_of_its_own(command, season):
    """What comes later counts: it is not put into the practice of which nothing counts."""
    command("correct", season, "--practice", "2025-10-27", "--set-aside")
    more = tallies_file(
        season.parent, [*tally_lines(), f"2025-10-27,{'stops_starts,on_lines,stop,7,done'},,"]
    )
    assert ", 1 of them new" in command("load", season, more).stdout
    assert "2025-10-27" not in held(season)
    assert held(season)["2025-10-27.2"] == "2025-10-27"


def test_a_practice_is_no_company_for_itself(command, empty_season):
    """It cannot be moved to a day beside where it lies: only the others say which season it is."""
    practise(empty_season, "2010-01-05")
    practise(empty_season, "2015-01-01")
    beside = command("correct", empty_season, "--practice", "2015-01-01", "--to-date", "2015-01-03")
    assert beside.exit_code == 1
    assert "in no season of this file (practices: 2010-01-05)" in beside.stderr


def test_todays_tallies_are_taken_and_tomorrows_are_not(command, empty_season):
    """A day that has not come is a mistyped one."""
    for days, code in ((0, 0), (1, 1)):
        day = str(date.today() + timedelta(days))
        lines = [line.replace("2025-10-27", day) for line in tally_lines() if line.startswith("2025-10-27")]
        done = command("load", empty_season, tallies_file(empty_season.parent, lines))
        assert done.exit_code == code
        assert ("has not come yet" in done.stderr) == bool(code)


def test_more_of_a_day_whose_key_is_taken_gets_a_key_of_its_own(command, season):
    """The key of the day belongs to a practice that was moved: what comes later stands beside it."""
    command("correct", season, "--practice", "2025-10-27", "--to-date", "2025-10-28")
    more = tallies_file(
        season.parent, [*tally_lines(), f"2025-10-27,{'stops_starts,on_lines,stop,7,done'},,"]
    )
    assert ", 1 of them new" in command("load", season, more).stdout
    assert held(season)["2025-10-27"] == "2025-10-28"
    assert held(season)["2025-10-27.2"] == "2025-10-27"
    assert ", 0 of them new" in command("load", season, more).stdout


def test_lines_that_stand_in_a_practice_set_aside_are_told(command, season):
    """A load was set aside and comes again: what counts for nothing is said, with the way back."""
    command("correct", season, "--practice", "2025-10-27", "--set-aside")
    run = command("load", season, season.with_name("tallies.csv"))
    assert run.exit_code == 0
    assert "32 of them stand in the practice 2025-10-27, which was set aside" in run.stderr
    assert "--practice 2025-10-27 --bring-back" in run.stderr


def test_a_file_whose_date_was_mended_too_is_told_to_count_twice(command, season):
    """The practice was moved to the right day, and then the file: its lines are other ones now."""
    command("correct", season, "--practice", "2025-10-27", "--to-date", "2025-10-28")
    lines = [line for line in tally_lines() if line.startswith("2025-10-27")]
    mended = tallies_file(season.parent, [line.replace("2025-10-27", "2025-10-28") for line in lines])
    assert "its tries count twice now" in command("load", season, mended).stderr
