"""Whole plans: whatever is known and asked for, everything adds up, and what is odd is said."""

from collections import Counter
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from planned_seasons import SKILLS, assert_adds_up, known, tallied, team

from evaltrack.analysis.planning.planner import plan_of
from evaltrack.errors import EvaltrackError
from evaltrack.rink.plan import Asked, Grouping, Part, Remark, Wish, WishKind
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Surface

ROSTER = team("DDDDdDFFFFFFfFFFGG")
SHARES = {"outlet": 0.9, "lane": 0.7, "wall": 0.3, "shot": 0.65, "rebound": 0.9}


@pytest.fixture(scope="module")
def season():
    """Give a season in which the wall puck is what is weak."""
    return known(ROSTER, tallied(ROSTER, SHARES), 8)


@pytest.fixture(scope="module")
def plan(season):
    """Give the plan of an hour."""
    return plan_of(season, Asked())


@settings(max_examples=25, deadline=None)
@given(
    here=st.sets(st.sampled_from([p.number for p in ROSTER]), min_size=1),
    minutes=st.integers(10, 120),
    stations=st.integers(1, 8),
    coaches=st.integers(0, 5),
    grouping=st.sampled_from(Grouping),
)
def test_every_plan_adds_up(season, here, minutes, stations, coaches, grouping):
    """For anybody who may be here, any ice time, stations and coaches."""
    here = tuple(sorted(here))
    asked = Asked(minutes, stations, coaches, here=here, grouping=grouping)
    assert_adds_up(plan_of(season, asked), here)


def test_what_is_weak_gets_a_station_in_the_step_that_fits(plan):
    """The wall puck comes first, with its reason; the rough step has contact, both need their wall slot."""
    assert [need.skill for need in plan.needs] == ["wall"]
    reasons = [block.need.skill for block in plan.blocks if block.need]
    assert set(reasons[:2]) == {"wall"}
    first = next(block for block in plan.blocks if block.need)
    assert first.forecast.skill == "wall"
    assert (first.forecast.drill, first.forecast.step) == (first.drill, first.step)
    fits = [one.fits for one in plan.forecasts]
    assert fits == sorted(fits, reverse=True)
    assert {one.skill for one in plan.forecasts} == {"wall"}


def test_limited_players_begin_where_there_is_no_contact(plan):
    """And stand aside from whatever has some."""
    assert plan.limited == ("5", "13")
    for group in plan.groups:
        block = next(b for b in plan.blocks if (b.drill, b.step) == plan.starts[group.station])
        assert not (block.contact and {*plan.limited} & {*group.players})
    assert all(set(b.stand_aside) == {"5", "13"} for b in plan.blocks if b.contact)


def test_tries_are_the_paces_turns(plan, season):
    """By hand: minutes, times reps a minute, times the slots that show it, among the players of the group."""
    block = next(b for b in plan.blocks if b.part is Part.STATION and "wall" in b.skills)
    step = next(d for d in season.drills if d.key == block.drill).step(block.step)
    own = [slot for slot in step.slots if slot.position == "F"]
    showing = sum("wall" in slot.skills for slot in own)
    for group in plan.groups:
        here = [n for n in group.players if ROSTER[int(n) - 1].position == "F" and n not in block.stand_aside]
        turns = min(block.pace.reps * len(own) / max(len(here), len(own)), 2.0)
        for number in here:
            (tries,) = [t.tries for t in block.tries if (t.player, t.skill) == (number, "wall")]
            assert tries == pytest.approx(block.minutes * turns * showing / len(own))


def test_without_any_tally_the_plan_is_one_of_easy_steps():
    """Of different drills; nothing is proposed, and everybody is to be looked at."""
    found = plan_of(known(ROSTER), Asked())
    assert_adds_up(found, [p.number for p in ROSTER])
    assert (Remark.NOTHING_TALLIED, 0) in found.remarks
    assert found.needs == ()
    assert len({drill for drill, _ in found.starts}) == 3
    assert {step for _, step in found.starts} <= {"two", "calm", "still", "easy"}
    looks = [look for watch in found.watch for look in watch.looks]
    assert {look.tries for look in looks} == {0}
    assert max(Counter(look.player for look in looks).values()) <= 2  # as far as positions allow, in turn


def test_where_nothing_is_wrong_that_is_said():
    """No need is named, and the plan is still one."""
    season = known(ROSTER, tallied(ROSTER, dict.fromkeys(SKILLS, 0.93)), 8)
    found = plan_of(season, Asked())
    assert found.needs == ()
    assert (Remark.NOTHING_STANDS_OUT, 0) in found.remarks


@pytest.mark.parametrize(
    ("lineup", "remarks"),
    [
        ("DDDFFFFFFG", {Remark.ONE_GOALIE}),
        ("FFFFFFFFGG", {Remark.NO_DEFENDER}),
        ("DDDDDDGG", {Remark.NO_FORWARD}),
        ("DDDDFFFFFF", {Remark.NO_GOALIE}),
        ("GG", {Remark.NO_SKATER, Remark.FEWER_STATIONS}),
        ("F", {Remark.NO_DEFENDER, Remark.NO_GOALIE, Remark.FEWER_STATIONS}),
    ],
)
def test_what_a_lineup_lacks_is_said(lineup, remarks):
    """And the plan is a plan all the same."""
    players = team(lineup)
    found = plan_of(known(players), Asked())
    assert_adds_up(found, [p.number for p in players])
    assert {remark for remark, _ in found.remarks} == remarks | {Remark.NOTHING_TALLIED}


def on_ice(season, surface: Surface, *drills: str):
    """Return a season with the steps of these drills planned on a surface, all the others as they are."""
    return replace(
        season,
        drills=[
            replace(one, steps=tuple(replace(s, surface=surface) for s in one.steps))
            if one.key in drills
            else one
            for one in season.drills
        ],
    )


def stations_of(season, **asked):
    """Return the drills of the stations, and the remarks on the ice."""
    found = plan_of(season, Asked(**asked))
    ice = {Remark.LARGER_STEPS, Remark.CROWDED_ICE}
    return {drill for drill, _ in found.starts}, {one: n for one, n in found.remarks if one in ice}


@pytest.mark.parametrize("surface", Surface)
@pytest.mark.parametrize("stations", [1, 2, 3])
def test_stations_fit_on_the_ice_where_there_are_steps_that_do(season, surface, stations):
    """A step on the whole ice is no station beside others, two on half of it leave no room for a third."""
    whole = on_ice(season, Surface.FULL, "laps")
    drills, said = stations_of(whole, stations=stations, surface=surface)
    if stations > 1 or surface is not Surface.FULL:
        assert "laps" not in drills
    if surface is Surface.CROSS:
        assert "rush" not in drills
    assert said == ({Remark.CROWDED_ICE: 0} if (surface, stations) == (Surface.CROSS, 3) else {})


def test_what_is_needed_is_served_although_its_steps_are_too_large(season):
    """The wall puck is in two drills: the smaller one of them, and that is said."""
    drills, said = stations_of(on_ice(season, Surface.FULL, "corner"), surface=Surface.HALF)
    assert "corner" not in drills
    assert "rush" in drills
    assert said == {Remark.CROWDED_ICE: 0}
    drills, said = stations_of(on_ice(season, Surface.FULL, "corner"), surface=Surface.CROSS)
    assert said[Remark.LARGER_STEPS] >= 1


def test_ice_that_is_too_small_is_said(season):
    """Steps that are larger than what there is are counted; else that all stations together are."""
    every = [drill.key for drill in season.drills]
    assert stations_of(on_ice(season, Surface.HALF, *every))[1] == {Remark.CROWDED_ICE: 0}
    larger = stations_of(on_ice(season, Surface.FULL, *every), surface=Surface.HALF)[1]
    assert larger == {Remark.LARGER_STEPS: 4}
    assert stations_of(on_ice(season, Surface.HALF, *every), stations=2)[1] == {}


def test_many_limited_players_leave_room_for_few_stations_with_contact():
    """All of them: no contact anywhere; a third: two of three stations at most, without any of them."""
    for lineup, most in (("ddffffffg", 0), ("DDfffFFFF", 2)):
        players = team(lineup)
        found = plan_of(known(players, tallied(players, SHARES), 8), Asked())
        stations = [block for block in found.blocks if block.part is Part.STATION]
        assert sum(block.contact for block in stations) <= most
        for group, block in zip(found.groups, stations, strict=True):
            assert not (block.contact and {*found.limited} & {*group.players})


def test_a_step_says_itself_whether_it_has_contact(season):
    """Whatever its slots meet; who takes none needs something apart where all of them have some."""
    for contact in (True, False):
        said = replace(
            season,
            drills=[
                replace(one, steps=tuple(replace(s, contact=contact) for s in one.steps))
                for one in season.drills
            ],
        )
        found = plan_of(said, Asked())
        assert {block.contact for block in found.blocks if block.drill} == {contact}
        assert ((Remark.CONTACT_EVERYWHERE, 0) in found.remarks) == contact


def test_a_station_without_a_coach_is_one_without_contact(season):
    """As long as there are such steps; no coach at all leaves none with contact."""
    for coaches in (0, 1, 2):
        found = plan_of(season, Asked(coaches=coaches, stations=3))
        alone = [b for b in found.blocks if b.part is Part.STATION and not b.coached]
        assert len(alone) == 3 - coaches
        assert not any(block.contact for block in alone)


def test_stations_of_one_drill_only_where_there_are_no_others(season):
    """Three stations, four drills: three different ones. Eight stations: every step, and that is all."""
    assert len({drill for drill, _ in plan_of(season, Asked()).starts}) == 3
    many = plan_of(season, Asked(stations=9, minutes=90))
    assert len(set(many.starts)) == 8
    assert (Remark.FEWER_STEPS, 8) in many.remarks


def test_alike_groups_begin_with_the_easiest_step():
    """Where nothing is known the first steps of the drills stand before the later ones."""
    season = known(ROSTER)
    found = plan_of(season, Asked(grouping=Grouping.ALIKE, stations=6))
    places = {(d.key, s.key): place for d in season.drills for place, s in enumerate(d.steps)}
    order = [places[start] for start in found.starts]
    assert order == sorted(order)
    assert set(order) == {0, 1}


def test_an_unmet_wish_is_in_the_plan(season):
    """Two who shall be together and apart."""
    wishes = (Wish(WishKind.TOGETHER, "1", "2"), Wish(WishKind.APART, "1", "2"))
    found = plan_of(season, Asked(wishes=wishes))
    (unmet,) = found.unmet
    assert {unmet.wish, *unmet.against} == set(wishes)


def test_more_limited_players_than_calm_places():
    """All of them take no contact: there is a plan, and who is at a contact station stands aside."""
    players = team("ddddffffff")
    found = plan_of(known(players), Asked(stations=3))
    assert_adds_up(found, [p.number for p in players])
    assert not any(block.contact for block in found.blocks if block.part is Part.STATION) or all(
        set(block.stand_aside) == set(found.limited) for block in found.blocks if block.contact
    )


def test_what_is_held_stays_when_the_rest_is_worked_out_anew(season, plan):
    """Two players at the last station, a limited one among them, and a step that nothing asked for."""
    asked = Asked(held_players=(("1", 2), ("5", 2)), held_steps=((0, "laps", "hard"), (3, "laps", "easy")))
    found = plan_of(season, asked)
    assert {"1", "5"} <= set(found.groups[2].players)
    assert found.starts[0] == ("laps", "hard")
    assert (found.blocks[-1].drill, found.blocks[-1].step) == ("laps", "easy")
    assert_adds_up(found, [p.number for p in ROSTER])
    again = plan_of(season, Asked(held_steps=((0, *plan.starts[0]), (9, "no", "such"))))
    assert set(again.starts) == set(plan.starts)


def test_another_surface_is_said(season):
    """All tallies were on full ice."""
    assert (Remark.OTHER_SURFACE, 0) in plan_of(season, Asked(surface=Surface.CROSS)).remarks


def test_the_same_season_gives_the_same_plan(season, plan):
    """Nothing in it is drawn anew."""
    again = plan_of(replace(season), Asked())
    assert again.groups == plan.groups
    assert [need.below for need in again.needs] == [need.below for need in plan.needs]


@pytest.mark.parametrize(
    ("here", "said"),
    [
        (("1", "98"), "number 98 is not on the roster"),
        (("97", "98", "99"), "numbers 97, 98 and 99 are not on the roster"),
        ((), "nobody is here"),
    ],
)
def test_who_is_not_on_the_roster_is_refused(season, here, said):
    """In a sentence."""
    with pytest.raises(EvaltrackError, match=said):
        plan_of(season, Asked(here=here))


def test_without_a_step_there_is_no_plan(season):
    """It says where drills come from."""
    with pytest.raises(EvaltrackError, match="evaltrack catalogue"):
        plan_of(replace(season, drills=[]), Asked())


def test_observers_are_sent_to_those_who_can_be_settled(plan):
    """No look at the first players of a block is worth less than the looks after it."""
    for watch in plan.watch:
        worth = [look.worth for look in watch.looks]
        assert worth == sorted(worth, reverse=True)
        assert watch.skill in plan.blocks[watch.block].skills
    assert np.mean([look.worth for w in plan.watch for look in w.looks]) > 0


def test_who_plays_both_counts_where_they_are_needed():
    """Forwards who defend too are the defenders that would lack; each gets tries in one line of a block."""
    players = team("FFFFFFFFGG")
    players = [replace(one, also=Position.DEFENCE) if one.number in "123" else one for one in players]
    found = plan_of(known(players), Asked())
    assert_adds_up(found, [p.number for p in players])
    assert Remark.NO_DEFENDER not in {remark for remark, _ in found.remarks}
    in_line = [
        ((block.minutes, number), {SKILLS[one.skill] for one in block.tries if one.player == number})
        for block in found.blocks
        for number in "123"
    ]
    assert all(len(positions) <= 1 for _, positions in in_line)
    assert {position for _, positions in in_line for position in positions} >= {Position.DEFENCE}
    held = {
        one.player for block in found.blocks for one in block.tries if SKILLS[one.skill] is Position.DEFENCE
    }
    assert held <= {"1", "2", "3"}
