"""Wishes, cards and the overview in words: those of the family's page and of the coach's screens."""

from datetime import date, time

from invented_evenings import DAY, START, family, wish
from lanterns_season import PLAYERS
from made_standings import standing, standings_for
from seasons_for_touch import roster

from evaltrack.analysis.standings.standing import Call
from evaltrack.founding.built_in import in_words
from evaltrack.intake.catalogue import read_skills
from evaltrack.language import Language, speaking
from evaltrack.places import sample_roster
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.meeting_evening import Evening, MeetingSlot
from evaltrack.rink.placed_evening import PlacedEvening, UnmetMeeting
from evaltrack.words import meeting_cards
from evaltrack.words.date_axis import axis_of
from evaltrack.words.family.drafting import draft_sheet
from evaltrack.words.family.ground import Ground
from evaltrack.words.meeting_cards import cue_card
from evaltrack.words.meetings import NOT_PROVEN, remarks_of, slot_words, summary_words, wish_words
from evaltrack.words.team_overview import overview_of
from evaltrack.words.wording import call_words, count_words, is_firm, level_words, state_words, told

SKILLS = read_skills(sample_roster() / "skills.toml")
TEAM = roster(20)
NUMBERS = {family(1): "4", family(2): "11"}


def _ground(standings) -> Ground:
    return Ground("Kettle Bay Lanterns 12U", axis_of(standings), {s.key: s for s in SKILLS}, {})


def test_every_wish_is_a_plain_sentence():
    """With the numbers of the players, and the time or the table."""
    assert wish_words(wish("not before", 1, time(18, 30)), NUMBERS) == "4 not before 18:30"
    assert wish_words(wish("not after", 1, time(19)), NUMBERS) == "4 not after 19:00"
    assert wish_words(wish("at", 1, START), NUMBERS) == "4 at 18:00"
    assert wish_words(wish("table", 1, 2), NUMBERS) == "4 at table 2"
    assert wish_words(wish("sibling", 1, 2), NUMBERS) == "4 and 11 one straight after the other"
    assert wish_words(wish("not with", 1, 2), NUMBERS) == "4 and 11 not at the same time"
    assert wish_words(wish("not coming", 1), NUMBERS) == "4 does not come"


def test_what_is_not_met_is_told_with_what_stands_against_it():
    """Wishes, locked families, or nothing but the evening itself; and a lock that was let go."""
    slots = {family(1): MeetingSlot(START, 1), family(2): MeetingSlot(time(18, 12), 2)}
    evening = Evening("e", DAY, START, tables=2, slots=slots)
    asked = wish("at", 1, START)
    found = PlacedEvening(
        evening,
        (UnmetMeeting(asked, (wish("table", 2, 1),), (family(2),)), UnmetMeeting(asked)),
        proven=False,
        let_go=(family(2),),
    )
    assert remarks_of(found, NUMBERS) == [
        "Not met: 4 at 18:00. It does not go with: 11 at table 1; 11 is locked.",
        "Not met: 4 at 18:00. No time or table of this evening is as it asks.",
        "11 was locked to a place that this evening does not have: it is free again.",
        NOT_PROVEN,
    ]
    assert summary_words(evening) == "2 meetings, 12 minutes each, 2 tables, over at 18:24"
    assert slot_words(evening, slots[family(2)]) == "18:12–18:24, table 2"


def test_the_card_has_the_sentences_of_the_page_and_the_words_of_the_screens():
    """Strengths and next steps as on the page; each count, call and share as the screens tell them."""
    player = TEAM[0]
    own = [s for s in SKILLS if s.suits(player.position)][:4]
    calls = (Call.SOLID, Call.WORK_ON, Call.IN_BETWEEN, Call.TOO_FEW)
    standings = [standing(player, skill, call=call) for skill, call in zip(own, calls, strict=True)]
    ground = _ground(standings)
    agreed = (Agreed("Ten passes", "Ana", date(2026, 3, 1)),)
    card = cue_card(ground, player, standings, agreed=agreed)
    page = draft_sheet(ground, player, standings, NoteEdits(agreed=agreed))
    assert card.say == tuple(s.text for s in page.part("going_well").sentences)
    assert card.next_steps == tuple(s.text for s in page.part("next").sentences)
    last = ground.axis.last
    for number, skill, one in zip(card.numbers, own, standings, strict=True):
        assert (number.skill, number.count, number.call) == (skill.name, told(one), call_words(one))
        assert number.state.startswith(state_words(one, last))
    assert card.agreed == tuple(s.text for s in page.part("agreed").sentences)
    assert "1 March 2026" in card.agreed[0]
    assert all(player.name.split()[0] in question or "{" not in question for question in card.ask)


def test_a_card_stays_in_the_language_of_the_coach():
    """Whatever the family's page speaks: the coach has both in hand."""
    player = TEAM[0]
    own = [s for s in SKILLS if s.suits(player.position)][:1]
    standings = [standing(player, skill, call=Call.SOLID) for skill in own]
    edits = NoteEdits(language="fr-CA")
    card = cue_card(_ground(standings), player, standings, edits)
    assert card.say == cue_card(_ground(standings), player, standings).say
    with speaking(Language.FRENCH_CANADA):
        french = cue_card(_ground(standings), player, standings)
        page = draft_sheet(_ground(standings), player, standings, edits)
        assert french.numbers[0].skill == in_words(own[0].name) != own[0].name
    assert french.say == tuple(s.text for s in page.part("going_well").sentences)


def test_a_card_without_a_try_says_so():
    """Nothing is invented; what is not known of the last agreement is left out."""
    card = cue_card(None, TEAM[0], [])
    assert (card.say, card.numbers, card.agreed) == ((meeting_cards.NO_TRY,), (), ())
    assert cue_card(None, TEAM[0], [], agreed=()).agreed == (meeting_cards.NOTHING_AGREED,)


def test_no_card_names_another_child():
    """A card lies on the table between two families."""
    standings = standings_for(TEAM, SKILLS)
    ground = _ground(standings)
    for player in TEAM:
        own = [one for one in standings if one.player == player.number]
        card = cue_card(ground, player, own)
        text = " ".join(
            [*card.say, *card.next_steps, *card.at_home, *card.ask, *(n.state for n in card.numbers)]
        )
        for other in TEAM:
            if other.id != player.id:
                assert other.name not in text


def test_the_overview_goes_by_number_and_tells_what_the_board_tells():
    """Whoever is best stands where the number says; counts for all, shares only where they are firm."""
    standings = standings_for(TEAM, SKILLS)
    page = overview_of("Team", reversed(TEAM), SKILLS, standings)
    cells = {(one.player, one.skill): one for one in standings}
    names = {skill.name: skill.key for skill in SKILLS}
    for block in page.blocks:
        numbers = [int(number) for number, _, _ in block.rows]
        assert numbers == sorted(numbers)
        for number, _, row in block.rows:
            for skill, cell in zip(block.skills, row, strict=True):
                one = cells.get((number, names[skill]))
                assert (cell is None) == (one is None)
                if one:
                    assert cell.count == count_words(one.done, one.tries)
                    assert (cell.share is not None) == is_firm(one)
                    assert cell.span == (level_words(one).removesuffix(" in 10") if is_firm(one) else "")
    assert sum(len(block.rows) for block in page.blocks) == len(TEAM)
    assert overview_of("Team", PLAYERS, SKILLS, []) is None
