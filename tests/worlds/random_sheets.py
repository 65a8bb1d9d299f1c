"""Random standings of one child and random edits of a page: every call, trend, doubt, count and absence."""

from datetime import date, timedelta

from hypothesis import strategies as st
from lantern_pages import DAYS
from sample_sheets import SKILLS, ground_of

from evaltrack.analysis.standings.standing import (
    ENOUGH_PRACTICES,
    ENOUGH_TRIES,
    Call,
    PathPoint,
    Seen,
    Standing,
    Trend,
)
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.player import Player, Position, Status
from evaltrack.words.family.presence import Presence

KEYS = sorted(SKILLS)
NAMES = ("Zoë Łukasik", "Mary J. Okafor", "Łukasik, Zoë", "王小明", "Pelé", "K Lindqvist")


@st.composite
def standings_of_one(draw, keys=None):
    """Draw one player's standings, in the order of the keys; no call contradicts its own numbers."""
    keys = draw(st.lists(st.sampled_from(KEYS), unique=True, max_size=7)) if keys is None else keys
    return [draw(one_standing(key)) for key in keys]


@st.composite
def one_standing(draw, key):
    """Draw one standing as the estimate may make it."""
    days = sorted(draw(st.sets(st.sampled_from(DAYS), min_size=1, max_size=9)))
    seen = []
    for day in days:
        tries = draw(st.integers(1, 9))
        seen.append(Seen(day, tries, draw(st.integers(0, tries))))
    tries, done = sum(one.tries for one in seen), sum(one.done for one in seen)
    enough = tries >= ENOUGH_TRIES and len(seen) >= ENOUGH_PRACTICES
    doubt = draw(st.sampled_from([None, None, None, "The season's estimate did not settle for this skill."]))
    low, share, high = sorted(draw(st.lists(st.floats(0, 1), min_size=3, max_size=3)))
    p_below = draw(st.floats(0, 1))
    called = draw(st.booleans())
    call = Call.IN_BETWEEN
    if not doubt and called:
        call = Call.WORK_ON if p_below >= 0.8 else Call.SOLID if p_below <= 0.2 else Call.IN_BETWEEN
    trend = draw(st.sampled_from(Trend)) if enough and not doubt else Trend.NO_CLEAR_CHANGE
    ends = draw(st.sampled_from([days[-1], DAYS[-1]]))
    path = tuple(PathPoint(day, share, low, high, low, high) for day in DAYS if days[0] <= day <= ends)
    return Standing(
        player="7", name="", position="D", skill=key, tries=tries, done=done, practices=len(seen),
        share=share, low=low, high=high, low50=low, high50=high, start_share=share, change=0.0,
        change_low=-1.0, change_high=1.0, p_up=0.5, target=SKILLS[key].target, p_below=p_below,
        call=call if enough else Call.TOO_FEW, trend=trend, path=() if doubt else path, seen=tuple(seen),
        doubt=doubt,
    )  # fmt: skip


@st.composite
def pages(draw):
    """Draw what the pages share, a player and that player's standings."""
    status = draw(st.sampled_from([Status.FULL, Status.FULL, Status.AWAY, Status.LIMITED]))
    player = Player("7", draw(st.sampled_from(NAMES)), draw(st.sampled_from(Position)), status=status)
    since = draw(st.integers(1, len(DAYS)))
    presence = Presence(len(DAYS), since, DAYS[-since], DAYS[-1])
    last = DAYS[-1] + timedelta(days=draw(st.sampled_from([0, 9, 40])))
    return ground_of(player, presence, last), player, draw(standings_of_one())


_PICKS = st.none() | st.lists(st.sampled_from([*KEYS[:9], "no_such_skill"]), max_size=5).map(tuple)
_WORDS = st.dictionaries(
    st.sampled_from(
        ["seen.counts", "going_well.open", "next.open", *(f"going_well.{key}" for key in KEYS[:5])]
    ),
    st.sampled_from(["", "  ", "A joy to watch.", "3 of 4 tries\n\nand *more*"]),
    max_size=3,
)


def edits():
    """Draw what a coach changed, allowed or not."""
    return st.builds(
        NoteEdits,
        strengths=_PICKS,
        next_skills=_PICKS,
        words=_WORDS,
        coach_words=st.sampled_from(["", "One.\n\nTwo\x00."]),
        agreed=st.sampled_from([(), (Agreed("Ten wall passes a day", "Dad", date(2026, 3, 12)),)]),
    )
