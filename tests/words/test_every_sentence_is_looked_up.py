"""No sentence of a standing, a team or a plan keeps an English word in another language.

Each is made in a language without words, over random standings and plans: letters that are left were never
looked up. And in French the numbers of a sentence are those of the English one.
"""

import re
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from known_moves import MovesWorld, known_season
from planned_cards import cards
from planned_seasons import drills, known, skills, tallied, team
from random_sheets import KEYS, one_standing
from seasons import season
from wordless import never_looked_up, wordless

from evaltrack.analysis.agreement.agreement import ALL, Agreement, Row
from evaltrack.analysis.planning.planner import plan_of
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.standing import Call, Cause, Coverage, Met, Trend
from evaltrack.analysis.standings.standings import positions_of, standings_of
from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.analysis.standings.targets import Below
from evaltrack.analysis.team.courses import team_courses
from evaltrack.language import Language, speaking, tr
from evaltrack.rink.plan import Asked, Grouping, Remark, Unmet, Wish, WishKind
from evaltrack.rink.player import Player, Position, Status
from evaltrack.words import below, legends, observers, plan_card, planning, reasons, wording
from evaltrack.words import team as of_team
from evaltrack.words.agreement import remarks, skill_words
from evaltrack.words.coverage import known_words, more_words, watched_words
from evaltrack.words.opponents import met_words
from evaltrack.words.plan_remarks import remark_words, unmet_words
from evaltrack.words.plan_wishes import not_kept_words
from evaltrack.words.recency import recency_words

LAST = date(2026, 3, 1)
ROSTER = team("DDDDdDFFFFFFfFFFGG")
NAMES = planning.PlanNames(
    {one.key: "1" for one in skills()}, {(one.key, s.key): ("2", "3") for one in drills() for s in one.steps}
)


class Numbered(dict):
    """Names of steps without a letter."""

    def get(self, key, default=None):
        """Return 9 for whatever step."""
        return "9"


def of_standing(one):
    """Return all that is said of a standing."""
    seen = replace(one, met=(Met("4", 3, 1),))
    return [
        wording.told(one), wording.state_words(one, LAST), wording.call_words(one), wording.level_words(one),
        wording.missing_words(one), wording.chart_words("", one, wording.level_words(one)),
        recency_words(one), reasons.to_go_words(one), reasons.reason_heading(one), met_words(seen),
        *reasons.reason_sentences(one, Numbered()), legends.team_legend([one]), legends.charts_legend([one]),
        legends.skill_legend([one], limited=True), *legends.practice_lines(one.seen, 3),
    ]  # fmt: skip


@given(st.sampled_from(KEYS).flatmap(one_standing), st.none() | st.integers(0, 40))
def test_nothing_of_a_standing_stays_english(one, to_go):
    """Whatever its call, trend and doubt."""
    with wordless():
        assert never_looked_up(of_standing(replace(one, to_go=to_go))) == set()


def renamed(reason):
    """Return a reason whose kind of try has no letter in its name."""
    kept = reason.cause is Cause.PRESSURE or not reason.named
    return reason if kept else replace(reason, named="9")


@settings(max_examples=6, deadline=None)
@given(st.integers(0, 10_000), st.integers(1, 3))
def test_nothing_of_what_moved_a_share_stays_english(seed, many):
    """Each cause by itself, named or not, up or down, sure or not, and all of them together."""
    found = known_season(np.random.default_rng(seed), MovesWorld(9, 2, 7, 14, 3, many, own=0.5))
    for one in standings_of(found.cells(), found.roster, found.catalogue()):
        every = [each for reason in one.reasons for each in (reason.gathered or (reason,))]
        alone = [
            replace(one, reasons=(renamed(each),))
            for each in every
        ]  # fmt: skip
        with wordless():
            assert never_looked_up(text for each in alone for text in of_standing(each)) == set()
            assert never_looked_up([reasons.reason_heading(one)]) == set()


def test_nothing_of_the_team_stays_english():
    """Where it is, where it is heading, what steps and pressure cost, who is at the target."""
    cells, roster, catalogue = season(3)
    wanted = {one.key: (one.target,) for one in catalogue}
    with wordless():
        for one in team_courses(cells, fit_season(cells, positions_of(roster)), roster, wanted):
            for trend in Trend:
                turned = replace(one, trend=trend)
                said = [*of_team.team_lines(turned), *of_team.reached_lines(turned)]
                assert never_looked_up([*said, *of_team.cost_lines(turned, Numbered())]) == set()
        assert never_looked_up(map(of_team.whom_words, catalogue)) == set()


@given(st.integers(0, 12).flatmap(lambda of: st.tuples(*[st.integers(0, of)] * 3, st.just(of))))
def test_nothing_of_who_is_below_a_target_stays_english(numbers):
    """Nobody who can be judged, one player and many."""
    low, about, high, of = (*sorted(numbers[:3]), numbers[3])
    now, then = Below(0.6, of, about, low, high), Below(0.7, of, high, low, high)
    with wordless():
        assert never_looked_up([below.target_words(now, then), below.target_words(now, now)]) == set()


@settings(max_examples=8, deadline=None)
@given(
    here=st.sets(st.sampled_from([p.number for p in ROSTER]), min_size=1),
    minutes=st.integers(10, 90),
    stations=st.integers(1, 6),
    weeks=st.sampled_from([0, 2, 6]),
    grouping=st.sampled_from(Grouping),
)
def test_nothing_of_a_plan_that_was_worked_out_stays_english(here, minutes, stations, weeks, grouping):
    """Its card as it is kept, and its blocks, needs, groups and whom to watch."""
    shares = {"outlet": 0.9, "lane": 0.7, "wall": 0.3, "shot": 0.65, "rebound": 0.9}
    past = known(ROSTER, tallied(ROSTER, shares, weeks, 2) if weeks else (), weeks)
    plan = plan_of(past, Asked(minutes, stations, 2, here=tuple(sorted(here)), grouping=grouping))
    with wordless():
        card = plan_card.card_of(plan, NAMES, ROSTER, LAST)
        said = [
            *card.remarks, *(why for _, why in card.train), *(look.why for look in card.looks),
            *(block.why for block in card.blocks), *(block.pace for block in card.blocks),
            *(planning.why_words(block, plan, NAMES) for block in plan.blocks),
            *of_card(card),
        ]  # fmt: skip
        assert never_looked_up(said, "Player") == set()


def of_card(card):
    """Return what is said of a card beyond the words that are kept in it."""
    every = range(len(card.blocks))
    return [
        plan_card.summary_words(card), *plan_card.rounds_words(card), tr(plan_card.GOES_ON),
        *(plan_card.title_of(block, NAMES) for block in card.blocks if block.part in plan_card.PARTS),
        *(plan_card.place_words(card, at) for at in every),
        *(plan_card.minutes_words(card, at) for at in every),
    ]  # fmt: skip


@given(cards())
def test_nothing_of_a_plan_in_hand_stays_english(card):
    """Whatever a coach made of it by hand."""
    names = dict.fromkeys(card.places, "5")
    kept = [replace(wish, why="") for wish in card.wishes]
    with wordless():
        said = of_card(card) + not_kept_words(replace(card, wishes=tuple(kept)), names)
        assert never_looked_up(said) == set()


def test_no_remark_and_no_wish_stays_english():
    """Of every kind there is."""
    wishes = [Wish(kind, "2", "7") for kind in WishKind]
    with wordless():
        said = [remark_words(remark, 3) for remark in Remark]
        said += [unmet_words(Unmet(wish, against, ("9",))) for wish in wishes for against in ((), (wish,))]
        said += [unmet_words(Unmet(wishes[0], (), ()))]
        assert never_looked_up(said) == set()


@given(
    st.integers(0, 30),
    st.integers(1, 5),
    st.none() | st.integers(0, 90),
    st.none() | st.integers(0, 40),
    st.sampled_from([(0.0, 1.0), (0.2, 0.7)]),
)
def test_nothing_of_coverage_stays_english(tries, practices, days, to_go, ends):
    """Never seen, too few tries, not known well enough, known."""
    days = days if tries else None
    row = Coverage("7", "", "D", "1", tries, practices if tries else 0, days, *ends, to_go)
    with wordless():
        assert never_looked_up([watched_words(row), more_words(row), known_words([row])]) == set()


def test_nothing_of_observers_stays_english():
    """How far two agree, at each answer there is; who is stricter; who is watched too little."""
    rows = [
        Row("1", "2", skill, tries, 9, share, low, high, p, *[0.4] * 6, 9, 8, diff, *ends)
        for skill in (ALL, "3")
        for tries, share, low, high, p in ((1, 1.0, None, None, None), (50, 0.9, 0.85, 0.95, 0.01),
                                           (50, 0.6, 0.5, 0.7, 0.99), (50, 0.79, 0.7, 0.9, 0.5),
                                           (50, 0.82, 0.7, 0.9, 0.4))
        for diff, ends in ((-0.2, (-0.3, -0.1)), (0.01, (-0.1, 0.1)))
    ]  # fmt: skip
    strict = [StrictObserver("1", others, 9, 0.8, 0.4, 1.2, p, ()) for others in (("2",), ("2", "3"))
              for p in (0.95, 0.999)]  # fmt: skip
    with wordless():
        said = [text for row in rows for text in remarks(Agreement(("1", "2"), (), (row,)))]
        said += [skill_words(row) for row in rows if row.skill != ALL] + [
            observers.strict_words(one) for one in strict
        ]
        said += [text for seen in ((), ("1",), ("1", "2")) for text in remarks(Agreement(seen, (), ()))]
        assert never_looked_up(said) == set()


def test_the_check_finds_a_word_that_is_not_looked_up():
    """One glued to a sentence, and one filled in as a value."""
    with wordless():
        said = [f"{tr('now')} and then", tr("on {day}", day="Monday"), wording.long_date(LAST)]
    assert never_looked_up(said) == {"and", "then", "Monday"}


def numbers_in(say, tongue):
    """Return the numbers of each sentence that is said in a language, smallest first."""
    with speaking(tongue):
        said = list(say())
    found = [re.findall(r"\d+(?:[.,]\d+)?", text) for text in said]
    return [sorted(float(number.replace(",", ".")) for number in one) for one in found]


def assert_same_numbers(say):
    """No count, share, bound or day is lost, added or changed on the way to French."""
    assert numbers_in(say, Language.ENGLISH) == numbers_in(say, Language.FRENCH_CANADA)


@given(st.sampled_from(KEYS).flatmap(one_standing), st.none() | st.integers(0, 40))
def test_the_numbers_of_a_standing_are_the_same_in_french(one, to_go):
    """Counts, tenths and their bounds: no more and no fewer."""
    known_to = replace(one, to_go=to_go)
    assert_same_numbers(lambda: of_standing(known_to))


@settings(max_examples=3, deadline=None)
@given(st.integers(0, 10_000), st.integers(1, 3))
def test_the_numbers_of_what_moved_a_share_are_the_same_in_french(seed, many):
    """Tries, usual shares, what a kind of try costs, the move, and the interval of each."""
    found = known_season(np.random.default_rng(seed), MovesWorld(9, 2, 7, 14, 3, many, own=0.5))
    for one in standings_of(found.cells(), found.roster, found.catalogue()):
        assert_same_numbers(lambda one=one: [reasons.reason_heading(one), *reasons.reason_sentences(one, {})])


def test_the_numbers_of_team_and_plan_are_the_same_in_french():
    """Shares, changes, costs and targets of the team; needs, forecasts, tries and groups of a plan."""
    cells, roster, catalogue = season(3)
    wanted = {one.key: (one.target,) for one in catalogue}
    for one in team_courses(cells, fit_season(cells, positions_of(roster)), roster, wanted):
        assert_same_numbers(lambda one=one: [*of_team.team_lines(one), *of_team.reached_lines(one)])
        assert_same_numbers(lambda one=one: of_team.cost_lines(one, {}))
    shares = {"outlet": 0.9, "lane": 0.7, "wall": 0.3, "shot": 0.65, "rebound": 0.9}
    plan = plan_of(known(ROSTER, tallied(ROSTER, shares, 6, 2), 6), Asked())
    assert_same_numbers(lambda: [planning.why_words(block, plan, NAMES) for block in plan.blocks])
    assert_same_numbers(lambda: [planning.need_words(need, NAMES) for need in plan.needs])
    looks = [look for watch in plan.watch for look in watch.looks]
    assert_same_numbers(lambda: [planning.groups_words(plan), *map(planning.look_words, looks)])


@pytest.mark.parametrize("word", [*Call, *Trend, Status.LIMITED, Status.AWAY, Status.LEFT])
def test_each_call_trend_and_status_has_its_french(word):
    """They are looked up by what the file calls them."""
    with speaking(Language.FRENCH_CANADA):
        assert tr(word) != word


def test_players_and_positions_are_looked_up():
    """One position and two, and the groups of a table."""
    both = Player("7", "1", Position.DEFENCE, also=Position.FORWARD)
    with wordless():
        said = [both.position_words, *map(wording.group_word, Position), *(one.plural for one in Position)]
        assert never_looked_up(said) == set()
    with speaking(Language.FRENCH_CANADA):
        assert both.position_words == "défenseur et attaquant"
