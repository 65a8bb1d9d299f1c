"""What moved a share, in sentences that say how sure that is."""

from dataclasses import replace

import pytest
from lantern_pages import ONE

from evaltrack.analysis.standings.standing import Call, Cause, Reason
from evaltrack.paper.tables.standings import as_json, as_table
from evaltrack.rink.drill import Drill, Step
from evaltrack.words.reasons import reason_heading, reason_sentences, step_names, to_go_words
from evaltrack.words.wording import direction_words

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


@pytest.mark.parametrize(
    ("reason", "sentence"),
    [
        (
            PRESSURE,
            "under pressure in 14 of 20 tries, mostly in December (the team 30 %); "
            "pressure costs the team about 14 points (4 to 24): +5 (2 to 8)",
        ),
        (
            replace(PRESSURE, month=0, cost=0.01, cost_low=-0.02, cost_high=0.04),
            "under pressure in 14 of 20 tries (the team 30 %); "
            "pressure costs the team about 1 point (−2 to 4): +5 (2 to 8)",
        ),
        (
            STEP,
            "3 on 1 in 15 of 20 tries (the team 25 %); it is about 12 points (5 to 19) easier for the team: "
            "perhaps −6 (−13 to 1)",
        ),
        (
            replace(STEP, cost=-0.01, cost_low=-0.03, cost_high=0.01, named="wall_work/chaser"),
            "wall_work/chaser in 15 of 20 tries (the team 25 %); "
            "it is about 1 point (−1 to 3) easier for the team: perhaps −6 (−13 to 1)",
        ),
        (
            OBSERVER,
            "Marit noted 20 of 20 tries (the team 50 %) and is about 6 points (2 to 10) more lenient "
            "than the average observer: −4 (−9 to −1)",
        ),
        (
            replace(OBSERVER, moved=0.04, low=0.01, high=0.07, cost=0.06, cost_low=0.02, cost_high=0.1),
            "Marit noted 20 of 20 tries (the team 50 %) and is about 6 points (2 to 10) stricter "
            "than the average observer: +4 (1 to 7)",
        ),
        (
            Reason(Cause.DAYS, 0.03, 0.01, 0.05),
            "the days of these tries were harder than usual for all: +3 (1 to 5)",
        ),
        (
            Reason(Cause.DAYS, -0.03, -0.05, -0.01),
            "the days of these tries were better than usual for all: −3 (−5 to −1)",
        ),
        (CHANGE, "since these tries, on average, the share has gone up: +12 (1 to 23)"),
        (
            Reason(Cause.CHANGE, -0.12, -0.23, 0.01),
            "since these tries, on average, the share may have gone down: perhaps −12 (−23 to 1)",
        ),
        (
            Reason(Cause.CHANGE, 0.03, 0.001, 0.059),
            "since these tries, on average, the share has gone up: +3 (0 to 6)",
        ),
        (
            LUCK,
            "20 tries can come off too well by luck; the team and the player's other skills say more: −14",
        ),
        (
            Reason(Cause.LUCK, 0.143, 0.143, 0.143),
            "20 tries can fall short by luck; the team and the player's other skills say more: +14",
        ),
    ],
)
def test_the_whole_sentence(reason, sentence):
    """What he met, what that costs the team or spares it, and the move, sure or not, up or down."""
    assert reason_sentences(replace(ONE, reasons=(reason,)), STEPS) == [sentence]


@pytest.mark.parametrize(
    ("moved", "low", "high", "told"),
    [
        (0.02, 0.001, 0.04, True),
        (0.0199, 0.001, 0.04, False),
        (-0.02, -0.04, -0.001, True),
        (0.05, 0.0, 0.1, True),
        (0.0499, 0.0, 0.1, False),
        (-0.05, -0.1, 0.0, True),
        (-0.0499, -0.1, 0.0, False),
    ],
)
def test_how_far_a_move_must_go_to_be_told(moved, low, high, told):
    """Two points when it is sure to one side of nought, five when it may as well have been none."""
    reasons = (Reason(Cause.CHANGE, moved, low, high),)
    [sentence] = reason_sentences(replace(ONE, reasons=reasons), STEPS)
    assert sentence.startswith("since") == told


def test_the_heading_goes_from_the_count_to_the_share():
    """In percent, and a share that is told as nought has no sign."""
    assert reason_heading(WITH) == "From 14 of 20, 70 %, to 67 % now:"
    assert reason_heading(replace(WITH, done=0, share=0.004)) == "From 0 of 20, 0 %, to 0 % now:"


def test_one_try_is_one_try():
    """Also in what luck may do, and in how many more tries are wanted."""
    one = replace(ONE, tries=1, done=1, reasons=(LUCK,))
    assert reason_sentences(one, {})[0].startswith("1 try can")
    assert to_go_words(replace(WITH, to_go=1)) == (
        "about 1 more try, if it goes on like that, would bring it to 15 points either way"
    )


def test_what_is_missing_for_a_call_comes_first():
    """Then how many more tries; where they are not foretold it says so, and nothing where none is wanted."""
    few = replace(WITH, tries=6, done=3, practices=2, call=Call.TOO_FEW, to_go=None)
    assert to_go_words(few) == ""
    assert direction_words(few).endswith("4 more tries, at 1 more practice")
    assert to_go_words(WITH) == (
        "about 12 more tries, if it goes on like that, would bring it to 15 points either way"
    )
    assert to_go_words(replace(WITH, to_go=None)) == (
        "as many tries again may not be enough to bring it to 15 points either way"
    )
    assert to_go_words(replace(WITH, to_go=0)) == ""
    assert to_go_words(replace(WITH, to_go=None, doubt="It did not settle.")) == ""


def test_steps_are_named_as_on_the_board():
    """A reason names a step by drill and key, since two drills may call theirs alike."""
    drills = [Drill(key, key, (Step("gates", f"Gates of {key}", ()),)) for key in ("one", "two")]
    assert step_names(drills) == {"one/gates": "Gates of one", "two/gates": "Gates of two"}


def test_nothing_much_is_said_too():
    """Where nothing moved the share much that is told, and where the plain count stands nothing is."""
    assert reason_sentences(replace(ONE, reasons=(DAYS,)), {}) == [
        "nothing is known to have moved it by as much as 2 points"
    ]
    unsure = replace(CHANGE, moved=0.04, low=-0.02, high=0.1)
    assert len(reason_sentences(replace(ONE, reasons=(unsure, PRESSURE)), {})) == 1
    assert (reason_sentences(ONE, {}), reason_heading(ONE)) == ([], "")


def test_the_table_tells_why_only_when_asked():
    """Reasons and tries to go stand below the line of the skill, within a hundred characters."""
    assert "luck" not in as_table([WITH]).split("Done counts")[0]
    lines = as_table([WITH], STEPS).splitlines()
    assert lines[4].strip() == "From 14 of 20, 70 %, to 67 % now:"
    assert "about 12 more tries, if it goes on like that, would bring it to 15 points either way" in lines[-6]
    assert max(map(len, lines)) <= 103


def test_json_carries_the_reasons():
    """Other programs get each cause with its move and its doubt."""
    assert '"cause": "pressure"' in as_json([WITH], STEPS)
    assert '"to_go": 12' in as_json([WITH], STEPS)
    assert "reasons" not in as_json([WITH])
