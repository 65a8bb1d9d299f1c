"""Drills changed by finger: list, drill, step, slot; complaints at their place, six reps, saved whole.

Cases: a drill from nothing; steps copied, moved, taken out and brought back; a plan that is tapped; a
complaint and Undo; the question on leaving; a practice that runs or was left open; a file that is held; the
board after.
"""

import sqlite3
from contextlib import closing
from datetime import date

import pytest
from by_finger import ByFinger
from click.testing import CliRunner
from kivy.core.window import Window
from seasons_for_touch import new_season, roster

from evaltrack.cli import commands
from evaltrack.intake.catalogue import read_drills
from evaltrack.places import sample_roster
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Surface
from evaltrack.store.opening import open_season

SHIPPED = (sample_roster() / "drills.toml").read_text("utf-8")


def saved(path, retired=False):
    """Return the drills as the season file has them."""
    with open_season(path) as season:
        return season.catalogue.drills(retired)


def written(path, folder):
    """Return drills.toml as the command line writes it, and the drills that are read from it."""
    result = CliRunner().invoke(commands, ["catalogue", str(path), "--out", str(folder)])
    assert result.exit_code == 0, result.output
    with open_season(path) as season:
        drills = read_drills(folder / "drills.toml", season.catalogue.skills())
    return (folder / "drills.toml").read_text("utf-8"), drills


def to_step(drills, drill="Breakout and attack", step="2 against 1"):
    drills.tap(drill)
    drills.tap(step)


def to_disc(drills, key):
    """Tap the disc of a slot on the plan."""
    plan = drills.screen.ids.plan
    drills.driver.tap(plan.to_window(*plan.middle(key)))
    drills.driver.settle()


def test_the_drills_stand_in_their_order(drills):
    """With their steps; nothing can be saved or undone before something was changed."""
    assert list(drills.rows()) == ["Breakout and attack", "Stops and starts", "Wall work", "Small-area game"]
    assert drills.rows()["Wall work"] == "2 steps: Free, Pressured"
    assert not {"Save", "Undo"} & set(drills.titles())
    drills.tap("Breakout and attack")
    assert drills.rows()["2 against 1"] == "5 slots: Breakout D, Wall F, Middle F, Line D, Goalie"
    drills.tap("2 against 1")
    assert drills.rows()["Line D"] == "defender, then to the end of the line; against Wall F; Gap at the line"
    drills.tap("Back")
    drills.tap("Back")
    drills.tap("Back")
    assert drills.name == "home"


def test_a_drill_is_made_from_nothing(drills, season_path, tmp_path):
    """Each place says what it lacks until it has it; then it is saved, under keys made of its names."""
    drills.tap("Add a drill")
    drills.write("Žofie's race")
    assert "Save" not in drills.titles()
    drills.tap("A step without a name")
    assert {"The name is empty; write something."} <= set(drills.told())
    assert "None of its slots names a skill; give at least one something to watch." in drills.told()
    drills.write("Two by two")
    drills.tap("A slot without a name")
    drills.write("Racing D")
    drills.tap("Defender")
    drills.tap("Start")
    drills.tap("Back")
    drills.tap("Add a slot")
    drills.write("Chasing F")
    drills.tap("Stop")
    drills.tap("Racing D")
    drills.tap("Save")
    assert drills.name == "drills"
    assert "Žofie's race: is new" in drills.told()
    made = saved(season_path)[-1]
    assert (made.key, made.name) == ("zofie_s_race", "Žofie's race")
    (step,) = made.steps
    assert (step.key, step.name) == ("two_by_two", "Two by two")
    racing, chasing = step.slots
    assert (racing.key, racing.position, racing.skills) == ("racing_d", Position.DEFENCE, ("start",))
    assert (chasing.key, chasing.against, chasing.next) == ("chasing_f", "racing_d", None)
    assert drills.desk.drills[-1] == made
    text, read = written(season_path, tmp_path)
    assert read == saved(season_path)
    assert text.startswith(SHIPPED)


def test_steps_are_copied_moved_taken_out_and_brought_back(drills, season_path, tmp_path):
    """What is taken out is retired and keeps its history; the comments of the file stay."""
    drills.tap("Breakout and attack")
    drills.beside("3 against 1", "Copy")
    drills.write("3 against 1, go")
    drills.tap("Back")
    drills.beside("Two regroups", "Take out")
    drills.beside("3 against 1, go", "Up")
    assert list(drills.rows()) == ["2 against 1", "3 against 1, go", "3 against 1"]
    drills.tap("Save")
    (copy,) = [step for step in saved(season_path)[0].steps if step.name == "3 against 1, go"]
    assert copy.slots == saved(season_path)[0].step("three_on_one").slots
    assert [step.key for step in saved(season_path, retired=True)[0].steps][-1] == "two_regroups"
    text, read = written(season_path, tmp_path)
    assert read == saved(season_path)
    assert "# The same with a third forward on the far side" in text
    drills.tap("Breakout and attack")
    drills.tap("Bring back")
    drills.tap("Save")
    steps = [step.key for step in saved(season_path)[0].steps]
    assert steps == ["two_on_one", "step_3_against_1_go", "three_on_one", "two_regroups"]
    text, _ = written(season_path, tmp_path)
    assert "# A second defender and two regroups before the attack." in text


def test_a_drill_is_retired_and_comes_back_at_the_end(drills, season_path):
    """Its tallies stay; the last drill in use cannot be taken out."""
    drills.beside("Wall work", "Take out")
    drills.tap("Save")
    assert "Wall work: is retired; its history stays" in drills.told()
    assert [drill.key for drill in saved(season_path)] == ["breakout_attack", "stops_starts", "small_area"]
    assert "wall_work" in [drill.key for drill in drills.desk.every_drill]
    drills.beside("Small-area game", "Up")
    drills.tap("Bring back")
    drills.tap("Save")
    assert list(drills.rows()) == ["Breakout and attack", "Small-area game", "Stops and starts", "Wall work"]
    assert [drill.key for drill in saved(season_path)][-1] == "wall_work"
    for title in list(drills.rows())[1:]:
        drills.beside(title, "Take out")
    (last,) = drills.rows()
    assert all(key.disabled for key in drills.key(last).parent.children if key.title == "Take out")


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], indirect=True, ids=["landscape", "portrait"])
@pytest.mark.usefixtures("window")
def test_a_slot_is_chosen_on_the_plan(drills):
    """A tap on its disc shows its form, a tap on another one that one's, on the same one the step again."""
    to_step(drills)
    plan = drills.screen.ids.plan
    assert plan.width > 300
    for surface in ("Full", "Across", "Half"):
        drills.tap(surface)
        for key in ("breakout_d", "goal"):
            to_disc(drills, key)
            assert drills.screen.slot == key
            assert plan.discs[key].chosen
        to_disc(drills, "goal")
        assert drills.screen.slot == ""
    assert [disc.inside for disc in plan.discs.values()] == ["BD", "WF", "MF", "LD", "G"]


def to_ice(drills, along, across):
    """Tap the ice at percent of the way up and across, and settle."""
    plan = drills.screen.ids.plan
    area = plan.plan.ice
    place = plan.view.point((along / 100 * area.length, across / 100 * area.width))
    drills.driver.tap(plan.to_window(*place))
    drills.driver.settle()


def test_a_slot_is_put_on_the_ice(drills, season_path, tmp_path):
    """Where the ice is tapped, but not where another one stands; kept in the file, forgotten on request."""
    to_step(drills)
    to_ice(drills, 60, 85)
    assert "Undo" not in drills.titles()  # no slot is chosen
    drills.tap("Breakout D")
    to_ice(drills, 30, 70)
    goal = drills.screen.ids.plan.plan.places["goal"]
    x, y = drills.screen.ids.plan.view.point((goal[0] + 1.9, goal[1]))
    drills.driver.tap(drills.screen.ids.plan.to_window(x, y))
    assert "Another slot or a line stands there; tap the ice beside it." in drills.told()
    drills.tap("Back")
    drills.tap("Across")
    drills.tap("None")
    drills.tap("Save")
    step = saved(season_path)[0].step("two_on_one")
    along, across = step.slots[0].spot
    assert abs(along - 30) <= 1
    assert abs(across - 70) <= 1
    assert step.surface is Surface.CROSS
    assert (step.contact, step.has_contact) == (False, False)
    assert "Breakout and attack: step 2 against 1 changes" in drills.told()
    text, read = written(season_path, tmp_path)
    assert read == saved(season_path)
    assert f"spot = [{along}, {across}]" in text
    assert 'surface = "cross"\ncontact = false' in text
    to_step(drills)
    assert drills.screen.surface == "cross"
    drills.tap("Breakout D")
    drills.tap("In the order of the slots")
    drills.tap("Save")
    assert saved(season_path)[0].step("two_on_one").slots[0].spot is None


def test_a_complaint_stands_at_its_place_and_undo_takes_it_away(drills):
    """In the words of the screen, at the slot, in the row of the slot, of the step and of the drill."""
    to_step(drills)
    drills.tap("Line D")
    drills.tap("Forward")
    watched = "Gap at the line is not for F; take it out, or change who is watched in it."
    leads = "The way on leads to Line D, which is for another position group."
    assert watched in drills.told()
    drills.tap("Back")
    assert drills.rows()["Line D"] == watched
    assert drills.rows()["Breakout D"] == leads
    assert "Watch six reps" not in drills.titles()
    drills.tap("Back")
    assert drills.rows()["2 against 1"] == f"Line D: {watched} And 1 more."
    drills.tap("Back")
    assert "2 things to mend before the drills can be saved." in drills.told()
    assert "Save" not in drills.titles()
    drills.tap("Undo")
    assert drills.rows()["Breakout and attack"].startswith("3 steps")
    assert "Undo" not in drills.titles()


def test_escape_goes_back_as_the_key_does(drills):
    """From a slot to its step, to the drill, to the drills; there it is asked what becomes of the changes."""
    to_step(drills)
    drills.tap("Goalie")
    drills.tap("Rebound control")
    for name, slot in (("step", ""), ("drill", ""), ("drills", "")):
        drills.driver.key(27)
        drills.driver.settle()
        assert (drills.name, drills.driver.app.screen("step").slot) == (name, slot)
    drills.driver.key(27)
    assert drills.name == "drills"
    assert "There are changes that are not saved." in drills.told()
    drills.driver.key(27)
    assert drills.name == "home"


def test_undo_leaves_what_it_takes_away(drills):
    """A new step that is undone while it is shown; a drill that is undone while its step is shown."""
    drills.tap("Wall work")
    drills.tap("Add a step")
    drills.tap("Undo")
    assert drills.name == "drill"
    drills.tap("Back")
    drills.tap("Add a drill")
    drills.tap("A step without a name")
    drills.tap("Undo")
    drills.driver.settle()
    assert drills.name == "drills"
    assert len(drills.rows()) == 4


def test_six_reps_are_those_that_the_board_runs(drills):
    """Rep by rep the same players in the same slots as on the by-rep board, with everyone of the roster."""
    to_step(drills, step="Two regroups")
    drills.tap("Watch six reps")
    shown = [_watched(drills)]
    assert "New D: #5 Bo, goes to Old D" in drills.told()
    assert "Rep before" not in drills.titles()
    for _ in range(5):
        drills.tap("Next rep")
        shown.append(_watched(drills))
    assert "Next rep" not in drills.titles()
    drills.tap("Rep before")
    assert _watched(drills) == shown[4]
    drills.tap("Back to the form")
    assert drills.name == "step"
    desk = drills.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_regroups", "Ines")
    drills.driver.app.go("board")
    board = drills.screen
    board.choose("rep")
    for rep in shown:
        slots = board.board._bench.rotation.slots
        assert {key: desk.player(ident).number for key, ident in slots.items()} == rep
        board.next_rep()


def _watched(drills):
    return {key: disc.inside for key, disc in drills.screen.ids.plan.discs.items()}


def test_where_the_roster_has_nobody_it_is_said(drive, tmp_path):
    """The slot says that it stays empty; invented players stand in while reps are watched, and are named."""
    players = [player for player in roster() if player.position is not Position.GOALIE][3:11]
    drills = ByFinger(drive(new_season(tmp_path / "no_goalie.db", players)))
    drills.tap("Drills")
    to_step(drills)
    assert drills.rows()["Goalie"].endswith("No goalie is on the roster: it stays empty.")
    drills.tap("Watch six reps")
    assert "Goalie: #90 Robin, goes out to the end of the line" in drills.told()
    said = "The roster has too few; invented players stand in: #90 Robin."
    assert said in drills.told()
    assert len(drills.desk.players) == 8


def test_who_leaves_with_changes_is_asked_once(drills, season_path):
    """Thrown away they are gone; saved they are in the file."""
    before = saved(season_path)
    drills.beside("Wall work", "Up")
    drills.tap("Back")
    assert "There are changes that are not saved." in drills.told()
    drills.tap("Go on changing")
    assert "The order of the drills" in drills.told()
    drills.tap("Back")
    drills.tap("Throw them away")
    assert drills.name == "home"
    drills.tap("Drills")
    assert list(drills.rows())[1] == "Stops and starts"
    assert saved(season_path) == before
    drills.beside("Wall work", "Up")
    drills.tap("Back")
    drills.tap("Save them")
    assert [drill.key for drill in saved(season_path)][1] == "wall_work"


@pytest.mark.parametrize("left_open", [False, True], ids=["runs", "left open"])
def test_no_drill_changes_under_a_running_practice(drills, season_path, left_open):
    """It is refused with a sentence, nothing is written, and the draft stays until the practice is over."""
    desk = drills.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    if left_open:
        desk.leave_open()
    before = dump(season_path)
    drills.beside("Wall work", "Take out")
    assert "A practice is not ended. Drills can be changed here, and saved when it is over." in drills.told()
    drills.tap("Save")
    refused = "the practice 2026-01-20 is not ended; end it first, and change drills or take skills out then"
    assert refused in drills.told()
    assert dump(season_path) == before
    assert len(drills.desk.drills) == 4
    assert desk.end_left_open() if left_open else desk.end()
    drills.tap("Save")
    assert len(saved(season_path)) == 3


def dump(path):
    """Return all that a season holds, as SQL, but for which journal it is that lies beside it."""
    with closing(sqlite3.connect(path)) as file:
        return [line for line in file.iterdump() if '"epoch"' not in line]


def test_a_file_that_is_held_is_said_and_nothing_is_lost(drills, season_path, monkeypatch):
    """All or nothing: while another program writes, the changes stay in the draft."""
    monkeypatch.setattr("evaltrack.store.connection.BENCH_WAIT", 10)
    drills.beside("Wall work", "Take out")
    with closing(sqlite3.connect(season_path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        drills.tap("Save")
        assert drills.desk.message
        assert len(drills.desk.drills) == 4
        other.execute("ROLLBACK")
    assert len(saved(season_path)) == 4
    drills.tap("Save")
    assert len(saved(season_path)) == 3


def test_a_changed_step_stands_on_the_board_of_the_next_practice(drills):
    """Another name, another slot and another way through it, as they were saved."""
    to_step(drills)
    drills.tap("Middle F")
    drills.tap("Wall F")  # goes there next
    drills.tap("Back")
    drills.tap("Add a slot")
    drills.write("Late F")
    drills.tap("Save")
    desk = drills.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    drills.driver.app.go("board")
    board = drills.screen
    board.choose("rep")
    assert any("Late F" in plate for plate in board.ids.board.buttons)
    rotation = board.board._bench.rotation
    middle = rotation.slots["middle_f"]
    board.next_rep()
    assert board.board._bench.rotation.slots["wall_f"] == middle


def test_every_key_of_the_drills_is_within_the_window(drills):
    """In portrait too, no key of the bar or of a row runs over the edge."""
    for size in ((1280, 800), (800, 1280)):
        Window.resize(*size)
        drills.driver.app.go("drills")
        drills.driver.settle()
        for key in drills.screen.walk(restrict=True):
            if hasattr(key, "title") and key.width > 1:
                x, _ = key.to_window(key.x, key.y)
                assert -1 <= x
                assert x + key.width <= size[0] + 1, key.title
