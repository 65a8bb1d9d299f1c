"""Tallies put right from the command line: chosen, changed, listed, taken back; and one practice told."""

import json
import os
import shutil
import sqlite3
from contextlib import closing
from datetime import date

import pytest
from own_process import process
from pond_team import HEADER, tallies_file, tally_lines

from evaltrack.places import sample_roster
from evaltrack.rink.practice import Attendance, Practice
from evaltrack.store.opening import open_season

DAY = "2025-11-03"
STEP = "breakout_attack,two_on_one"


def lines_of_drill():
    """Return 40 tries of one player, two of another and one of a third, each with its time."""
    long = [
        f"{DAY},{STEP},outlet_pass,7,{'done' if n % 3 else 'missed'},no,Edda,"
        f"18:{5 + n // 4:02}:{n % 4 * 15:02}"
        for n in range(40)
    ]
    return [
        *long,
        f"{DAY},stops_starts,on_lines,stop,2,done,,Edda,18:31",
        f"{DAY},stops_starts,on_lines,stop,2,missed,,Edda,18:32",
        f"{DAY},stops_starts,on_lines,stop,11,unseen,,Tuomo,18:33:30",
    ]


@pytest.fixture
def timed(command, season):
    """Return the pond team's season with one more practice, the tallies of which have times."""
    path = tallies_file(season.parent, lines_of_drill())
    path.write_text(path.read_text().replace(HEADER, f"{HEADER},time"), encoding="utf-8")
    assert "43 of them new" in command("load", season, path).stdout
    return season


def correct(command, season, *words, key=DAY):
    """Put tallies right; it must be done."""
    done = command("correct", season, "--practice", key, *words)
    assert done.exit_code == 0, done.stderr
    return done.stdout


def one(command, season, key=DAY):
    """Return what is known of a practice."""
    (found,) = json.loads(command("practices", season, "--practice", key, "--format", "json").stdout)
    return found


def counts(command, season, key=DAY):
    """Return dones and tries by player and skill."""
    return {
        (row["player"], row["skill"]): (row["done"], row["tries"])
        for row in one(command, season, key)["counts"]
    }


def test_forty_tallies_given_to_another_player_and_back_leave_the_same_standings(command, timed):
    """Byte for byte, after a drill was moved to another player and taken back; in between they differ."""
    words = ("standings", timed, "--format", "csv")
    before = command(*words).stdout
    assert len(before.splitlines()) > 4
    said = correct(
        command, timed, "--player", "7", "--from", "18:05", "--until", "18:14", "--to-player", "14"
    )
    assert "put right: 40 tallies from 7 Bram Okonjo-Reyes to 14 Jory Pellwick" in said
    assert "  7 Bram Okonjo-Reyes, Outlet pass: 26 of 40 done, then none\n" in said
    assert "  14 Jory Pellwick, Outlet pass: none, then 26 of 40 done\n" in said
    assert command(*words).stdout != before
    back = said.splitlines()[-1].split()
    assert command(*back[1:]).exit_code == 0
    assert command(*words).stdout == before


def test_the_demo_seasons_drill_moved_and_back_leaves_the_same_standings(command, tmp_path):
    """On a whole season too, where a cell has tallies of several kinds."""
    season, roster = tmp_path / "lanterns.db", sample_roster() / "roster.csv"
    command("new", season, "--team", "Lanterns", "--age-class", "12U", "--roster", roster)
    assert command("load", season, sample_roster() / "tallies.csv").exit_code == 0
    words = ("standings", season, "--format", "csv")
    before, rows = command(*words).stdout, json.loads(command("practices", season, "--format", "json").stdout)
    key = rows[-3]["practice"]
    busiest = max(one(command, season, key)["counts"], key=lambda row: row["tries"])
    chosen = ("--player", busiest["player"], "--skill", busiest["skill"])
    others = {row["player"] for row in one(command, season, key)["counts"]} - {busiest["player"]}
    correct(command, season, *chosen, "--to-player", min(others), key=key)
    correct(command, season, "--player", min(others), "--set-aside", key=key)
    assert command(*words).stdout != before
    correct(command, season, "--take-back", "1", key=key)
    correct(command, season, "--take-back", "2", key=key)
    assert command(*words).stdout == before


@pytest.mark.parametrize(("words", "said"), [
    (("--skill", "outlet_pass", "--to-skill", "gap_up"), "7 Bram Okonjo-Reyes, Gap up: none, then 26 of 40"),
    (("--player", "2", "--to-outcome", "done"), "2 Tuva Ashlund, Stop: 1 of 2 done, then 2 of 2 done"),
    (("--drill", "stops_starts", "--set-aside"), "2 Tuva Ashlund, Stop: 1 of 2 done, then none"),
    (("--outcome", "unseen", "--set-aside"), "1 tally set aside\n  11 Ines Falk, Stop: 1 unseen, then none"),
    (("--from", "18:32", "--until", "18:32", "--to-player", "11"), "1 tally from 2 Tuva Ashlund to 11 Ines"),
    (("--until", "18:05:15", "--to-outcome", "unseen"), "2 tallies from missed or done to unseen"),
    (("--player", "7", "--to-pressure", "yes"), "40 tallies from without pressure to under pressure\n  The"),
    (("--player", "7", "--to-step", "breakout_attack/three_on_one"), "40 tallies from Breakout and attack, "),
])  # fmt: skip
def test_a_dry_run_tells_what_would_change_and_the_same_is_done(command, timed, words, said):
    """It changes no byte; done and taken back, the practice is as it was."""
    before, known = timed.read_bytes(), one(command, timed)
    dry = correct(command, timed, *words, "--dry-run")
    assert said in dry
    assert dry.endswith("Nothing was changed.\n")
    assert timed.read_bytes() == before
    done = correct(command, timed, *words)
    assert done.split("To take it back")[0].replace("put right", "would be put right") in dry
    assert one(command, timed) != known
    assert "is taken back" in correct(command, timed, "--take-back", "1")
    back = one(command, timed)
    assert {**back, "corrections": []} == known
    assert [row["in_force"] for row in back["corrections"]] == [False]
    assert "counts again" in correct(command, timed, "--count-again", "1")


def test_the_last_word_on_a_field_counts_and_corrections_go_back_in_any_order(command, timed):
    """Of two corrections of one field the later one is in force; without it the earlier one is."""
    correct(command, timed, "--player", "7", "--to-player", "14")
    correct(command, timed, "--player", "14", "--to-outcome", "done")
    correct(command, timed, "--player", "14", "--to-player", "11")
    assert counts(command, timed)["11", "outlet_pass"] == (40, 40)
    correct(command, timed, "--take-back", "1")
    assert counts(command, timed)["11", "outlet_pass"] == (40, 40)
    correct(command, timed, "--take-back", "3")
    assert counts(command, timed)["7", "outlet_pass"] == (40, 40)
    correct(command, timed, "--count-again", "1")
    assert counts(command, timed)["14", "outlet_pass"] == (40, 40)
    correct(command, timed, "--take-back", "2")
    assert counts(command, timed)["14", "outlet_pass"] == (26, 40)


def test_what_was_set_aside_is_brought_back_by_what_it_is(command, timed):
    """Only what was set aside is chosen then; what counts is left alone."""
    known = counts(command, timed)
    correct(command, timed, "--skill", "stop", "--set-aside")
    assert ("2", "stop") not in counts(command, timed)
    assert "2 tallies brought back" in correct(command, timed, "--player", "2", "--bring-back")
    assert counts(command, timed) == {key: value for key, value in known.items() if key != ("11", "stop")}
    assert "3 tallies set aside" in command("practices", timed, "--practice", DAY).stdout


def test_loading_the_same_file_again_neither_doubles_nor_revives(command, timed):
    """The lines are known, whatever was put right of them."""
    correct(command, timed, "--player", "7", "--to-player", "14")
    correct(command, timed, "--skill", "stop", "--set-aside")
    known = one(command, timed)
    again = command("load", timed, timed.with_name("tallies.csv"))
    assert "0 of them new" in again.stdout
    assert one(command, timed) == known


def test_a_practice_is_merged_with_another_of_the_same_day_and_parted_again(command, timed):
    """Its tallies stand in the other one; taken back, each has its own."""
    with closing(sqlite3.connect(timed, isolation_level=None)) as file:
        file.execute(
            "INSERT INTO practice (key, held_on, surface) VALUES ('2025-11-03.2', '2025-11-03', 'full')"
        )
    known = counts(command, timed)
    said = correct(command, timed, "--to-practice", "2025-11-03.2")
    assert "43 tallies from the practice 2025-11-03 to the practice 2025-11-03.2" in said
    assert counts(command, timed) == {}
    assert counts(command, timed, "2025-11-03.2") == known
    correct(command, timed, "--take-back", "1")
    assert (counts(command, timed), counts(command, timed, "2025-11-03.2")) == (known, {})


@pytest.mark.parametrize(("words", "said"), [
    (("--player", "31", "--set-aside"), "of the 43 tallies of the practice 2025-11-03 is chosen by --player"),
    (("--from", "19:00", "--set-aside"), "is chosen by --from; choose others"),
    (("--player", "7", "--to-player", "7"), "40 chosen tallies are so already"),
    (("--player", "70", "--set-aside"), "there is no player `70` in this season"),
    (("--player", "7", "--to-player", "70"), "there is no player `70` in this season"),
    (("--player", "7", "--to-skill", "stopp"), "there is no skill `stopp` in this season; did you mean"),
    (("--player", "7", "--to-step", "stops_starts/on_line"), "there is no step `stops_starts/on_line`"),
    (("--drill", "stop", "--set-aside"), "there is no drill `stop` in this season"),
    (("--player", "7", "--bring-back"), "no tally of the practice 2025-11-03 was set aside by itself"),
    (("--to-practice", "2025-10-27"), "another practice of the same day only; 2025-10-27 is of 2025-10-27"),
    (("--to-practice", DAY), "of the same day only; 2025-11-03 is this one"),
    (("--take-back", "1"), "has no correction 1: no tally of it was corrected"),
])  # fmt: skip
def test_what_cannot_be_put_right_is_refused(command, timed, words, said):
    """A sentence, exit 1, no byte changed."""
    before = timed.read_bytes()
    refused = command("correct", timed, "--practice", DAY, *words)
    assert (refused.exit_code, refused.stdout) == (1, "")
    assert said in refused.stderr
    assert timed.read_bytes() == before


def test_a_correction_is_taken_back_once(command, timed):
    """Twice is nothing to change, and so is a number that is not there."""
    correct(command, timed, "--player", "7", "--set-aside")
    assert "counts already" in command("correct", timed, "--practice", DAY, "--count-again", "1").stderr
    correct(command, timed, "--take-back", "1")
    again = command("correct", timed, "--practice", DAY, "--take-back", "1")
    assert (again.exit_code, "was taken back already" in again.stderr) == (1, True)
    other = command("correct", timed, "--practice", DAY, "--take-back", "2")
    assert "has no correction 2: it has 1 correction of tallies" in other.stderr


@pytest.mark.parametrize("words", [
    ("--to-player", "7"),
    ("--player", "7"),
    ("--player", "7", "--to-player", "2", "--set-aside"),
    ("--player", "7", "--to-date", "2025-11-04"),
    ("--player", "7", "--take-back", "1"),
    ("--take-back", "0"),
    ("--from", "six", "--set-aside"),
    ("--player", "7", "--to-outcome", "well"),
])  # fmt: skip
def test_what_makes_no_sense_together_is_wrong_usage(command, timed, words):
    """No choice of tallies where one is needed or none is to be made, no change or two: exit 2."""
    assert command("correct", timed, "--practice", DAY, *words).exit_code == 2


def test_tallies_without_a_time_are_not_chosen_by_time_and_it_is_said(command, season):
    """They were loaded without one: noon in UTC is no time of theirs."""
    refused = command("correct", season, "--practice", "2025-10-27", "--from", "00:00", "--set-aside")
    assert refused.exit_code == 1
    assert "32 tallies were loaded without a time: --from and --until choose none of them" in refused.stderr


def test_one_practice_tells_what_was_watched_when_by_whom_and_who_got_none(command, timed):
    """With its pauses, the counts of each player, and every correction with its number.

    Who was noted as here stays so without a tally; who was known by loaded ones alone does not.
    """
    with open_season(timed) as season:
        jory = next(player for player in season.people.players() if player.number == "14")
        season.practices.mark(DAY, [Attendance(jory.id, True, 9)])
    correct(command, timed, "--player", "2", "--to-player", "11")
    text = command("practices", timed, "--practice", DAY).stdout
    for line in (
        "here: 7 Bram Okonjo-Reyes, 11 Ines Falk, 14 Jory Pellwick\n",
        "tallies: 43, 42 tries and 1 unseen (Outlet pass 40, Stop 3)\n",
        "  18:05 to 18:14  Breakout and attack, 2 against 1, Edda: 40 tallies\n",
        "  18:14 to 18:31  nothing noted for 16 minutes\n",
        "  18:33  Stops and starts, On the lines, Tuomo: 1 tally\n",
        "  7 Bram Okonjo-Reyes: Outlet pass 26 of 40 done\n",
        "  11 Ines Falk: Stop 1 of 2 done, 1 unseen\n",
        "without a tally: 14 Jory Pellwick\n",
        "no two observers tallied the same tries in it\n",
    ):
        assert line in text, text
    assert text.splitlines()[-1].startswith("1. corrected ")
    assert text.splitlines()[-1].endswith(": 2 tallies from 2 Tuva Ashlund to 11 Ines Falk")
    found = one(command, timed)
    assert found["pauses"] == [{"from": "18:14:45", "to": "18:31:00"}]
    assert found["without_tallies"] == ["14"]
    assert found["observers"] == ["Edda", "Tuomo"]


def test_the_list_says_how_many_tallies_were_put_right(command, timed):
    """Each once, however often; none of a correction that was taken back."""
    correct(command, timed, "--player", "7", "--to-player", "14")
    correct(command, timed, "--player", "14", "--to-outcome", "done")
    lines = command("practices", timed).stdout.splitlines()
    assert lines[-3:] == ["  40 tallies put right", "", "171 tallies: 170 tries and 1 unseen."]
    correct(command, timed, "--take-back", "1")
    assert "  14 tallies put right" in command("practices", timed).stdout.splitlines()
    correct(command, timed, "--take-back", "2")
    assert "put right" not in command("practices", timed).stdout


def test_a_comment_is_kept_with_the_practice_and_taken_away(command, timed):
    """The last one counts; an empty one is none."""
    for words in ("Half the lights were off.", " Soft  ice "):
        assert "the comment is noted" in correct(command, timed, "--comment", words)
    assert one(command, timed)["comment"] == "Soft ice"
    assert "comment: Soft ice\n" in command("practices", timed, "--practice", DAY).stdout
    assert command("practices", timed, "--format", "csv").stdout.splitlines()[-1].endswith(",Soft ice,")
    correct(command, timed, "--comment", "")
    assert one(command, timed)["comment"] == ""
    long = command("correct", timed, "--practice", DAY, "--comment", "x" * 2_001)
    assert (long.exit_code, long.stderr) == (1, "a comment has 2,000 characters at most; make it shorter\n")


def test_only_an_empty_practice_is_deleted(command, timed):
    """One with tallies, though all were set aside or given to another practice, is kept."""
    with closing(sqlite3.connect(timed, isolation_level=None)) as file:
        file.execute(
            "INSERT INTO practice (key, held_on, surface) VALUES ('2025-11-03.2', '2025-11-03', 'full')"
        )
    correct(command, timed, "--to-practice", "2025-11-03.2")
    for key in (DAY, "2025-11-03.2"):
        refused = command("correct", timed, "--practice", key, "--delete")
        assert (refused.exit_code, "set it aside instead" in refused.stderr) == (1, True)
    with open_season(timed) as season:
        season.practices.add([Practice("2025-11-03.3", date(2025, 11, 3))])
    words = ("--practice", "2025-11-03.3", "--comment", "by mistake")
    assert command("correct", timed, *words).exit_code == 0
    correct(command, timed, "--delete", "--dry-run", key="2025-11-03.3")
    assert "it is deleted" in correct(command, timed, "--delete", key="2025-11-03.3")
    assert "no practice `2025-11-03.3`" in command("correct", timed, *words).stderr


def test_a_season_of_before_is_put_right_after_it_was_brought_up_to_date(command, season, tmp_path):
    """The lines of a file that was made without corrections are chosen as any others."""
    copy = shutil.copy(season, tmp_path / "copy.db")
    assert len(tally_lines()) == 128
    assert "8 tallies set aside" in correct(command, copy, "--player", "2", "--set-aside", key="2025-10-27")


def test_load_says_how_many_lines_meet_tallies_that_were_set_aside_one_by_one(command, timed):
    """With how to look at them and take that back; taken back, it says nothing of it."""
    correct(command, timed, "--player", "7", "--until", "18:05", "--set-aside")
    path = tallies_file(timed.parent, lines_of_drill())
    path.write_text(path.read_text().replace(HEADER, f"{HEADER},time"), encoding="utf-8")
    again = command("load", timed, path)
    assert "0 of them new" in again.stdout
    assert "4 of them were set aside one by one and count for nothing" in again.stderr
    assert f"evaltrack practices {timed} --practice {DAY}" in again.stderr
    correct(command, timed, "--take-back", "1")
    assert "set aside" not in command("load", timed, path).stderr


def test_a_practice_lists_whoever_was_given_a_tally_as_there(command, timed):
    """And no more who was known from those tallies alone; taken back, as before."""

    def here() -> list[str]:
        (row,) = json.loads(command("practices", timed, "--practice", DAY, "--format", "json").stdout)
        assert row["players"] == len(row["here"])
        return row["here"]

    assert here() == ["2", "7", "11"]
    correct(command, timed, "--player", "7", "--to-player", "14")
    assert here() == ["2", "11", "14"]
    correct(command, timed, "--take-back", "1")
    assert here() == ["2", "7", "11"]


@pytest.mark.parametrize("option", ["--player", "--skill", "--drill"])
def test_an_empty_choice_never_means_the_whole_practice(command, timed, option):
    """A script whose variable is empty is refused; it does not set everything aside."""
    done = command("correct", timed, "--practice", DAY, option, "", "--set-aside")
    assert (done.exit_code, done.stdout) == (1, "")
    assert sum(tries for _, tries in counts(command, timed).values()) > 0
    assert one(command, timed)["set_aside"] in (False, "no")


def test_a_time_of_day_of_another_zone_is_refused(command, timed):
    """The times of a practice are the rink's: one with an offset cannot be compared with them."""
    done = command("correct", timed, "--practice", DAY, "--from", "18:05+02:00", "--set-aside")
    assert done.exit_code == 2
    assert "is no time of day" in done.stderr


def test_a_comment_that_is_no_text_is_refused(timed):
    """A stray byte on the command line ends in one sentence."""
    code, out, err = process("correct", timed, "--practice", DAY, "--comment", os.fsdecode(b"soft \xff ice"))
    assert (code, out, err.count("\n")) == (1, "", 1)
    assert err.startswith(f"{timed}: not saved: ")
