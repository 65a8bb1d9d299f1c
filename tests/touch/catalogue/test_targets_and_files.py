"""A target says whom it puts below it before it is saved; and skills and drills go out as files."""

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from below_told import below_told
from pressing import keys_of
from scipy.special import logit, ndtr, ndtri
from seasons_for_touch import demo_season

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.analysis.standings.targets import Below, judged
from evaltrack.device.season_places import seasons_folder
from evaltrack.founding.season import found_season, shipped
from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.store.opening import open_season
from evaltrack.touch.catalogue.target_counts import TargetCounts

Z90 = ndtri(0.95)


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Return the path of the demo team's season; no test of this module writes to it."""
    return demo_season(tmp_path_factory.mktemp("demo") / "lanterns.db")


def written(hand):
    """Write the files by touch, and return the folder that the screen names."""
    hand.press("Write to files")
    hand.driver.wait(lambda: not hand.screen.writing)
    assert hand.screen.words.startswith("skills.toml and drills.toml are in ")
    return Path(hand.screen.words.removeprefix("skills.toml and drills.toml are in ").removesuffix("."))


def test_a_target_tells_live_how_many_it_puts_below(start_skills, demo):
    """Each step of the keys expects as many below it as the standings make likely, and saves nothing."""
    with open_season(demo) as season:
        known = judged(read_standings(season), "stop")
        before = season.catalogue.skills()

    def expected(target):
        """Return how many are, from the ends of the intervals: a share's logit is normal."""
        ends = [logit(np.array([one.low, one.high])) for one in known]
        return sum(ndtr((logit(target) - end.mean()) / (np.diff(end)[0] / 2 / Z90)) for end in ends)

    hand = start_skills(demo)
    hand.open("Stop")
    told = hand.line("Target")
    hand.driver.wait(lambda: told.says.startswith("Now about "), timeout=60)
    assert expected(0.65) == pytest.approx(sum(one.p_below for one in known))
    now = round(expected(0.65))
    assert below_told(told.says)[:2] == (now, len(known))
    counts = []
    for target in (0.7, 0.75, 0.8, 0.85):
        hand.choose("+")
        assert told.target == f"{100 * target:.3g} %"
        assert told.says.startswith(f"With {100 * target:.3g} %, about ")
        about, of, low, high = below_told(told.says)
        assert (about, of) == (round(expected(target)), len(known))
        assert low <= about <= high
        counts.append(about)
    assert counts[-1] > now  # else the test would tell nothing
    for _ in range(8):
        hand.choose("−")
    assert told.target == "45 %"
    assert told.says.endswith("fewer than now.")
    with open_season(demo) as season:
        assert season.catalogue.skills() == before


def test_without_a_tally_a_target_puts_nobody_below_it(hand):
    """And a skill out of use, or a new one, says what a target is."""
    hand.open("Stop")
    told = hand.line("Target")
    hand.driver.wait(lambda: told.says == "Nobody can be judged in it yet.", timeout=60)
    hand.choose("+")
    assert told.says == "Nobody can be judged in it yet."
    hand.driver.app._to_skill_form(None, None)
    assert hand.line("Target").says == "The share of tries that should come off."


def test_counts_that_cannot_be_had_say_why(hand, tmp_path):
    """Of a file that is not there; asked of the right one they come, once for all targets."""
    app, came = hand.driver.app, []
    skill = app.desk.skills["stop"]
    counts = TargetCounts(app.review, app.worker, lambda: came.append(counts.words))
    app.go("team")
    hand.driver.wait(lambda: app.review.state == "ready", timeout=60)
    counts.follow(SimpleNamespace(path=tmp_path / "none.db"), skill)
    assert counts.words == "Working out who is below it …"
    hand.driver.wait(lambda: came, timeout=60)
    assert came[0].startswith("Who is below it could not be worked out: ")
    assert counts.of(skill.target) is None
    counts.follow(app.desk.season, replace(skill, target=0.625))
    hand.driver.wait(lambda: len(came) > 1, timeout=60)
    assert [counts.of(target) for target in (0.05, 0.625, 0.95)] == [
        Below(0.05, 0), Below(0.625, 0), Below(0.95, 0),
    ]  # fmt: skip
    counts.follow(app.desk.season, app.desk.skills["start"])
    assert counts.of(0.95) is None


def test_a_target_that_is_saved_is_that_of_the_season(hand, kept):
    """A step of .05 from the one in force, also from one that lies between two steps."""
    hand.open("Stop")
    hand.choose("−")
    hand.press("Save")
    assert kept()["stop"].target == 0.6
    assert "target 60 %;" in hand.rows()["Stop"].words


def test_the_files_are_where_the_screen_says_and_make_the_same_season(hand, season_path, tmp_path):
    """Edited by touch, written, and read back into a new season: the same skills and drills."""
    hand.move("Escape turn", "Up")
    hand.open("Start")
    hand.press("Retire")
    hand.press("Retire it")
    hand.open("Outlet pass")
    hand.write("It is done when", 'On the blade, "flat".')
    hand.choose("+")
    hand.press("Save")
    folder = written(hand)
    assert folder == seasons_folder() / "season-catalogue"
    skills = read_skills(folder / "skills.toml")
    with open_season(season_path) as season:
        assert skills == season.catalogue.skills()
        assert read_drills(folder / "drills.toml", skills) == season.catalogue.drills()
        files = (folder / "skills.toml", folder / "drills.toml")
        with found_season(tmp_path / "new.db", "Pond", "12U", season.people.players(), *files) as new:
            assert new.catalogue.skills() == season.catalogue.skills()
            assert new.catalogue.drills() == season.catalogue.drills()
    assert "# One [[skill]] for each:" in (folder / "skills.toml").read_text("utf-8")


def test_comments_come_back_with_a_skill_that_comes_back(hand):
    """The file that somebody brought stays as it came, so what was retired has lost none of its words."""
    hand.open("Gap at the line")
    hand.press("Retire")
    hand.press("Retire it")
    own = "# Common practice: about 1 to 1.5 stick lengths"
    assert own in shipped("skills.toml").read_text("utf-8")
    assert own not in (written(hand) / "skills.toml").read_text("utf-8")
    hand.open("Gap at the line")
    hand.press("Bring back")
    assert own in (written(hand) / "skills.toml").read_text("utf-8")


def test_files_that_were_changed_since_are_left_alone(hand):
    """The same again goes to the same place; beside files that somebody changed goes a numbered folder."""
    first = written(hand)
    assert written(hand) == first
    (first / "skills.toml").write_text("# mine\n", encoding="utf-8")
    second = written(hand)
    assert second == first.with_name("season-catalogue-2")
    assert (first / "skills.toml").read_text("utf-8") == "# mine\n"
    assert len(read_skills(second / "skills.toml")) == 16


def test_a_place_that_takes_no_files_is_told(hand):
    """A file in the way of the folder is no folder: the sentence says so, and the key works again."""
    seasons_folder().parent.mkdir(parents=True, exist_ok=True)
    seasons_folder().write_text("in the way")
    hand.press("Write to files")
    hand.driver.wait(lambda: not hand.screen.writing)
    assert "cannot be made" in hand.screen.words
    assert "Write to files" in [key.title for key in keys_of(hand.driver)]
