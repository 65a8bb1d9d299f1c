"""Plans as a coach has them in hand, for invented players: made by chance, and one of known parts."""

from dataclasses import replace
from datetime import date

from hypothesis import strategies as st
from lanterns_season import PLAYERS, SKILLS, STEPS

from evaltrack.rink.plan import Grouping, Part, WishKind
from evaltrack.rink.plan_card import STEPS as WITH_STEP
from evaltrack.rink.plan_card import CardBlock, CardLook, CardPlace, CardWish, PlanCard
from evaltrack.rink.player import by_number
from evaltrack.rink.practice import Surface

DAY = date(2026, 1, 20)
KEYS = [skill.key for skill in SKILLS]
WORDS = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "Zs")), max_size=40)


@st.composite
def blocks(draw, part: Part) -> CardBlock:
    """Return a block of a part, of any length."""
    minutes, locked = draw(st.integers(1, 30)), draw(st.booleans())
    if part not in WITH_STEP:
        return CardBlock(part, minutes, why=draw(WORDS), locked=locked)
    drill, step = draw(st.sampled_from(STEPS))
    skills = tuple(draw(st.lists(st.sampled_from(KEYS), max_size=3, unique=True)))
    fewest, most = sorted(draw(st.tuples(*[st.floats(0, 100)] * 2)))
    watch = draw(st.sampled_from(["", *KEYS]))
    return CardBlock(
        part, minutes, drill, step, skills, watch, draw(WORDS), draw(WORDS), fewest, most, locked
    )


@st.composite
def cards(draw) -> PlanCard:
    """Return a plan of one to four stations that the groups go round, or of steps for all together."""
    count = draw(st.integers(1, 4))
    rounds = [Part.TOGETHER] if count == 1 else [Part.STATION] * count
    between = [part for one in rounds for part in (one, Part.CHANGEOVER)][:-1]
    parts = [Part.WARM_UP, Part.BOARD, *between, *draw(st.sampled_from([[], [Part.TOGETHER], [Part.OWN]]))]
    made = tuple(draw(blocks(part)) for part in parts)
    starts = tuple((b.drill, b.step) for b in made if b.part is rounds[0])[:count]
    ids = sorted(player.id for player in PLAYERS)
    places = {ident: CardPlace(draw(st.integers(0, count - 1)), draw(st.booleans())) for ident in ids}
    pairs = [draw(st.lists(st.sampled_from(ids), min_size=2, max_size=2, unique=True)) for _ in range(2)]
    wishes = [CardWish(draw(st.sampled_from(WishKind)), *pair, draw(st.booleans())) for pair in pairs]
    looks = [CardLook(at, draw(st.sampled_from(ids)), draw(WORDS)) for at, b in enumerate(made) if b.watch]
    return PlanCard(
        day=draw(st.dates(date(2025, 1, 1), date(2027, 1, 1))),
        blocks=made,
        starts=starts,
        places=places,
        looks=tuple(looks),
        train=tuple((key, draw(WORDS)) for key in draw(st.lists(st.sampled_from(KEYS), unique=True))),
        remarks=tuple(draw(st.lists(WORDS, max_size=2))),
        ice_time=draw(st.sampled_from(["", "a1b2"])),
        practice=draw(st.sampled_from(["", "2025-10-04"])),
        stations=count,
        coaches=draw(st.integers(0, 6)),
        surface=draw(st.sampled_from(Surface)),
        grouping=draw(st.sampled_from(Grouping)),
        band=draw(st.sampled_from([(0.6, 0.8), (0.5, 0.7)])),
        wishes=tuple(replace(wish, why=draw(WORDS)) for wish in wishes[: draw(st.integers(0, 2))]),
    )


def plan_for(desk, day: date | None = None) -> PlanCard:
    """Return a plan of today for the season in hand, as one that was worked out: three stations, all here."""
    steps = [(drill.key, step) for drill in desk.drills for step in drill.steps if step.skills][:4]
    why = "Outlet pass is predicted to come off about 5 times in 10 (3 to 7) in this step."
    made = [CardBlock(Part.WARM_UP, 8, why="Warm-up: everybody moves."), CardBlock(Part.BOARD, 2)]
    for number, (drill, step) in enumerate(steps):
        part = Part.STATION if number < 3 else Part.TOGETHER
        watch = step.skills[number % len(step.skills)]
        pace = "2 reps a minute, a common default"
        made += [
            CardBlock(part, 10, drill, step.key, step.skills, watch, why, pace, 4.0, 7.0),
            CardBlock(Part.CHANGEOVER, 1),
        ]
    players = sorted(desk.likely_present(), key=by_number)
    looks = [
        CardLook(at, players[(3 * at + n) % len(players)].id, "7 tries at 1 practice: too few for a call")
        for at, block in enumerate(made)
        if block.watch
        for n in range(4)
    ]
    return PlanCard(
        day=day or date.today(),
        blocks=tuple(made[:-1]),
        starts=tuple((drill, step.key) for drill, step in steps[:3]),
        places={player.id: CardPlace(at % 3, locked=at == 4) for at, player in enumerate(players)},
        looks=tuple(looks),
        train=tuple(
            (key, f"{desk.skills[key].name}: about 6 of 7 players below the target (5 to 7).")
            for key in list(desk.skills)[:3]
        ),
        remarks=("One goalie is here: only one station at a time has one.",),
    )


def card(day: date = DAY, practice: str = "") -> PlanCard:
    """Return a plan of 40 minutes and two stations, whose parts are known."""
    first, second = STEPS[:2]
    return PlanCard(
        day=day,
        blocks=(
            CardBlock(Part.WARM_UP, 8, why="Everybody moves."),
            CardBlock(
                Part.STATION, 15, *first, ("outlet_pass",), "outlet_pass", "Low.", "2 reps a minute", 4, 6
            ),
            CardBlock(Part.CHANGEOVER, 1),
            CardBlock(Part.STATION, 16, *second, ("shot_on_net",), "shot_on_net", "Few.", "usual", 3, 3),
        ),
        starts=(first, second),
        places={player.id: CardPlace(at % 2) for at, player in enumerate(PLAYERS)},
        looks=(CardLook(1, PLAYERS[0].id, "never seen in it"), CardLook(3, PLAYERS[4].id, "few")),
        train=(("outlet_pass", "Outlet pass: about 3 of 5 below the target."),),
        remarks=("One goalie is here.",),
        stations=2,
    )
