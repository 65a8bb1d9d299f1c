"""What a coach reads of a plan claims no more than is known."""

from dataclasses import replace

import pytest

from evaltrack.rink.plan import (
    Asked,
    Basis,
    Block,
    Forecast,
    Grouping,
    Likely,
    Look,
    Need,
    Pace,
    Part,
    Plan,
    Remark,
    Tries,
    Unmet,
    Wish,
    WishKind,
)
from evaltrack.rink.practice import Surface
from evaltrack.words.plan_remarks import remark_words, unmet_words
from evaltrack.words.planning import (
    CLAIM,
    PlanNames,
    forecast_words,
    groups_words,
    look_words,
    named_words,
    need_words,
    pace_words,
    steps_words,
    why_words,
)

NAMES = PlanNames(
    {"wall": "Wall puck"}, {("w", "calm"): ("Wall work", "Free"), ("w", "hard"): ("Wall work", "Hard")}
)
NEED = Need(
    "wall", 10, 9, Likely(5.8, 3, 8), Likely(8.5, 4.3, 13.5), 0.98, 3, 66, 970, 4, ("0", "3", "17"), 1
)
FORECAST = Forecast("wall", "w", "calm", Likely(0.64, 0.52, 0.75), 0.6, 63)
PACE = Pace(3.0, Basis.REPS, 40)
BLOCK = Block(
    Part.STATION,
    7,
    "w",
    "calm",
    ("wall",),
    NEED,
    FORECAST,
    PACE,
    (Tries("0", "wall", 6.4), Tries("3", "wall", 8.8)),
)
PLAN = Plan(Asked(), (BLOCK,), (), (("w", "calm"),), (NEED,))
LOOK = Look("4", "wall", 15, 4, 3, 0.6, 0.3, 1)


def test_a_need_is_one_sentence_with_its_intervals():
    """And names nobody; whom the calls name stands apart."""
    assert need_words(NEED, NAMES) == (
        "Wall puck: about 6 of the 9 players here who can be judged are below the target "
        "(very likely 3 to 8); "
        "the 10 players with a try in it are 8 points short of it on average (4 to 14); "
        "66 of the 970 tallies of the last 4 practices were in it."
    )
    assert named_words(NEED) == "work on with 0, 3 and 17; 1 not seen in it yet"
    one = replace(NEED, players=1, judged=0, below=Likely(0, 0, 0), short=Likely(1.2, 0.2, 3))
    assert need_words(one, NAMES).startswith(
        "Wall puck: nobody here can be judged in it yet; "
        "the one player with a try in it is 1 point short of it on average (0 to 3); "
    )
    assert "not tallied lately" in need_words(replace(NEED, practices=0), NAMES)


def test_a_block_says_why_in_which_step_and_how_many_tries():
    """In this order; the need is left out where it is told elsewhere."""
    said = why_words(BLOCK, PLAN, NAMES)
    assert said.startswith(need_words(NEED, NAMES))
    assert "about 6.4 times in 10 (5 to 8) in this step: within the 6 to 8 in 10 that were asked for." in said
    assert said.endswith(
        "About 6 to 9 tries each in Wall puck, at 3 reps a minute as this team made them (40 reps counted)."
    )
    assert why_words(BLOCK, replace(PLAN, needs=()), NAMES).startswith("None of its skills stands out")
    assert why_words(BLOCK, PLAN, NAMES, {"wall"}).startswith("Wall puck is predicted")
    unknown = replace(BLOCK, forecast=None, tries=())
    assert why_words(unknown, PLAN, NAMES, {"wall"}) == "For Wall puck."


def test_a_block_without_tries_or_pace_promises_none():
    """Nothing is told of how many tries there will be."""
    for block in (replace(BLOCK, tries=()), replace(BLOCK, pace=None)):
        assert "tries each" not in why_words(block, PLAN, NAMES)


def test_groups_at_their_own_station_came_round_or_stay():
    """Once more where they began after going round; else they never left."""
    own = Block(Part.OWN, 7)
    assert why_words(own, replace(PLAN, blocks=(BLOCK, own)), NAMES) == (
        "Each group is once more at the station where it began."
    )
    assert why_words(own, replace(PLAN, blocks=(own,)), NAMES) == "Each group stays at its station."


def test_a_step_that_is_too_large_for_the_ice_says_so():
    """And no other one does."""
    for surface, asked, said in (("full", "half", "full ice"), ("half", "cross", "half ice")):
        large = replace(BLOCK, surface=Surface(surface))
        plan = replace(PLAN, asked=replace(PLAN.asked, surface=Surface(asked)))
        assert why_words(large, plan, NAMES).endswith(f"It is drawn on {said}: make it smaller.")
        assert "make it smaller" not in why_words(replace(large, surface=Surface.CROSS), plan, NAMES)


@pytest.mark.parametrize(
    ("share", "where"), [(0.55, "below"), (0.598, "within"), (0.7, "within"), (0.85, "above")]
)
def test_where_a_share_lies_is_said_as_it_is_told(share, where):
    """What is told as 6 in 10 is within 6 to 8."""
    said = forecast_words(replace(FORECAST, share=Likely(share, share - 0.1, share + 0.1)), (0.6, 0.8), NAMES)
    assert f": {where} the 6 to 8 in 10" in said


def test_a_step_that_was_never_tried_says_so():
    """It is a guess."""
    assert "never tallied, so that is a guess" in forecast_words(
        replace(FORECAST, tries=0), (0.6, 0.8), NAMES
    )


def test_every_step_of_a_need_is_told():
    """So that the coach can choose another."""
    hard = replace(FORECAST, step="hard", share=Likely(0.45, 0.2, 0.7), tries=0)
    said = steps_words([FORECAST, hard], NAMES)
    assert (
        said == "predicted of 10: Wall work, Free: 6.4; Wall work, Hard: 4.5 (never tallied there, a guess)"
    )
    assert steps_words([], NAMES) == ""


def test_a_pace_says_what_it_was_counted_from():
    """Reps, tallies, or nothing of this team."""
    assert "or more, by the times of 195 tallies" in pace_words(Pace(6.59, Basis.TALLIES, 195))
    usual = "2 reps a minute, a common default: how many this team makes is not known"
    assert pace_words(Pace(2.0, Basis.USUAL)) == usual


@pytest.mark.parametrize(
    ("look", "said"),
    [
        (replace(LOOK, tries=0), "never seen in it"),
        (replace(LOOK, tries=6, practices=1), "6 tries at 1 practice: too few for a call"),
        (LOOK, "15 tries at 4 practices, no call yet: the next practice may settle it"),
        (
            replace(LOOK, visits=2, days_since=28),
            "no call yet: the next 2 practices may settle it; last seen 28 days",
        ),
        (replace(LOOK, now=0.85), "a call to make surer"),
        (replace(LOOK, now=0.8), "a call to make surer"),
        (replace(LOOK, now=0.79), "no call yet"),
        (replace(LOOK, visits=0), "15 tries at 4 practices"),
        (
            replace(LOOK, visits=0, days_since=28),
            "15 tries at 4 practices; last seen 28 days before the last practice",
        ),
    ],
)
def test_why_somebody_is_to_be_watched(look, said):
    """Counts first, then what is open."""
    assert said in look_words(look)


def test_an_unmet_wish_is_told_with_what_it_does_not_go_with():
    """Wishes, contact, or the sizes alone."""
    wish, other = Wish(WishKind.TOGETHER, "2", "7"), Wish(WishKind.NOT_AGAIN, "2", "7")
    assert unmet_words(Unmet(wish, (other,), ("11",))) == (
        "Not met: 2 and 7 together; it does not go with: 2 and 7 not together again; no contact for 11."
    )
    assert "the sizes of the groups" in unmet_words(Unmet(wish))


def test_players_who_take_no_contact_are_told_where_they_go():
    """To a station without contact, or out of it."""
    hard = replace(BLOCK, step="hard", contact=True, stand_aside=("11",))
    calm = replace(PLAN, blocks=(BLOCK, hard))
    assert "11 takes no contact: meanwhile at Wall work, Free." in why_words(hard, calm, NAMES)
    alone = replace(PLAN, blocks=(hard,))
    assert "11 takes no contact and stays out of it." in why_words(hard, alone, NAMES)


def test_whether_groups_are_the_best_is_said():
    """Proven, or by how much they may be off."""
    assert "none are better" in groups_words(PLAN)
    assert "may still be 0.25 from the best" in groups_words(replace(PLAN, optimal=False, gap=0.25))


def test_every_remark_and_kind_has_words():
    """None is left without a sentence."""
    assert all(remark_words(remark, 2).endswith(".") for remark in Remark)
    for part in (Part.WARM_UP, Part.BOARD, Part.CHANGEOVER, Part.OWN):
        assert why_words(Block(part, 5), PLAN, NAMES).endswith(".")
    for grouping in Grouping:
        assert groups_words(replace(PLAN, asked=Asked(grouping=grouping)))


def test_nothing_claims_that_players_learn_most():
    """The one sentence about learning says that it is not claimed."""
    every = [why_words(BLOCK, PLAN, NAMES), *(remark_words(one, 1) for one in Remark), look_words(LOOK)]
    assert not any(word in said.lower() for said in every for word in ("learn", "optimal", "best for"))
    assert "does not say" in CLAIM
