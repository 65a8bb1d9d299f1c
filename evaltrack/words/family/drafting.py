"""From one player's standings to the family's page, with what the coach changed of it."""

from collections.abc import Iterable, Sequence

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.rink.family_note import NoteEdits
from evaltrack.rink.player import Player
from evaltrack.words.family import page_words, sheet
from evaltrack.words.family.choice import Choice
from evaltrack.words.family.choices import Choices, Offered, choices
from evaltrack.words.family.ground import Ground, read_ground
from evaltrack.words.family.own_words import (
    agreed_sentences,
    astray,
    coach_sentences,
    edited,
    other_counts,
)
from evaltrack.words.family.picks import contradictions, picked
from evaltrack.words.family.rows import SOLID, skill_row
from evaltrack.words.family.sheet import FamilySheet, Part, Sentence, SkillRow
from evaltrack.words.family.skill_words import next_words, strength_words
from evaltrack.words.family.watched import thin_words, watched_sentences

__all__ = ("Choices", "Ground", "Offered", "choices", "draft_sheet", "read_ground", "refusals")

LANGUAGE = "en"
OPEN = "open"  # in the key of the sentence that stands where no skill is named
NAME_A_STRENGTH = "The page names nothing that goes well: pick a skill from the list, or write what you saw."


def draft_sheet(
    ground: Ground,
    player: Player,
    standings: Sequence[Standing],
    edits: NoteEdits | None = None,
    is_draft: bool = True,
) -> FamilySheet:
    """Return the page of one player. Nothing is read or written: the same values give the same page.

    Parameters
    ----------
    standings : this player's, in the order of the catalogue, as of the ground's day.
    edits : what the coach changed; None as drafted. A pick that a call contradicts is left out, and told
        in ``doubts``.
    """
    edits, away = edits or NoteEdits(), player.is_away(ground.axis.last)
    choice = picked(standings, edits)
    drafted = _drafted(ground, player, standings, choice)
    parts = tuple(_parts(drafted, edits))
    told = [s for s in standings if s.call is not Call.TOO_FEW]
    rows = tuple(skill_row(ground.skills[s.skill], s, ground.axis.last, away) for s in told)
    return FamilySheet(
        team=ground.team,
        number=player.number,
        name=player.name,
        position=player.position_words,
        axis=ground.axis,
        meeting=edits.meeting,
        coach=edits.coach,
        parts=parts,
        rows=rows,
        how_to_read=_how_to_read(rows),
        thin=thin_words(ground, standings),
        footers=page_words.FOOTERS,
        is_draft=is_draft,
        language=LANGUAGE,
        doubts=tuple(_doubts(ground, standings, edits, drafted, parts)),
        agreed=edits.agreed,
    )


def refusals(ground: Ground, player: Player, standings: Sequence[Standing], edits: NoteEdits) -> list[str]:
    """Return a sentence for each pick that cannot stand on the page; empty when the edits may be kept."""
    return contradictions(ground.skills, standings, edits)


def _how_to_read(rows: Sequence[SkillRow]) -> str:
    return page_words.how_to_read(
        drawn=any(row.drawn for row in rows),
        ranged=any(row.level.removeprefix(SOLID) for row in rows),
        solid=any(row.level.startswith(SOLID) for row in rows),
    )


def _drafted(
    ground: Ground, player: Player, standings: Sequence[Standing], choice: Choice
) -> dict[str, list[Sentence]]:
    return {
        sheet.SEEN: list(watched_sentences(ground, player, standings)),
        sheet.GOING_WELL: list(_strengths(ground, choice.strengths)),
        sheet.NEXT: list(_next_steps(ground, choice.next_skills)),
        sheet.AT_HOME: list(_at_home(ground, choice.next_skills)),
    }


def _strengths(ground: Ground, strengths: Sequence[Standing]) -> Iterable[Sentence]:
    if not strengths:
        yield Sentence(f"{sheet.GOING_WELL}.{OPEN}", page_words.NO_STRENGTH)
    for standing in strengths:
        skill = ground.skills[standing.skill]
        text = strength_words(skill, standing, ground.axis.last)
        yield Sentence(f"{sheet.GOING_WELL}.{skill.key}", text, skill.key, lead=skill.name)


def _next_steps(ground: Ground, steps: Sequence[Standing]) -> Iterable[Sentence]:
    if not steps:
        yield Sentence(f"{sheet.NEXT}.{OPEN}", page_words.NO_NEXT_STEP)
    for standing in steps:
        skill = ground.skills[standing.skill]
        text = next_words(skill, standing, ground.axis.last)
        yield Sentence(f"{sheet.NEXT}.{skill.key}", text, skill.key, lead=skill.name)


def _at_home(ground: Ground, steps: Sequence[Standing]) -> Iterable[Sentence]:
    for skill in (ground.skills[one.skill] for one in steps):
        for place, line in enumerate(skill.at_home, 1):
            # with two next steps it must be seen to which one a line belongs
            text, lead = (f"{skill.name}. {line}", skill.name) if len(steps) > 1 else (line, "")
            yield Sentence(f"{sheet.AT_HOME}.{skill.key}.{place}", text, skill.key, lead=lead)


def _parts(drafted: dict[str, list[Sentence]], edits: NoteEdits) -> Iterable[Part]:
    for key, sentences in drafted.items():
        said = tuple(edited(sentences, edits.words))
        to_write = key == sheet.GOING_WELL and not any(one.skill or one.own for one in said)
        yield Part(key, page_words.HEADINGS[key], said, to_write)
    for key, own in (
        (sheet.COACH, tuple(coach_sentences(edits.coach_words))),
        (sheet.AGREED, tuple(agreed_sentences(edits.agreed))),
    ):
        yield Part(key, page_words.HEADINGS[key], own, to_write=not own)


def _doubts(
    ground: Ground,
    standings: Sequence[Standing],
    edits: NoteEdits,
    drafted: dict[str, list[Sentence]],
    parts: Sequence[Part],
) -> Iterable[str]:
    enough = (s for s in standings if s.doubt and s.call is not Call.TOO_FEW)
    yield from (f"{ground.skills[s.skill].name}: {s.doubt}" for s in enough)
    yield from contradictions(ground.skills, standings, edits)
    shown = [sentence for part in parts for sentence in part.sentences]
    if any(part.to_write for part in parts if part.key == sheet.GOING_WELL):
        yield NAME_A_STRENGTH
    yield from astray(edits, (s.key for sentences in drafted.values() for s in sentences))
    yield from other_counts(shown, standings)
