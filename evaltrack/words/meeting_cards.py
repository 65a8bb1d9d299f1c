"""The coach's own card for one meeting: what to say and to ask, the numbers behind it, what was agreed last.

What to say are the sentences of the family's own page, so that card and page never differ, in the language of
the coach; the numbers are in the words of the coach's screens.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby
from uuid import UUID

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import language, mark, tr
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.first_name import first_name
from evaltrack.rink.player import Player
from evaltrack.words.family import sheet
from evaltrack.words.family.drafting import draft_sheet, read_ground
from evaltrack.words.family.ground import Ground
from evaltrack.words.family.in_force import read_pages
from evaltrack.words.family.own_words import agreed_sentences
from evaltrack.words.family.sheet import Part
from evaltrack.words.recency import recency_words
from evaltrack.words.wording import call_words, state_words, told

# open questions, our own; not from any source
ASK = (
    mark("What does {name} like most about this season?"),
    mark("What would {name} like to get better at?"),
    mark("What do you see at home or in the car that we do not see at the rink?"),
    mark("What helps {name} to try something hard?"),
    mark("What should we do differently?"),
)
NO_STRENGTH = mark("The numbers name no strength yet: begin with something good that you saw yourself.")
NO_NEXT = mark("The numbers name no next step: choose one together.")
NOTHING_AGREED = mark("Nothing was agreed before.")
NO_TRY = mark("No try was noted yet: say what you saw, and that nothing was counted.")


@dataclass(frozen=True, slots=True)
class CueNumber:
    """One skill behind the words: ``26 of 37, about 7 in 10``, the call, and where the share stands now."""

    skill: str
    count: str
    call: str
    state: str


@dataclass(frozen=True, slots=True)
class CueCard:
    """What a coach has in hand at one meeting.

    Attributes
    ----------
    number, name, position : of the player.
    say, next_steps, at_home : sentences, those of the family's page.
    ask : questions.
    numbers : one for each skill with a try, those in which most is known first.
    agreed : what was agreed last, in sentences; empty where that is not known.
    """

    number: str
    name: str
    position: str
    say: tuple[str, ...]
    next_steps: tuple[str, ...]
    at_home: tuple[str, ...]
    ask: tuple[str, ...]
    numbers: tuple[CueNumber, ...]
    agreed: tuple[str, ...]


def cue_card(
    ground: Ground | None,
    player: Player,
    standings: Sequence[Standing],
    edits: NoteEdits | None = None,
    agreed: Sequence[Agreed] | None = None,
) -> CueCard:
    """Return the card for one family; pure.

    Parameters
    ----------
    ground : what the pages of the season share; None before the first practice.
    standings : this player's, in the order of the catalogue.
    edits : what the coach changed of the family's page.
    agreed : what was agreed at the last meeting; None where that is not known.
    """
    parts: dict[str, tuple[str, ...]] = {}
    if ground is not None and standings:
        page = draft_sheet(ground, player, standings, replace(edits or NoteEdits(), language=str(language())))
        parts = {part.key: _texts(part) for part in page.parts}
    return CueCard(
        player.number,
        player.name,
        player.position_words,
        say=parts.get(sheet.GOING_WELL) or (tr(NO_STRENGTH if standings else NO_TRY),),
        next_steps=parts.get(sheet.NEXT) or (tr(NO_NEXT),),
        at_home=parts.get(sheet.AT_HOME, ()),
        ask=tuple(tr(question, name=first_name(player.name)) for question in ASK),
        numbers=tuple(_numbers(ground.in_words(), standings)) if ground else (),
        agreed=_agreed(agreed),
    )


def read_cards(
    season,
    standings: Iterable[Standing],
    players: Sequence[Player],
    as_of: date | None = None,
    meeting: date | None = None,
) -> dict[UUID, CueCard]:
    """Return the cards of these players of a season that is open, by player.

    ``standings`` and the pages whose words the cards have are of one day; without one, the last practice.
    ``meeting`` is the day of the meetings.
    """
    ground, own = read_ground(season, as_of), by_player(standings)
    pages = read_pages(season, ground, meeting)
    return {
        one.id: cue_card(
            ground, one, own.get(one.number, ()), pages.edits.get(one.id), pages.agreed.get(one.id, ())
        )
        for one in players
    }


def by_player(standings: Iterable[Standing]) -> dict[str, list[Standing]]:
    """Return standings by the player's number, in their order."""
    ordered = sorted(standings, key=lambda one: one.player)
    return {number: list(own) for number, own in groupby(ordered, key=lambda one: one.player)}


def _agreed(agreed: Sequence[Agreed] | None) -> tuple[str, ...]:
    if agreed is None:
        return ()
    return tuple(one.text for one in agreed_sentences(agreed)) or (tr(NOTHING_AGREED),)


def _texts(part: Part) -> tuple[str, ...]:
    """Return the sentences of a part, without one that only leads to lines to write on."""
    return () if part.to_write else tuple(one.text for one in part.sentences)


def _numbers(ground: Ground, standings: Iterable[Standing]) -> Iterable[CueNumber]:
    return (_number(ground, one) for one in standings)


def _number(ground: Ground, standing: Standing) -> CueNumber:
    skill = ground.skills.get(standing.skill)
    state = [state_words(standing, ground.axis.last), recency_words(standing)]
    return CueNumber(
        skill.name if skill else standing.skill,
        told(standing),
        call_words(standing),
        "; ".join(filter(None, state)),
    )
