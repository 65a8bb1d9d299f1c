"""What a page leads with and works on: own skills, enough tries, few of them."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from lantern_pages import standing

from evaltrack.analysis.standings.standing import Call, Trend
from evaltrack.paper.note.choice import choose

_KEYS = ["outlet_pass", "gap_at_line", "gap_up", "support_distance", "escape_turn", "stop", "start"]


def _made(key, tries=30, share=0.5, **other):
    half = tries // 2
    return standing(
        key, [(half, 0), (tries - half, 0)], share=share, low=share - 0.1, high=share + 0.1, **other
    )


def _with_shares(*shares, **other):
    return [_made(_KEYS[i], share=share, **other) for i, share in enumerate(shares)]


@st.composite
def own_standings(draw):
    """Draw one player's standings, of every call, trend and number of tries."""
    made = []
    for key in draw(st.lists(st.sampled_from(_KEYS), unique=True)):
        call, trend = draw(st.sampled_from(Call)), draw(st.sampled_from(Trend))
        doubt = draw(st.sampled_from([None, None, "The fit did not settle."]))
        tries, share = draw(st.integers(2, 60)), draw(st.floats(0.1, 0.9))
        made.append(_made(key, tries, share, call=call, trend=trend, doubt=doubt))
    return made


@given(own_standings())
def test_the_choice_is_short_firm_and_never_says_two_things_of_one_skill(standings):
    """At most three strengths and two next skills, each from an estimate that stands."""
    choice = choose(standings)
    strengths = choice.solid + choice.rising + choice.relative
    chosen = strengths + choice.next_skills
    assert len(strengths) <= 3
    assert len(choice.next_skills) <= 2
    assert len({s.skill for s in chosen}) == len(chosen)
    assert all(s.call is not Call.TOO_FEW and s.doubt is None for s in chosen)


@given(own_standings())
def test_calls_are_taken_at_their_word(standings):
    """What is said to be solid, going up or called is so; the child's own order is used only without them."""
    choice = choose(standings)
    assert all(s.call is Call.SOLID for s in choice.solid)
    assert all(s.trend is Trend.UP for s in choice.rising)
    assert all(s.call is Call.WORK_ON for s in choice.called)
    assert all(s.call is Call.IN_BETWEEN for s in choice.rising + choice.relative + choice.lowest)
    assert not (choice.relative and (choice.solid or choice.rising))
    assert not (choice.lowest and choice.called)


def test_solid_skills_lead_the_highest_first():
    """Three of four solid skills, in the order of what is sure of them."""
    made = _with_shares(0.7, 0.8, 0.75, 0.85, call=Call.SOLID)
    assert [s.skill for s in choose(made).solid] == ["support_distance", "gap_at_line", "gap_up"]


def test_the_most_needed_calls_come_first_and_are_two():
    """Three calls to work on: the two that lie lowest."""
    made = _with_shares(0.4, 0.2, 0.3, call=Call.WORK_ON)
    assert [s.skill for s in choose(made).next_skills] == ["gap_at_line", "gap_up"]


def test_a_skill_that_rises_is_a_strength_before_it_is_solid():
    """Better than one's own past is worth leading with."""
    made = [_made("stop", share=0.5, call=Call.IN_BETWEEN, trend=Trend.UP), _made("start", share=0.6)]
    assert [s.skill for s in choose(made).rising] == ["stop"]


def test_without_calls_the_own_highest_lead_and_the_own_lowest_follow():
    """A child with nothing solid still has strengths, and they are not also the things to work on."""
    made = _with_shares(0.5, 0.62, 0.4, 0.55)
    choice = choose(made)
    assert [s.skill for s in choice.relative] == ["gap_at_line", "support_distance"]
    assert [s.skill for s in choice.lowest] == ["gap_up", "outlet_pass"]


def test_a_single_skill_is_a_strength_only_at_the_target():
    """With nothing of the child's own beside it, it is neither praised nor corrected below that."""
    assert choose([_made("stop", share=0.64)]).relative
    low = choose([_made("stop", share=0.4)])
    assert low.next_skills == low.relative == ()


def test_too_few_tries_are_not_enough():
    """Neither strength nor step is taken from what is too few to say on a screen, however clear it looks."""
    few = {"tries": 11, "call": Call.TOO_FEW}
    assert choose([_made("stop", share=0.9, **few), _made("start", share=0.1, **few)]) == choose([])


def test_a_third_skill_to_work_on_is_not_praised_for_lack_of_a_better_one():
    """Of three calls the page has room for two; the third is passed over in silence."""
    choice = choose([*_with_shares(0.2, 0.3, 0.4, call=Call.WORK_ON), _made("start", share=0.35)])
    assert [s.share for s in choice.called] == [0.2, 0.3]
    assert [s.skill for s in choice.relative] == ["start"]
    assert choose(_with_shares(0.2, 0.3, 0.4, call=Call.WORK_ON)).relative == ()


def test_a_fourth_solid_skill_is_no_next_step():
    """Of four solid skills the page has room for three; the fourth is passed over in silence."""
    choice = choose(_with_shares(0.7, 0.8, 0.75, 0.85, call=Call.SOLID))
    assert choice.next_skills == ()


def test_rising_skills_fill_up_what_solid_ones_leave():
    """Two solid and one of two rising ones make three strengths; with one solid both rising ones fit."""
    solid = [_made("stop", share=0.8, call=Call.SOLID), _made("start", share=0.7, call=Call.SOLID)]
    rising = [
        _made(key, share=share, call=Call.IN_BETWEEN, trend=Trend.UP)
        for key, share in (("gap_up", 0.5), ("outlet_pass", 0.55))
    ]
    choice = choose([*solid, *rising])
    assert [s.skill for s in choice.solid + choice.rising] == ["stop", "start", "outlet_pass"]
    choice = choose([solid[0], *rising])
    assert [s.skill for s in choice.solid + choice.rising] == ["stop", "outlet_pass", "gap_up"]


def test_what_rises_but_is_solid_or_to_be_worked_on_is_said_once():
    """A rising skill with a call of its own goes by the call."""
    made = [
        _made("stop", share=0.8, call=Call.SOLID, trend=Trend.UP),
        _made("start", share=0.3, call=Call.WORK_ON, trend=Trend.UP),
        _made("gap_up", share=0.5, call=Call.IN_BETWEEN, trend=Trend.DOWN),
    ]
    choice = choose(made)
    assert [[s.skill for s in part] for part in (choice.solid, choice.rising, choice.called)] == [
        ["stop"], [], ["start"]
    ]  # fmt: skip


def test_of_equally_sure_ones_the_higher_or_the_lower_share_leads():
    """Bounds alike, the share itself decides: the higher first among strengths, the lower among steps."""
    pairs = [("stop", 0.7), ("start", 0.72)]
    solid = [replace(_made(key, call=Call.SOLID), share=share, low=0.6) for key, share in pairs]
    assert [s.skill for s in choose(solid).solid] == ["start", "stop"]
    called = [replace(_made(key, call=Call.WORK_ON), share=1 - share, high=0.4) for key, share in pairs]
    assert [s.skill for s in choose(called).called] == ["start", "stop"]
    surer = [replace(solid[0], low=0.65), replace(solid[1], low=0.6)]
    assert [s.skill for s in choose(surer).solid] == ["stop", "start"]
    needier = [replace(called[0], high=0.35), replace(called[1], high=0.4)]
    assert [s.skill for s in choose(needier).called] == ["stop", "start"]


def test_ten_tries_and_the_target_itself_are_enough():
    """A single skill of 10 tries that is just what the coach asks for is a strength."""
    one = _made("stop", tries=10, share=0.6)
    assert one.target == 0.6
    assert choose([one]).relative == (one,)


def test_of_many_own_skills_three_lead_and_two_follow():
    """Six skills without a call: the upper three and the lowest two. Of three only one leads."""
    choice = choose(_with_shares(0.4, 0.45, 0.5, 0.55, 0.6, 0.65))
    assert [s.share for s in choice.relative] == [0.65, 0.6, 0.55]
    assert [s.share for s in choice.next_skills] == [0.4, 0.45]
    assert [s.share for s in choose(_with_shares(0.4, 0.45, 0.5)).relative] == [0.5]


def test_a_call_is_never_also_the_childs_own_highest():
    """What is to be worked on leads nowhere, though the coach's higher target left it the highest share."""
    called = _made("stop", share=0.7, call=Call.WORK_ON)
    choice = choose([called, *_with_shares(0.5, 0.4)])
    assert [s.share for s in choice.relative] == [0.5]
    assert (choice.called, choice.lowest) == ((called,), ())
    assert choose([called]).relative == ()


def test_what_leads_is_not_also_the_lowest():
    """Of two skills without a call one leads, and only the other one follows."""
    choice = choose(_with_shares(0.4, 0.5))
    assert ([s.share for s in choice.relative], [s.share for s in choice.lowest]) == ([0.5], [0.4])
    solid = choose([_made("stop", share=0.8, call=Call.SOLID)])
    assert (solid.relative, solid.lowest) == ((), ())
