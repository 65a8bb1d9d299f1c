"""A plan on paper: one page to hang up without a word of judgement, and one for the observer."""

from datetime import date
from functools import cache

import pytest
from lanterns_season import DRILLS, SKILLS
from lanterns_season import PLAYERS as LANTERNS
from planned_cards import card
from printed_words import words_of
from seasons_for_touch import roster

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.paper.plan.plan_page import PAPERS, make_page, print_page
from evaltrack.paper.plan.rink_drawing import drawing_of
from evaltrack.places import sample_roster
from evaltrack.rink.plan import Part
from evaltrack.rink.plan_card import CardBlock, CardLook, CardPlace, PlanCard

TEAM = "Kettle Bay Lanterns 12U"
SHIPPED = read_skills(sample_roster() / "skills.toml")
SHIPPED_DRILLS = read_drills(sample_roster() / "drills.toml", SHIPPED)
STEPS = [(drill.key, step.key) for drill in SHIPPED_DRILLS for step in drill.steps]
JUDGED = "30 tries at 4 practices, no call yet: the next practice may settle it"


def full_card(stations: int = 5, players: int = 20) -> tuple[PlanCard, list]:
    """Return a plan of so many stations, with a round at their own and one together, and its players."""
    made = [CardBlock(Part.WARM_UP, 8), CardBlock(Part.BOARD, 2)]
    skills = ("receive_pass", "indirect_pass", "wall_puck_feet")
    for drill, step in STEPS[:stations]:
        made += [CardBlock(Part.STATION, 6, drill, step, skills, skills[0]), CardBlock(Part.CHANGEOVER, 1)]
    made += [CardBlock(Part.OWN, 6), CardBlock(Part.CHANGEOVER, 1), CardBlock(Part.BOARD, 2)]
    made.append(CardBlock(Part.TOGETHER, 16, *STEPS[stations], skills, skills[1]))
    expected = roster(players)
    watched = [at for at, block in enumerate(made) if block.watch]
    return PlanCard(
        day=date(2026, 1, 20),
        blocks=tuple(made),
        starts=tuple(STEPS[:stations]),
        places={player.id: CardPlace(at % stations) for at, player in enumerate(expected)},
        looks=tuple(CardLook(at, expected[n].id, JUDGED) for at in watched for n in range(4)),
        train=tuple((key, f"{key}: work on with 2, 5 and 8.") for key in skills),
        remarks=("One goalie is here.",),
        stations=stations,
    ), expected


@cache
def pages_of(paper: str, stations: int = 5, players: int = 20):
    """Return what was printed, and the words of each page."""
    plan, expected = full_card(stations, players)
    made = print_page(make_page(TEAM, plan, SHIPPED, SHIPPED_DRILLS, expected), paper)
    return made, [" ".join(" ".join(w.text for w in page).split()) for page in words_of(made.content)]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("stations", "players"), [(1, 5), (3, 18), (5, 20), (6, 30), (8, 40)])
def test_one_page_to_hang_up_and_one_for_the_observer(paper, stations, players):
    """On Letter and on A4; the checks of tagged PDF have nothing to say."""
    made, _ = pages_of(paper, stations, players)
    assert (made.pages, made.problem) == (2, None)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_first_page_has_times_and_everybody_and_no_judgement(paper):
    """Number and first name of each player once; no count, call, reason or last name."""
    _, (first, second) = pages_of(paper)
    plan, players = full_card()
    squeezed = first.replace(" ", "")
    for at, block in enumerate(plan.blocks):
        start = plan.starts_at(at)
        clock = f"{start}–{start + block.minutes}"
        if at in plan.rounds:  # all stations run at once, round by round
            assert clock in squeezed
            assert f"{clock}{block.minutes}min" not in squeezed
        elif not plan.rounds[0] < at < plan.rounds[-1]:
            assert f"{clock}{block.minutes}min" in squeezed
    assert "10–445stationsatonce,inrounds:10–16,17–23," in squeezed
    for player in players:
        shirt = f"{player.number}{player.name.split(' ')[0]}"
        assert shirt in squeezed
    for word in ("tries", "work on", "no call", "settle", "Quimby", "Castellano"):
        assert word not in first.replace("where tries come off", "")
    assert second.count("no call yet") == 24
    assert "Keep this page to the staff" in second


def test_the_observer_reads_when_each_player_is_at_the_station():
    """The second group is at the first station in the last round, and the first group in the first one."""
    _, (_, second) = pages_of("letter")
    plan, players = full_card()
    first, last = plan.rounds[0], plan.rounds[-1]
    own = next(at for at, block in enumerate(plan.blocks) if block.part is Part.OWN)
    assert plan.times_of(players[0].id, first) == (first, own)
    assert plan.times_of(players[1].id, first) == (last,)
    assert f"{players[1].name.split(' ')[0]} 38–44 30 tries" in second
    assert "Station 1 Receive a pass" in second


def test_a_step_that_is_gone_is_left_out_of_the_drawings():
    """It is told by its keys."""
    made = print_page(make_page(TEAM, card(), SKILLS, DRILLS[1:], LANTERNS), "letter")
    words = " ".join(w.text for w in words_of(made.content)[0])
    assert made.pages == 2
    assert "two_on_one" in words


@pytest.mark.parametrize(
    "step", [step for drill in SHIPPED_DRILLS for step in drill.steps], ids=lambda s: s.key
)
def test_a_drawing_lies_within_its_ice(step):
    """Every disc, line and arrow; each slot has one disc with the letter of its position."""
    drawn = drawing_of(step)
    ends = [point for way in drawn["ways"] for point in (way["from"], way["to"])]
    for x, y in [*(disc["at"] for disc in drawn["discs"]), *ends, *(one["at"] for one in drawn["lines"])]:
        assert 0 <= x <= drawn["width"]
        assert 0 <= y <= drawn["height"]
    assert [disc["letter"] for disc in drawn["discs"]] == [str(slot.position) for slot in step.slots]
