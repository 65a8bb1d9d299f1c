"""What moved a share, in sentences that say how sure that is."""

import json
import re
from dataclasses import replace

import pytest
from lantern_pages import ONE

from evaltrack.analysis.standings.standing import Call, Cause, Reason
from evaltrack.paper.tables.standings import as_json, as_table
from evaltrack.rink.drill import Drill, Step
from evaltrack.words.reasons import reason_heading, reason_sentences, step_names, to_go_words, whole_moves
from evaltrack.words.wording import direction_words

STEPS = {"breakout_attack/three_on_one": "3 on 1"}
PRESSURE = Reason(Cause.PRESSURE, 0.05, 0.02, 0.08, "yes", 14, 0.3, 12, 0.14, 0.04, 0.24)
STEP = Reason(
    Cause.STEP, -0.06, -0.13, 0.01, "breakout_attack/three_on_one", 15, 0.25, 0, -0.12, -0.19, -0.05
)
OBSERVER = Reason(Cause.OBSERVER, -0.04, -0.09, -0.01, "Marit", 20, 0.5, 0, -0.06, -0.1, -0.02)
OPPONENT = Reason(Cause.OPPONENT, 0.06, 0.02, 0.1, "4", 14, 0.17, 0, 0.09, 0.03, 0.15)
DAYS = Reason(Cause.DAYS, 0.01, -0.01, 0.03)
CHANGE = Reason(Cause.CHANGE, 0.12, 0.01, 0.23)
LUCK = Reason(Cause.LUCK, -0.126, -0.226, -0.026)
SMALL_STEP = replace(STEP, moved=0.012, named="")
REST = Reason(Cause.REST, 0.022, -0.01, 0.054, gathered=(SMALL_STEP, DAYS))
WITH = replace(ONE, reasons=(LUCK, CHANGE, STEP, PRESSURE, OBSERVER, REST), share=0.666, to_go=12)


def alone(reason):
    """Return a standing that one thing has moved."""
    return replace(ONE, reasons=(reason,), share=ONE.done / ONE.tries + reason.moved)


def test_each_move_is_told_and_they_add_up():
    """The largest first, the rest last, and together they are the move of the heading: 70 to 67."""
    told = reason_sentences(WITH, STEPS)
    assert [sentence.split(": ")[-1] for sentence in told] == [
        "−12 (−23 to −3)", "+12 (1 to 23)", "perhaps −6 (−13 to 1)", "+5 (2 to 8)", "−4 (−9 to −1)",
        "+2 (−1 to 5)",
    ]  # fmt: skip
    assert reason_heading(WITH) == "From 14 of 20, 70 %, to 67 % now:"
    assert whole_moves(WITH) == [-12, 12, -6, 5, -4, 2]


@pytest.mark.parametrize(
    ("reason", "sentence"),
    [
        (
            PRESSURE,
            "under pressure in 14 of 20 tries, mostly in December (all defenders 30 %); "
            "pressure costs defenders about 14 points (4 to 24): +5 (2 to 8)",
        ),
        (
            replace(PRESSURE, month=0, cost=0.01, cost_low=-0.02, cost_high=0.04),
            "under pressure in 14 of 20 tries (all defenders 30 %); "
            "pressure costs defenders about 1 point (−2 to 4): +5 (2 to 8)",
        ),
        (
            Reason(Cause.PRESSURE, -0.04, -0.06, -0.02, "no", 18, 0.7, 0, -0.14, -0.24, -0.04),
            "without pressure in 18 of 20 tries (all defenders 70 %); "
            "that is about 14 points (4 to 24) easier for defenders: −4 (−6 to −2)",
        ),
        (
            Reason(Cause.PRESSURE, -0.04, -0.06, -0.02),
            "by pressure these tries were easier than usual: −4 (−6 to −2)",
        ),
        (
            STEP,
            "3 on 1 in 15 of 20 tries (all defenders 25 %); it is about 12 points (5 to 19) easier "
            "for defenders: perhaps −6 (−13 to 1)",
        ),
        (
            replace(STEP, cost=-0.01, cost_low=-0.03, cost_high=0.01, named="wall_work/chaser"),
            "wall_work/chaser in 15 of 20 tries (all defenders 25 %); "
            "it is about 1 point (−1 to 3) easier for defenders: perhaps −6 (−13 to 1)",
        ),
        (
            Reason(Cause.STEP, 0.06, 0.01, 0.11),
            "by step of the drill these tries were harder than usual: +6 (1 to 11)",
        ),
        (
            OBSERVER,
            "Marit noted 20 of 20 tries (all players 50 %) and is about 6 points (2 to 10) more lenient "
            "than the others who noted the skill: −4 (−9 to −1)",
        ),
        (
            replace(OBSERVER, moved=0.04, low=0.01, high=0.07, cost=0.06, cost_low=0.02, cost_high=0.1),
            "Marit noted 20 of 20 tries (all players 50 %) and is about 6 points (2 to 10) stricter "
            "than the others who noted the skill: +4 (1 to 7)",
        ),
        (
            Reason(Cause.OBSERVER, 0.04, 0.01, 0.07),
            "whoever noted these tries was, taken together, stricter than the others who noted the skill: "
            "+4 (1 to 7)",
        ),
        (
            Reason(Cause.OBSERVER, -0.04, -0.07, -0.01),
            "whoever noted these tries was, taken together, more lenient than the others who noted the "
            "skill: −4 (−7 to −1)",
        ),
        (
            OPPONENT,
            "mostly against 4 in 14 of 20 tries (all defenders 17 %), who holds defenders to about 9 points "
            "(3 to 15) fewer: +6 (2 to 10)",
        ),
        (
            replace(
                OPPONENT,
                moved=-0.06,
                low=-0.1,
                high=-0.02,
                tries=10,
                cost=-0.09,
                cost_low=-0.15,
                cost_high=-0.03,
                month=11,
            ),
            "against 4 in 10 of 20 tries, mostly in November (all defenders 17 %), who lets defenders have "
            "about 9 points (3 to 15) more: −6 (−10 to −2)",
        ),
        (
            Reason(Cause.OPPONENT, 0.06, -0.01, 0.13),
            "those whom they met, taken together, let fewer come off than the others: perhaps +6 (−1 to 13)",
        ),
        (
            Reason(Cause.OPPONENT, -0.06, -0.1, -0.02),
            "those whom they met, taken together, let more come off than the others: −6 (−10 to −2)",
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
            Reason(Cause.CHANGE, -0.12, -0.24, 0.0),
            "since these tries, on average, the share may have gone down: perhaps −12 (−24 to 0)",
        ),
        (
            Reason(Cause.CHANGE, 0.12, 0.0, 0.24),
            "since these tries, on average, the share may have gone up: perhaps +12 (0 to 24)",
        ),
        (
            Reason(Cause.CHANGE, 0.03, 0.001, 0.059),
            "since these tries, on average, the share has gone up: +3 (above 0 to 6)",
        ),
        (
            LUCK,
            "20 tries can come off too well by luck; the team and the player's other skills say more: "
            "−13 (−23 to −3)",
        ),
        (
            Reason(Cause.LUCK, 0.133, -0.01, 0.276),
            "20 tries can fall short by luck; the team and the player's other skills say more: "
            "perhaps +13 (−1 to 28)",
        ),
        (REST, "nothing by itself moved it by 2 points; steps and good and bad days together: +2 (−1 to 5)"),
        (
            replace(REST, gathered=(DAYS,), moved=-0.001, low=-0.002, high=0.0),
            "nothing by itself moved it by 2 points; good and bad days: 0 (0 to 0)",
        ),
    ],
)
def test_the_whole_sentence(reason, sentence):
    """What they met, what that costs their like or spares them, and the move, sure or not, up or down."""
    assert reason_sentences(alone(reason), STEPS) == [sentence]


def test_the_rest_is_named():
    """What moved it by less than two points stands last, with what it is."""
    last = reason_sentences(WITH, STEPS)[-1]
    assert last == "the rest, each less than 2 points: steps and good and bad days together: +2 (−1 to 5)"


def test_all_that_is_in_the_rest_is_named():
    """Each cause by its own word, the last after an and."""
    causes = [one for one in Cause if one is not Cause.REST]
    gathered = tuple(Reason(cause, 0.002, 0.0, 0.004) for cause in causes)
    (last,) = reason_sentences(alone(replace(REST, gathered=gathered)), STEPS)
    assert last == (
        "nothing by itself moved it by 2 points; pressure, steps, observers, opponents, good and bad days, "
        "change since and luck together: +2 (−1 to 5)"
    )


@pytest.mark.parametrize(("share", "points"), [(0.745, [2, 2]), (0.754, [3, 2]), (0.76, [3, 3])])
def test_a_move_stays_in_its_range(share, points):
    """Where the sum asks for a point more or less than a move rounds to, its range takes that in."""
    pair = tuple(Reason(Cause.CHANGE, share / 2 - 0.35 + tip, 0.024, 0.026) for tip in (0.001, -0.001))
    one = replace(ONE, reasons=pair, share=share)
    assert whole_moves(one) == points
    for sentence, move in zip(reason_sentences(one, {}), points, strict=True):
        low, high = re.search(r"\((\d+) to (\d+)\)$", sentence).groups()
        assert int(low) <= move <= int(high)


def test_the_heading_goes_from_the_count_to_the_share():
    """In percent, and a share that is told as nought has no sign."""
    assert reason_heading(WITH) == "From 14 of 20, 70 %, to 67 % now:"
    assert reason_heading(replace(WITH, done=0, share=0.004)) == "From 0 of 20, 0 %, to 0 % now:"


def test_one_try_is_one_try():
    """Also in what luck may do, and in how many more tries are wanted."""
    one = replace(ONE, tries=1, done=1, share=0.874, reasons=(LUCK,))
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


def test_a_plain_count_was_moved_by_nothing():
    """Where the plain count stands there is no sentence."""
    assert (reason_sentences(ONE, {}), reason_heading(ONE)) == ([], "")


def test_the_table_tells_why_only_when_asked():
    """Reasons and tries to go stand below the line of the skill, within a hundred characters."""
    assert "luck" not in as_table([WITH]).split("Done counts")[0]
    assert "as this season's own observers see them" in as_table([WITH], STEPS)
    lines = as_table([WITH], STEPS).splitlines()
    assert lines[4].strip() == "From 14 of 20, 70 %, to 67 % now:"
    assert "about 12 more tries, if it goes on like that, would bring it to 15 points either way" in lines[-7]
    assert max(map(len, lines)) <= 103


def test_json_carries_the_reasons():
    """Other programs get what the words tell: each cause, its move and its doubt, and the rest's parts."""
    (row,) = json.loads(as_json([WITH], STEPS))
    assert [one["cause"] for one in row["reasons"]] == [str(one.cause) for one in WITH.reasons]
    assert [one["points"] for one in row["reasons"]] == whole_moves(WITH)
    pressure, rest = row["reasons"][3], row["reasons"][-1]
    assert (pressure["moved"], pressure["low"], pressure["high"]) == (0.05, 0.02, 0.08)
    assert (pressure["named"], pressure["tries"], pressure["cost_high"]) == ("yes", 14, 0.24)
    assert "gathered" not in pressure
    assert [(one["cause"], one["moved"]) for one in rest["gathered"]] == [("step", 0.012), ("days", 0.01)]
    assert row["to_go"] == 12
    assert "reasons" not in as_json([WITH])
