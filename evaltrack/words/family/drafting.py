"""From one player's standings to the family's page, with what the coach changed of it."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.language import mark, speaking, tr
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
from evaltrack.words.family.page_language import page_language
from evaltrack.words.family.picks import contradictions, picked
from evaltrack.words.family.rows import skill_row
from evaltrack.words.family.sheet import FamilySheet, Part, Sentence, SkillRow
from evaltrack.words.family.skill_words import next_words, strength_words
from evaltrack.words.family.watched import thin_words, watched_sentences
from evaltrack.words.wording import is_firm

__all__ = ("Choices", "Ground", "Offered", "choices", "draft_sheet", "read_ground", "refusals")

OPEN = "open"  # in the key of the sentence that stands where no skill is named
NAME_A_STRENGTH = mark(
    "The page names nothing that goes well: pick a skill from the list, or write what you saw."
)


def draft_sheet(
    ground: Ground,
    player: Player,
    standings: Sequence[Standing],
    edits: NoteEdits | None = None,
    is_draft: bool = True,
) -> FamilySheet:
    """Return the page of one player, in the language of the edits, whatever the language in force is.

    Nothing is read or written: the same values give the same page. Only ``doubts`` are in the language in
    force, which is the coach's.

    Parameters
    ----------
    standings : this player's, in the order of the catalogue, as of the ground's day.
    edits : what the coach changed; None as drafted. A pick that a call contradicts is left out, and told
        in ``doubts``.
    """
    edits = edits or NoteEdits()
    wanted = page_language(edits.language)
    with speaking(wanted):
        page, drafted = _said(ground.in_words(), player, standings, edits)
    doubts = _doubts(ground.in_words(), standings, edits, drafted, page.parts)
    return replace(page, is_draft=is_draft, language=str(wanted), doubts=tuple(doubts))


def _said(
    ground: Ground, player: Player, standings: Sequence[Standing], edits: NoteEdits
) -> tuple[FamilySheet, dict[str, list[Sentence]]]:
    """Return all that the page says, and its sentences before any edit, by part."""
    away = player.is_away(ground.axis.last)
    drafted = _drafted(ground, player, standings, picked(standings, edits))
    told = [s for s in standings if s.call is not Call.TOO_FEW]
    rows = tuple(skill_row(ground.skills[s.skill], s, ground.axis.last, away) for s in told)
    page = FamilySheet(
        team=ground.team,
        number=player.number,
        name=player.name,
        position=player.position_words,
        axis=ground.axis,
        meeting=edits.meeting,
        coach=edits.coach,
        parts=tuple(_parts(drafted, edits)),
        rows=rows,
        how_to_read=_how_to_read(rows),
        thin=thin_words(ground, standings),
        footers=tuple(map(tr, page_words.FOOTERS)),
        agreed=edits.agreed,
        plays=player.positions,
    )
    return page, drafted


def refusals(ground: Ground, player: Player, standings: Sequence[Standing], edits: NoteEdits) -> list[str]:
    """Return a sentence for each pick that cannot stand on the page; empty when the edits may be kept."""
    return contradictions(ground.in_words().skills, standings, edits)


def _how_to_read(rows: Sequence[SkillRow]) -> str:
    return page_words.how_to_read(
        drawn=any(row.drawn for row in rows),
        ranged=any(row.is_ranged for row in rows),
        solid=any(row.is_solid for row in rows),
    )


def _drafted(
    ground: Ground, player: Player, standings: Sequence[Standing], choice: Choice
) -> dict[str, list[Sentence]]:
    return {
        sheet.SEEN: list(watched_sentences(ground, player, standings)),
        sheet.GOING_WELL: list(_strengths(ground, choice.strengths)),
        sheet.NEXT: list(_next_steps(ground, choice.next_skills, any(map(is_firm, standings)))),
        sheet.AT_HOME: list(_at_home(ground, choice.next_skills)),
    }


def _strengths(ground: Ground, strengths: Sequence[Standing]) -> Iterable[Sentence]:
    if not strengths:
        yield Sentence(f"{sheet.GOING_WELL}.{OPEN}", tr(page_words.NO_STRENGTH))
    for standing in strengths:
        skill = ground.skills[standing.skill]
        text = strength_words(skill, standing, ground.axis.last)
        yield Sentence(f"{sheet.GOING_WELL}.{skill.key}", text, skill.key, lead=skill.name)


def _next_steps(ground: Ground, steps: Sequence[Standing], enough_seen: bool) -> Iterable[Sentence]:
    if not steps:
        words = page_words.NO_NEXT_STEP if enough_seen else page_words.TOO_LITTLE_SEEN
        yield Sentence(f"{sheet.NEXT}.{OPEN}", tr(words))
    for standing in steps:
        skill = ground.skills[standing.skill]
        text = next_words(skill, standing, ground.axis.last)
        yield Sentence(f"{sheet.NEXT}.{skill.key}", text, skill.key, lead=skill.name)


def _at_home(ground: Ground, steps: Sequence[Standing]) -> Iterable[Sentence]:
    for skill in (ground.skills[one.skill] for one in steps):
        # of two next steps one thing each: four are more than a family does, and than one page has room for
        for place, line in enumerate(skill.at_home[: 1 if len(steps) > 1 else None], 1):
            # and it must be seen to which one a line belongs
            text, lead = (f"{skill.name}. {line}", skill.name) if len(steps) > 1 else (line, "")
            yield Sentence(f"{sheet.AT_HOME}.{skill.key}.{place}", text, skill.key, lead=lead)


def _parts(drafted: dict[str, list[Sentence]], edits: NoteEdits) -> Iterable[Part]:
    for key, sentences in drafted.items():
        said = tuple(edited(sentences, edits.words))
        to_write = key == sheet.GOING_WELL and not any(one.skill or one.own for one in said)
        yield Part(key, tr(page_words.HEADINGS[key]), said, to_write)
    for key, own in (
        (sheet.COACH, tuple(coach_sentences(edits.coach_words))),
        (sheet.AGREED, tuple(agreed_sentences(edits.agreed))),
    ):
        yield Part(key, tr(page_words.HEADINGS[key]), own, to_write=not own)


def _doubts(
    ground: Ground,
    standings: Sequence[Standing],
    edits: NoteEdits,
    drafted: dict[str, list[Sentence]],
    parts: Sequence[Part],
) -> Iterable[str]:
    enough = (s for s in standings if s.doubt and s.call is not Call.TOO_FEW)
    yield from (tr("{skill}: {doubt}", skill=ground.skills[s.skill].name, doubt=tr(s.doubt)) for s in enough)
    yield from contradictions(ground.skills, standings, edits)
    shown = [sentence for part in parts for sentence in part.sentences]
    if any(part.to_write for part in parts if part.key == sheet.GOING_WELL):
        yield tr(NAME_A_STRENGTH)
    yield from astray(edits, (s.key for sentences in drafted.values() for s in sentences))
    yield from other_counts(shown, standings)
