"""The page of one family, as plain data."""

from lantern_pages import DAYS, skills, standing

from evaltrack.rink.family_note import NoteEdits
from evaltrack.rink.player import Player, Position
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.family.drafting import choices, draft_sheet
from evaltrack.words.family.ground import Ground
from evaltrack.words.family.presence import Presence
from evaltrack.words.family.sheet import PARTS

_PLAYER = Player("7", "Zoë Łukasik", Position.DEFENCE)
_GROUND = Ground(
    "Kettle Bay Lanterns 12U",
    DateAxis(DAYS[0], DAYS[-1]),
    {skill.key: skill for skill in skills()},
    {_PLAYER.id: Presence(24, 24, DAYS[0], DAYS[-1])},
)


def test_a_page_has_all_its_parts_in_order():
    """Also where a part has nothing to say: it is then room to write."""
    sheet = draft_sheet(_GROUND, _PLAYER, [standing("stop", [(20, 14), (17, 12)])])
    assert tuple(part.key for part in sheet.parts) == PARTS
    assert sheet.rows[0].count == "26 of 37"


def test_the_coachs_words_take_a_sentences_place_and_none_leave_it_out():
    """By the key of the sentence; all else stays."""
    told = [standing("stop", [(20, 18), (17, 16)], share=0.9), standing("start", [(20, 5), (17, 4)])]
    plain = draft_sheet(_GROUND, _PLAYER, told)
    assert draft_sheet(_GROUND, _PLAYER, told, NoteEdits()) == plain
    key = plain.part("going_well").sentences[0].key
    own = draft_sheet(_GROUND, _PLAYER, told, NoteEdits(words={key: "A joy to watch.", "seen.counts": ""}))
    assert [(one.text, one.own) for one in own.part("going_well").sentences] == [("A joy to watch.", True)]
    assert own.part("seen").sentences == ()
    assert own.part("next") == plain.part("next")


def test_what_is_offered_has_its_sentence():
    """A list to pick from says what the page would say."""
    told = [standing("stop", [(20, 18), (17, 16)], share=0.9), standing("start", [(20, 5), (17, 4)])]
    offered = choices(_GROUND, _PLAYER, told)
    assert [one.name for one in offered.strengths] == ["Stop", "Start"]
    assert all(one.text.startswith(one.name) for one in (*offered.strengths, *offered.next_skills))
