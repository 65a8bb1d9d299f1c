"""What moved a share, in sentences that say how sure that is."""

from dataclasses import replace

from lantern_pages import ONE

from evaltrack.analysis.standings.standing import Cause, Reason
from evaltrack.paper.tables.standings import as_json, as_table
from evaltrack.words.reasons import reason_heading, reason_sentences, to_go_words

STEPS = {"breakout_attack/three_on_one": "3 on 1"}
PRESSURE = Reason(Cause.PRESSURE, 0.05, 0.02, 0.08, "", 14, 0.3, 12, 0.14, 0.04, 0.24)
STEP = Reason(
    Cause.STEP, -0.06, -0.13, 0.01, "breakout_attack/three_on_one", 15, 0.25, 0, -0.12, -0.19, -0.05
)
OBSERVER = Reason(Cause.OBSERVER, -0.04, -0.09, -0.01, "Marit", 20, 0.5, 0, -0.06, -0.1, -0.02)
DAYS = Reason(Cause.DAYS, 0.01, -0.01, 0.03)
CHANGE = Reason(Cause.CHANGE, 0.12, 0.01, 0.23)
LUCK = Reason(Cause.LUCK, -0.143, -0.143, -0.143)
WITH = replace(ONE, reasons=(OBSERVER, DAYS, PRESSURE, STEP, CHANGE, LUCK), to_go=12)


def test_the_largest_move_comes_first_and_small_ones_are_left_out():
    """Moves are told by size; what is under two points is not worth a sentence."""
    told = reason_sentences(WITH, STEPS)
    assert [sentence.split(": ")[-1] for sentence in told] == [
        "−14", "+12 (1 to 23)", "perhaps −6 (−13 to 1)", "+5 (2 to 8)", "−4 (−9 to −1)",
    ]  # fmt: skip


def test_each_cause_has_its_words():
    """How many tries, how many of the team's, when, and what it costs the team with its likely range."""
    luck, change, step, pressure, observer = reason_sentences(WITH, STEPS)
    assert luck.startswith("20 tries can come off too well by luck")
    assert change.startswith("since these tries, on average, the share has gone up")
    assert pressure.startswith(
        "under pressure in 14 of 20 tries, mostly in December (the team 30 %); "
        "pressure costs the team about 14 points (4 to 24)"
    )
    assert observer.startswith(
        "Marit noted 20 of 20 tries (the team 50 %) and is about 6 points (2 to 10) more lenient"
    )
    assert step.startswith("3 on 1 in 15 of 20 tries (the team 25 %); it is about 12 points (5 to 19) easier")


def test_nothing_much_is_said_too():
    """Where nothing moved the share much that is told, and where the plain count stands nothing is."""
    assert reason_sentences(replace(ONE, reasons=(DAYS,)), {}) == [
        "nothing is known to have moved it by as much as 2 points"
    ]
    unsure = replace(CHANGE, moved=0.04, low=-0.02, high=0.1)
    assert len(reason_sentences(replace(ONE, reasons=(unsure, PRESSURE)), {})) == 1
    assert (reason_sentences(ONE, {}), reason_heading(ONE), to_go_words(ONE)) == ([], "", "")


def test_the_table_tells_why_only_when_asked():
    """Reasons and tries to go stand below the line of the skill, within a hundred characters."""
    assert "luck" not in as_table([WITH]).split("Done counts")[0]
    lines = as_table([WITH], STEPS).splitlines()
    assert lines[4].strip() == "From 14 of 20, 70 %, to 67 % now:"
    assert "12 more tries would bring it to 15 points either way" in lines[-6]
    assert max(map(len, lines)) <= 103


def test_json_carries_the_reasons():
    """Other programs get each cause with its move and its doubt."""
    assert '"cause": "pressure"' in as_json([WITH], STEPS)
    assert '"to_go": 12' in as_json([WITH], STEPS)
    assert "reasons" not in as_json([WITH])
