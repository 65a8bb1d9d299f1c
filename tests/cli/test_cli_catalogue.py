"""Skills, drills and targets changed in mid-season from the command line, and written out again."""

import csv
import io
import re
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest
from below_told import below_told
from pond_team import roster_file

from evaltrack.places import sample_roster
from evaltrack.rink.practice import Attendance, Practice, Station
from evaltrack.store.opening import open_season

SKILLS_TOML, DRILLS_TOML = (
    (sample_roster() / name).read_text("utf-8") for name in ("skills.toml", "drills.toml")
)
_HOLD = (
    "import sys; from evaltrack.device.season_claim import SeasonClaim; claim = SeasonClaim();"
    "print(claim.take(sys.argv[1]), flush=True); sys.stdin.read()"
)
OTHER_WORDS = ("The team-mate has it on the blade and", "A team-mate has it on the blade and")


@pytest.fixture
def change(command, season, tmp_path):
    """Return a function that sets skills or drills in the season of the pond team; it gives what was said."""

    def set_to(*words, skills=None, drills=None, code=0):
        named = []
        for option, text in (("--skills", skills), ("--drills", drills)):
            if text is not None:
                path = tmp_path / f"{option[2:]}.toml"
                path.write_text(text, encoding="utf-8")
                named += [option, path]
        result = command("catalogue", season, *named, *words)
        assert result.exit_code == code, result.output
        return result.stdout if code == 0 else result.stderr

    return set_to


def written(command, season, folder):
    """Return both files as the season writes them."""
    assert command("catalogue", season, "--out", folder).exit_code == 0
    return [(folder / name).read_text("utf-8") for name in ("skills.toml", "drills.toml")]


def dump(path):
    """Return all that a season holds, as SQL, but for the mark of its journal."""
    with closing(sqlite3.connect(path)) as file:
        return [line for line in file.iterdump() if '"epoch"' not in line]


def tries(command, season):
    """Return the tries of each skill, as the standings count them."""
    rows = csv.DictReader(io.StringIO(command("standings", season, "--format", "csv").stdout))
    found = {}
    for row in rows:
        found[row["skill"]] = found.get(row["skill"], 0) + int(row["tries"])
    return found


def without_skill(key):
    """Return the shipped skills without one."""
    return re.sub(rf'\[\[skill\]\]\nkey = "{key}".*?(?=\n\[\[skill|\n# ---)', "", SKILLS_TOML, flags=re.S)


def test_what_is_written_has_the_shipped_comments_and_changes_nothing(command, season, tmp_path, change):
    """Out and in again: byte for byte what was shipped, and no fact more in the season."""
    before = dump(season)
    assert written(command, season, tmp_path / "out") == [SKILLS_TOML, DRILLS_TOML]
    assert "nothing is to be changed" in change(skills=SKILLS_TOML, drills=DRILLS_TOML)
    with open_season(season) as opened:
        assert opened.catalogue_changes.all() == []
    assert [line for line in dump(season) if "catalogue_text" not in line] == [
        line for line in before if "catalogue_text" not in line
    ]


def test_comments_of_ones_own_files_come_back(command, tmp_path):
    """A season that was made with a coach's files writes them with the coach's comments."""
    mine = SKILLS_TOML.replace("\n[[skill]]", "\n# agreed on 3 September\n[[skill]]", 1)
    (tmp_path / "mine.toml").write_text(mine, encoding="utf-8")
    path = tmp_path / "own.db"
    words = ("--team", "Pond", "--age-class", "12U", "--roster", roster_file(tmp_path))
    made = command("new", path, *words, "--skills", tmp_path / "mine.toml")
    assert made.exit_code == 0, made.stderr
    assert written(command, path, tmp_path / "out") == [mine, DRILLS_TOML]


def test_a_target_says_whom_it_puts_below(command, season, tmp_path, change):
    """The dry run counts who can be judged, as the standings have them, and changes nothing."""
    new = SKILLS_TOML.replace("target = 0.65", "target = 0.2", 1)
    now = expected_below(command, season)
    before = dump(season)  # after that look at the standings, which the file keeps
    told = change("--dry-run", skills=new)
    assert dump(season) == before
    assert "target 0.65 → 0.2" in change(skills=new)
    assert written(command, season, tmp_path / "out") == [new, DRILLS_TOML]
    after = csv.DictReader(io.StringIO(command("standings", season, "--format", "csv").stdout))
    assert {row["target"] for row in after if row["skill"] == "outlet_pass"} == {"0.2"}
    then = expected_below(command, season)
    assert (len(now), len(then)) == (2, 2)
    assert below_told(told)[:2] == (round(sum(then)), 2)
    assert round(sum(now)) > round(sum(then))
    assert re.search(r"skill outlet_pass: target 0.65 → 0.2 \(about .*: (one|two) fewer than now\)", told)


def expected_below(command, season):
    """Return how likely each player who can be judged is below the target, by the standings."""
    rows = csv.DictReader(io.StringIO(command("standings", season, "--format", "csv").stdout))
    own = [row for row in rows if row["skill"] == "outlet_pass"]
    return [float(row["p_below"]) for row in own if row["call"] != "too few"]


def test_another_definition_asks_first(command, season, change):
    """Better words keep the series, other ones begin a new one; without a word of it nothing is taken."""
    had = tries(command, season)
    before = dump(season)  # after that look at the standings, which the file keeps
    new = SKILLS_TOML.replace(*OTHER_WORDS)
    refused = change(skills=new, code=1)
    assert "`outlet_pass` changes (`done`), and 64 tries stand under the old one" in refused
    assert "--same-series outlet_pass" in refused
    assert dump(season) == before
    told = change("--same-series", "outlet_pass", skills=new)
    assert told == "changed:\n  skill outlet_pass: the same series in better words (`done`)\n"
    assert tries(command, season) == had
    told = change("--new-series", "outlet_pass", skills=SKILLS_TOML)
    assert "a new series begins (`done`); 64 tries under the old words stay and are not mixed in" in told
    assert tries(command, season) == {key: count for key, count in had.items() if key != "outlet_pass"}
    with open_season(season) as opened:
        assert opened.log.count() == sum(had.values())


def test_words_of_a_skill_without_a_try_are_not_asked_about(command, season, change):
    """There is no series that could be mixed."""
    new = SKILLS_TOML.replace("turns and gets away", "turns away")
    assert new == SKILLS_TOML or "better words" in change(skills=new)
    new = re.sub(r'(key = "stop"\n.*?\ndone = ")', r"\1Now: ", SKILLS_TOML, flags=re.S)
    assert change(skills=new) == "changed:\n  skill stop: the same series in better words (`done`)\n"


def test_a_retired_skill_keeps_its_history(command, season, change):
    """It is on no board and in no standing; back in the file it has all its tries again."""
    before = command("standings", season, "--format", "csv").stdout
    had = tries(command, season)
    drills = DRILLS_TOML.replace('"lane_fill", ', "").replace(', "lane_fill"', "")
    drills = drills.replace('["lane_fill"]', '["shot_on_net"]')
    lost = change(skills=without_skill("lane_fill"), code=1)
    assert "slot `middle_f` watches `lane_fill`, which the file has not" in lost
    told = change(skills=without_skill("lane_fill"), drills=drills)
    assert "skill lane_fill: is retired; its 64 tries stay" in told
    assert "lane_fill" not in tries(command, season)
    assert re.search(r"lane_fill .* retired", command("catalogue", season).stdout)
    assert "lane_fill" not in command("coverage", season, "--format", "csv").stdout
    assert "Fill the lane 16" in command("practices", season, "--practice", "2025-10-06").stdout
    told = change(skills=SKILLS_TOML, drills=DRILLS_TOML)
    assert "skill lane_fill: is in use again" in told
    assert tries(command, season) == had
    assert command("standings", season, "--format", "csv").stdout == before


def test_drills_and_steps_come_and_go(command, season, tmp_path, change):
    """A step in which tries were made is retired with them; the files read back as the season."""
    cut = DRILLS_TOML.index("# The same with a third forward"), DRILLS_TOML.index("# Stops and starts")
    new = DRILLS_TOML[: cut[0]] + DRILLS_TOML[cut[1] :]
    before = command("standings", season, "--format", "csv").stdout
    told = change(drills=new)
    assert "drill breakout_attack: step three_on_one is retired, step two_regroups is retired" in told
    assert command("standings", season, "--format", "csv").stdout == before
    assert written(command, season, tmp_path / "out")[1] == new
    assert "step three_on_one is new" in change(drills=DRILLS_TOML)
    assert written(command, season, tmp_path / "out")[1] == DRILLS_TOML


def test_the_order_changes_and_the_log_only_grows(command, season, change):
    """Every change is a row more, and none is taken back."""
    skills = SKILLS_TOML.split("\n[[skill]]\n")
    turned = "\n[[skill]]\n".join([skills[0], skills[2], skills[1], *skills[3:]])
    assert change(skills=turned) == "changed:\n  the order of the skills\n"
    with open_season(season) as opened:
        first = opened.catalogue_changes.all()
    change(skills=SKILLS_TOML)
    with open_season(season) as opened:
        assert opened.catalogue_changes.all()[: len(first)] == first
        assert len(opened.catalogue_changes.all()) == 2 * len(first)


def test_what_does_not_fit_is_refused_in_words(command, season, change):
    """Unknown keys, both answers at once, options without their file, a bad line: nothing changes."""
    before = dump(season)
    assert "there is no skill `outlet`" in change("--same-series", "outlet", skills=SKILLS_TOML, code=1)
    both = ("--same-series", "stop", "--new-series", "stop")
    assert "say of `stop` one thing only" in change(*both, skills=SKILLS_TOML, code=1)
    assert "belong to --skills" in change("--new-series", "stop", drills=DRILLS_TOML, code=2)
    assert "belongs to --skills and --drills" in command("catalogue", season, "--dry-run").stderr
    assert "name --out" in change("--out", "x", skills=SKILLS_TOML, code=2)
    bad = SKILLS_TOML.replace("target = 0.65", "target = 65", 1)
    assert "`target` must be a share" in change(skills=bad, drills=DRILLS_TOML, code=1)
    assert dump(season) == before


def test_an_open_window_or_a_running_practice_is_not_pulled_from_under_a_bench(command, season, change):
    """What a board shows does not change under it; a dry run with a window open is told."""
    new = SKILLS_TOML.replace("target = 0.65", "target = 0.7", 1)
    hold = [sys.executable, "-c", _HOLD, str(season)]
    with subprocess.Popen(hold, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as window:
        assert window.stdout.readline() == "True\n"
        assert "open in a window of the app" in change(skills=new, code=1)
        assert "target 0.65 → 0.7" in change("--dry-run", skills=new)
        window.communicate()
    with open_season(season) as opened:
        here = [Attendance(opened.people.players()[0].id, True, 0)]
        station = Station("2025-11-03", "wall_work", "free", "wall_puck_feet", "Ines", tablet="bench")
        opened.practices.begin(Practice("2025-11-03", opened.practices.all()[0].held_on), here, station)
    other = DRILLS_TOML.replace('name = "Free"', 'name = "Freely"')
    assert "the practice 2025-11-03 is not ended" in change(drills=other, code=1)
    assert "target 0.65 → 0.7" in change(skills=new)
