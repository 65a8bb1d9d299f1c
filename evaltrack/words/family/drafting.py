"""From one player's standings to the family's page, with what the coach changed of it."""

import unicodedata
from collections.abc import Iterable, Sequence

from evaltrack.analysis.standings.standing import Call, Standing, Trend
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.player import Player
from evaltrack.words import wording
from evaltrack.words.curve import curve
from evaltrack.words.family import sheet
from evaltrack.words.family.choice import Choice, choose
from evaltrack.words.family.choices import Choices, Offered
from evaltrack.words.family.ground import Ground, read_ground
from evaltrack.words.family.presence import Presence
from evaltrack.words.family.sheet import FamilySheet, Part, Sentence, SkillRow
from evaltrack.words.legends import how_to_read

__all__ = ("choices", "draft_sheet", "read_ground", "refusals")

_HEADINGS = {
    sheet.SEEN: "What we watched",
    sheet.GOING_WELL: "Going well",
    sheet.NEXT: "Working on next",
    sheet.AT_HOME: "To try at home",
    sheet.COACH: "From the coach",
    sheet.AGREED: "What we agreed today",
}


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
    edits, away = edits or NoteEdits(), player.is_away()
    strengths, steps = _picked(standings, edits)
    enough = [s for s in standings if s.call is not Call.TOO_FEW]
    rows = tuple(_row(ground, s, away) for s in enough)
    said = {
        sheet.SEEN: _summary(ground.presence.get(player.id), standings, away),
        sheet.GOING_WELL: [_strength(ground, s) for s in strengths],
        sheet.NEXT: [_next_step(ground, s) for s in steps],
        sheet.AT_HOME: _at_home(ground, steps),
        sheet.COACH: _numbered(sheet.COACH, _paragraphs(edits.coach_words)),
        sheet.AGREED: _numbered(sheet.AGREED, map(_agreed, edits.agreed)),
    }
    doubts = [f"{ground.skills[s.skill].name}: {s.doubt}" for s in enough if s.doubt]
    return FamilySheet(
        team=ground.team,
        number=player.number,
        name=player.name,
        position=player.position_words,
        axis=ground.axis,
        meeting=edits.meeting,
        coach=edits.coach,
        parts=tuple(Part(key, _HEADINGS[key], tuple(_edited(said[key], edits))) for key in sheet.PARTS),
        rows=rows,
        how_to_read=how_to_read(any(row.drawn for row in rows), any(s.call is Call.SOLID for s in strengths)),
        thin=_thin(standings, ground),
        footers=(wording.COUNTS, wording.CAUTION),
        is_draft=is_draft,
        language=edits.language,
        doubts=(*doubts, *refusals(ground, player, standings, edits)),
        agreed=edits.agreed,
    )


def choices(ground: Ground, player: Player, standings: Sequence[Standing]) -> Choices:
    """Return which skills may stand under going well and which may be a next step, each with its sentence."""
    strengths, steps = _drafted(choose(standings))
    return Choices(
        tuple(_offered(s, _strength(ground, s), s in strengths) for s in standings if _may_be_strength(s)),
        tuple(_offered(s, _next_step(ground, s), s in steps) for s in standings if _may_be_next(s)),
    )


def refusals(ground: Ground, player: Player, standings: Sequence[Standing], edits: NoteEdits) -> list[str]:
    """Return a sentence for each pick that a call contradicts; empty when the edits may be kept."""
    own = {s.skill: s for s in standings}
    told = []
    for keys, allowed, part in (
        (edits.strengths, _may_be_strength, sheet.GOING_WELL),
        (edits.next_skills, _may_be_next, sheet.NEXT),
    ):
        for key in keys or ():
            name = ground.skills[key].name if key in ground.skills else key
            if key not in own or not allowed(own[key]):
                call = wording.call_words(own[key]) if key in own else "not watched"
                told.append(f"{name} is {call or 'in doubt'}: it cannot stand under {_HEADINGS[part]}.")
    return told


def _may_be_strength(standing: Standing) -> bool:
    return wording.is_firm(standing) and standing.call is not Call.WORK_ON


def _may_be_next(standing: Standing) -> bool:
    return wording.is_firm(standing) and standing.call is not Call.SOLID


def _offered(standing: Standing, sentence: Sentence, drafted: bool) -> Offered:
    return Offered(standing.skill, sentence.lead, sentence.text, drafted)


def _drafted(choice: Choice) -> tuple[tuple[Standing, ...], tuple[Standing, ...]]:
    return choice.solid + choice.rising + choice.relative, choice.next_skills


def _picked(standings: Sequence[Standing], edits: NoteEdits):
    own, (strengths, steps) = {s.skill: s for s in standings}, _drafted(choose(standings))
    if edits.strengths is not None:
        strengths = [own[k] for k in edits.strengths if k in own and _may_be_strength(own[k])]
    if edits.next_skills is not None:
        steps = [own[k] for k in edits.next_skills if k in own and _may_be_next(own[k])]
    return strengths, [s for s in steps if s not in strengths]


def _summary(presence: Presence | None, standings: Sequence[Standing], away: bool) -> Iterable[Sentence]:
    if presence and presence.joined_late:
        yield Sentence("seen.first_here", f"First here on {wording.long_date(presence.first)}.")
    if presence and away:
        yield Sentence("seen.away", f"Away at present, last here on {wording.long_date(presence.last)}.")
    tries = wording.counted(sum(s.tries for s in standings), "try", "tries")
    skills = wording.counted(len(standings), "skill")
    yield Sentence("seen.counts", f"Coaches noted {tries} in {skills}.")


def _strength(ground: Ground, standing: Standing) -> Sentence:
    name = ground.skills[standing.skill].name
    solid = "solid, " if standing.call is Call.SOLID else ""
    rising = f"{wording.DIRECTIONS[Trend.UP]}, " if standing.trend is Trend.UP else ""
    text = f"{name}: {solid}{rising}{_count(standing)}"
    return Sentence(f"{sheet.GOING_WELL}.{standing.skill}", text, standing.skill, lead=name)


def _next_step(ground: Ground, standing: Standing) -> Sentence:
    skill = ground.skills[standing.skill]
    text = f"{skill.name}: {_count(standing)} Aim: {skill.looks_like}."
    return Sentence(f"{sheet.NEXT}.{standing.skill}", text, standing.skill, lead=skill.name)


def _count(standing: Standing) -> str:
    return f"done in {wording.told(standing)}."


def _at_home(ground: Ground, steps: Iterable[Standing]) -> Iterable[Sentence]:
    for standing in steps:
        for place, line in enumerate(ground.skills[standing.skill].at_home, 1):
            yield Sentence(f"{sheet.AT_HOME}.{standing.skill}.{place}", line, standing.skill)


def _agreed(one: Agreed) -> str:
    who = f" Who helps: {one.who_helps}." if one.who_helps else ""
    again = f" Look again on {wording.long_date(one.look_again)}." if one.look_again else ""
    return f"{one.what}{who}{again}"


def _numbered(part: str, texts: Iterable[str]) -> Iterable[Sentence]:
    for place, text in enumerate(texts, 1):
        yield Sentence(f"{part}.{place}", text, own=True)


def _edited(sentences: Iterable[Sentence], edits: NoteEdits) -> Iterable[Sentence]:
    for sentence in sentences:
        text = edits.words.get(sentence.key, sentence.text)
        if text == sentence.text:
            yield sentence
        elif text:
            yield Sentence(sentence.key, text, sentence.skill, own=True)


def _row(ground: Ground, standing: Standing, away: bool) -> SkillRow:
    skill, level = ground.skills[standing.skill], _level(ground, standing, away)
    return SkillRow(
        name=skill.name,
        looks_like=skill.looks_like,
        count=wording.count_words(standing.done, standing.tries),
        share=wording.share_words(standing.done, standing.tries),
        direction=wording.direction_words(standing),
        level=level,
        chart_words=wording.chart_words(skill.name, standing, level),
        path=curve(standing, until_now=not away),
        seen=standing.seen,
    )


def _level(ground: Ground, standing: Standing, away: bool) -> str:
    level = wording.level_words(standing)
    if not level or away:
        return ""
    return f"{wording.now_words(standing, ground.axis.last)} {level}"


def _thin(standings: Iterable[Standing], ground: Ground) -> str:
    thin = [s for s in standings if s.call is Call.TOO_FEW and s.tries]
    return "; ".join(f"{ground.skills[s.skill].name} {wording.count_words(s.done, s.tries)}" for s in thin)


def _paragraphs(text: str) -> Iterable[str]:
    for line in text.splitlines():
        # control characters have no shape on paper; everything else is the coach's to write
        clean = "".join(" " if c == "\t" else c for c in line if c == "\t" or unicodedata.category(c) != "Cc")
        if clean.strip():
            yield clean.strip()
