"""Whom a player met is allowed for where it is known, and nowhere else.

Random seasons, in which some tries are against one of a few opponents, and some against nobody known.
"""

from dataclasses import replace
from uuid import UUID

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from season_by_hand import World
from seasons import assert_sound, cell, player, skill

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.coverage import coverage_of
from evaltrack.analysis.standings.standing import Met
from evaltrack.analysis.standings.standings import positions_of, standings_of
from evaltrack.rink.player import Position

SEEDS = st.integers(0, 2**32 - 1)
FIGURES = "share low high low50 high50 start_share change change_low change_high p_up p_below".split()
FORWARDS = [player(n) for n in range(2, 14)]
WALL, GATE, *OTHERS = [player(n, Position.DEFENCE) for n in range(40, 46)]
BEATEN = {WALL.number: 0.3, GATE.number: 0.85} | {other.number: 0.6 for other in OTHERS}


def figures(standings) -> np.ndarray:
    """Return the numbers of standings, (standings, figures)."""
    return np.array([[getattr(one, name) for name in FIGURES] for one in standings])


def against(opponent_of, weeks: int = 10) -> list[tuple]:
    """Return the tries of all forwards, each of whom beats an opponent as often as the others do."""
    rows = []
    for forward in FORWARDS:
        for week in range(weeks):
            opponent = opponent_of(forward, week)
            done = round(10 * BEATEN[opponent.number])
            rows.append(cell(forward, "stop", week, 10, done, opponent=opponent.id.bytes))
    return rows


def mostly_own(forward, week):
    """Three lines: one meets the strongest, one the weakest, the others anybody; now and then all mix."""
    number = FORWARDS.index(forward)
    own = {0: WALL, 1: GATE}.get(number // 3)
    return own if own and week % 4 else [WALL, GATE, *OTHERS][(number + week) % 6]


@settings(max_examples=10, deadline=None)
@given(SEEDS, st.booleans())
def test_standings_with_opponents_are_sound(seed, shared):
    """No figure is impossible, no call contradicts its interval, and no reason is lost."""
    world = World(seed, shared, met=True)
    assert_sound(standings_of(world.cells, world.roster, world.skills, shared=shared))


@settings(max_examples=10, deadline=None)
@given(SEEDS)
def test_other_names_for_the_opponents_change_nothing(seed):
    """Who the opponents are is for telling them apart alone: any other ids give the same numbers."""
    world = World(seed, True, met=True)
    ids = sorted(set(world.cells["opponent"]) - {b""})
    others = dict(zip(ids, [bytes([255 - n]) * 16 for n in range(len(ids))], strict=True)) | {b"": b""}
    renamed = world.cells.assign(opponent=[others[one] for one in world.cells["opponent"]])
    before = figures(standings_of(world.cells, world.roster, world.skills))
    after = figures(standings_of(renamed, world.roster, world.skills))
    np.testing.assert_allclose(after, before, atol=2e-6)


@settings(max_examples=10, deadline=None)
@given(SEEDS, st.booleans())
def test_without_a_known_opponent_nothing_is_added(seed, shared):
    """Rows that know of no opponents, and rows that know of none, give the same to the last digit.

    The fit has no coefficient of an opponent at all, so it is what it was before there was one.
    """
    world = World(seed, shared)
    columns = [name for name in world.cells.columns if name != "opponent"]
    rows = [tuple(row) for row in world.cells[columns].itertuples(index=False)]
    unknown = cells_frame([(*row[:-2], None, *row[-2:]) for row in rows])
    assert world.cells.equals(cells_frame(rows))
    assert world.cells.equals(unknown)
    standings = standings_of(world.cells, world.roster, world.skills, shared=shared)
    assert standings == standings_of(unknown, world.roster, world.skills, shared=shared)
    assert {one.met for one in standings} == {()}
    design = next(iter(world.fits.values())).predictor.design
    assert Effect.OPPONENT not in design.columns.sizes
    assert len(design.terms) == 5 + 2 * shared


@settings(max_examples=10, deadline=None)
@given(SEEDS)
def test_where_all_meet_the_same_one_nothing_is_moved(seed):
    """An opponent whom all meet always is no reason for anything: the share is against just that one."""
    world = World(seed, True)
    one = world.cells.assign(opponent=b"x" * 16)
    before = figures(standings_of(world.cells, world.roster, world.skills))[:, 0]
    after = figures(standings_of(one, world.roster, world.skills))[:, 0]
    np.testing.assert_allclose(after, before, atol=0.02)


def test_nobody_is_blamed_for_a_strong_opponent():
    """Forwards are all alike, but some mostly met the strongest one: the truth is one share for all."""
    cells = cells_frame(against(mostly_own))
    everybody = [*FORWARDS, WALL, GATE, *OTHERS]
    found = {
        known: {one.player: one.share for one in standings_of(frame, everybody, [skill("stop")])}
        for known, frame in (("met", cells), ("unknown", cells.assign(opponent=b"")))
    }
    blamed, spared = (
        [np.mean([shares[f.number] for f in line]) for line in (FORWARDS[:3], FORWARDS[3:6])]
        for shares in (found["unknown"], found["met"])
    )
    assert blamed[1] - blamed[0] > 0.3
    assert spared[1] - spared[0] < 0.5 * (blamed[1] - blamed[0])


def test_a_group_is_judged_against_those_whom_it_met():
    """Defenders who only meet a weak one are told their share against him, not against another one."""
    forwards, defenders = FORWARDS[:4], OTHERS
    rows = [
        cell(who, "stop", week, 6, 3, opponent=met.id.bytes)
        for group, met in ((forwards, WALL), (defenders, FORWARDS[-1]))
        for who in group
        for week in range(8)
    ]
    fit = fit_season(cells_frame(rows), positions_of([*FORWARDS, WALL, *OTHERS]))["stop"]
    groups = fit.kinds.opponents
    names = [fit.predictor.design.opponents[n] for n in fit.predictor.things(Effect.OPPONENT)]
    place = [names.index(met.id.bytes) for met in (WALL, FORWARDS[-1])]
    design = fit.predictor.design.group[fit.predictor.things(Effect.LEVEL)]
    by_player = dict(zip(fit.players, design, strict=True))
    assert groups[by_player[forwards[0].id.bytes]].tolist() == np.eye(3)[place[0]].tolist()
    assert groups[by_player[defenders[0].id.bytes]].tolist() == np.eye(3)[place[1]].tolist()


def test_whom_they_met():
    """Tries and dones by opponent, most tries first, over all practices; by number where they are equal."""
    who, rows = FORWARDS[0], []
    for week, (met, tries, done) in enumerate([(GATE, 2, 2), (WALL, 3, 1), (GATE, 2, 1), (None, 4, 4)]):
        rows.append(cell(who, "stop", week, tries, done, opponent=met and met.id.bytes))
    rows.append(cell(who, "start", 0, 1, 1, opponent=OTHERS[0].id.bytes))
    everybody, skills = [who, WALL, GATE], [skill("stop"), skill("start")]
    one, other = standings_of(cells_frame(rows), everybody, skills)
    assert one.met == (Met(GATE.number, 4, 3), Met(WALL.number, 3, 1))
    assert other.met == ()  # whoever left the roster is not told
    equal = [cell(who, "stop", n, 1, 1, opponent=met.id.bytes) for n, met in enumerate((GATE, WALL))]
    assert [met.opponent for met in standings_of(cells_frame(equal), everybody, skills)[0].met] == [
        "40",
        "41",
    ]


@settings(max_examples=10, deadline=None)
@given(SEEDS)
def test_tries_against_anybody_are_all_tries(seed):
    """What is told of opponents never exceeds the tries, and with those of nobody known is all of them."""
    world = World(seed, True, met=True)
    standings = standings_of(world.cells, world.roster, world.skills)
    number = {p.number: p.id.bytes for p in world.roster}
    for one in standings:
        mine = world.cells[
            (world.cells["player"] == number[one.player]) & (world.cells["skill"] == one.skill)
        ]
        unknown = mine[mine["opponent"] == b""]
        for count in ("tries", "done"):
            told = sum(getattr(met, count) for met in one.met)
            assert told + unknown[count].sum() == getattr(one, count)


def test_an_id_that_ends_with_a_zero_byte_is_an_id_like_others():
    """One player in 256 has such an id, and libraries like to take zeros off the end of bytes."""
    ids = {one.id.bytes: one.id.bytes for one in (*FORWARDS, WALL)}
    zero = UUID(bytes=FORWARDS[0].id.bytes[:-1] + bytes(1)), UUID(bytes=WALL.id.bytes[:-1] + bytes(1))
    ids |= {FORWARDS[0].id.bytes: zero[0].bytes, WALL.id.bytes: zero[1].bytes}
    renamed = [replace(one, id=UUID(bytes=ids[one.id.bytes])) for one in (*FORWARDS, WALL)]
    cells = cells_frame(against(mostly_own))
    other = cells.assign(**{c: [ids.get(one, one) for one in cells[c]] for c in ("player", "opponent")})
    found, known = (
        standings_of(these, roster, [skill("stop")])
        for these, roster in ((other, renamed), (cells, [*FORWARDS, WALL]))
    )
    assert [one.met for one in found] == [one.met for one in known]
    assert [one.tries for one in found] == [one.tries for one in known]
    np.testing.assert_allclose([one.share for one in found], [one.share for one in known], atol=1e-6)
    assert {met.opponent for one in found for met in one.met} >= {WALL.number}


def test_an_opponent_says_nothing_of_who_was_never_seen():
    """Who is only met has no standing, and coverage knows of them no more than of anybody."""
    cells = cells_frame(against(mostly_own))
    everybody = [*FORWARDS, WALL]
    assert WALL.number not in {one.player for one in standings_of(cells, everybody, [skill("stop")])}
    (wall,) = (one for one in coverage_of(cells, everybody, [skill("stop")]) if one.player == WALL.number)
    assert wall.tries == 0
    assert 0 < wall.low < wall.high < 1
