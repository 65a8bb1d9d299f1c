"""How far two observers agree, in sentences: what was found, how sure it is, and what to do."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby
from math import floor

from evaltrack.analysis.agreement.agreement import (
    ALL,
    ENOUGH,
    Agreement,
    Row,
    is_stricter,
    read_agreement,
    split_most,
)
from evaltrack.analysis.agreement.pairing import Pairing
from evaltrack.language import mark, tr, tr_many
from evaltrack.words.points import clear_span, moved_words
from evaltrack.words.wording import as_sentence, count_words, decimal, in_percent, listed

_MEND = mark(
    "Read the definitions together, agree on five tries as examples of each skill, and watch one station "
    "together again."
)
_HOW = mark(
    "let two observers watch the same skill at the same station for one drill of 8 minutes or more, each "
    "on their own tablet or with times in the file"
)
_SURER = mark("To be surer, let them watch one station together again.")
ONE_BY_ONE = mark("Skill by skill")


def remarks(found: Agreement) -> list[str]:
    """Return in sentences how far each two agree, what to do about it, and what cannot be compared."""
    said = [sentence for _, rows in by_two(found) for sentence in sentences_of(rows)]
    return [*(said or [_nothing(found)]), *map(unmatched_words, not_paired(found))]


def of_practice(season, practice: str) -> list[str]:
    """Return in sentences how far the observers of one practice agreed; skills by name."""
    found = _named(read_agreement(season, practice), season)
    if not found.pairings:
        return [tr("no two observers tallied the same tries in it")]
    return remarks(found) if found.rows else list(map(unmatched_words, not_paired(found)))


def of_season(season) -> list[tuple[str, list[str]]]:
    """Return what is to be told of the observers of a season: headings, each with its lines; skills by name.

    First what each two observers are told and then each skill; where nothing can be compared, that.
    """
    found = _named(read_agreement(season), season)
    told = []
    for (first, second), rows in by_two(found):
        lines = [skill_words(row) for row in rows if row.skill != ALL]
        told += [(listed([first, second]), sentences_of(rows)), (tr(ONE_BY_ONE), lines)]
    told = told or [("", [as_sentence(_nothing(found))])]
    apart = [as_sentence(unmatched_words(pairing)) for pairing in not_paired(found)]
    return [*told, *([(tr("Not matched"), apart)] if apart else [])]


def _named(found: Agreement, season) -> Agreement:
    """Return the same with the names of the skills in place of their keys."""
    names = {skill.key: skill.name for skill in season.catalogue.skills(retired=True)}
    return replace(
        found, rows=tuple(replace(row, skill=names.get(row.skill, row.skill)) for row in found.rows)
    )


def skill_words(row: Row) -> str:
    """Return how far two observers agree in one skill, and who is stricter where one of them is."""
    agreed = _agreed(row)
    if row.share_low is not None:
        low, high = against_aim(row.share_low), against_aim(row.share_high)
        agreed = tr("{agreed} ({low} to {high})", agreed=agreed, low=low, high=high)
    if not is_stricter(row):
        return tr(
            "{skill}: agreed in {agreed}; neither is surely the stricter.", skill=row.skill, agreed=agreed
        )
    return tr(
        "{skill}: agreed in {agreed}. {stricter}", skill=row.skill, agreed=agreed, stricter=_stricter(row)
    )


def by_two(found: Agreement) -> Iterator[tuple[tuple[str, str], list[Row]]]:
    """Yield each two observers with their rows."""
    for names, rows in groupby(found.rows, lambda row: (row.first, row.second)):
        yield names, list(rows)


def sentences_of(rows: list[Row]) -> list[str]:
    """Return of two observers how far they agree, and which definition to talk over first."""
    return [_verdict(rows[0]), *_split(rows)]


def not_paired(found: Agreement) -> list[Pairing]:
    """Return where two observers tallied the same skill and no common time was found."""
    return [pairing for pairing in found.pairings if not pairing.pairs]


def _nothing(found: Agreement) -> str:
    how = tr(_HOW)
    if not found.observers:
        return tr("nothing can be compared: nobody tallied yet in this season; {how}", how=how)
    if len(found.observers) < 2:
        return tr(
            "nothing can be compared: {observer} is the only observer in this season; {how}",
            observer=found.observers[0],
            how=how,
        )
    return tr("nothing can be compared: no two observers have tallied the same tries; {how}", how=how)


def _verdict(row: Row) -> str:
    agreed = {"first": row.first, "second": row.second, "agreed": _agreed(row)}
    if row.share_low is None:
        return tr(
            "{first} and {second} agreed in {agreed}. The minutes are too few to say how sure that is: "
            "{how}.",
            how=tr(_HOW),
            **agreed,
        )
    return tr(
        "{first} and {second} agreed in {agreed}; the true figure lies between {low} and {high} % in 9 of 10 "
        "cases. {advice}",
        low=against_aim(row.share_low),
        high=against_aim(row.share_high),
        advice=_advice(row),
        **agreed,
    )


def _advice(row: Row) -> str:
    aim = percent(ENOUGH)
    if row.share_low >= ENOUGH:
        return tr("That is enough: the aim is {aim} %.", aim=aim)
    if row.share_high < ENOUGH:
        return tr("That is too little: the aim is {aim} %. {mend}", aim=aim, mend=tr(_MEND))
    return tr(
        "The aim is {aim} %, and the chance that they truly reach it is {chance}. {advice}",
        aim=aim,
        chance=_chance(1 - row.p_below),
        advice=tr(_MEND) if row.share < ENOUGH else tr(_SURER),
    )


def _split(rows: list[Row]) -> list[str]:
    row = split_most(rows)
    if row is None:
        return []
    if is_stricter(row):
        return [tr("Talk over the definition of {skill} first: {why}", skill=row.skill, why=_severity(row))]
    return [
        tr(
            "Talk over the definition of {skill} first: they agreed in {agreed}; {first} saw {first_done} "
            "done, {second} {second_done}.",
            skill=row.skill,
            agreed=_agreed(row),
            first=row.first,
            first_done=row.first_done,
            second=row.second,
            second_done=row.second_done,
        )
    ]


def _severity(row: Row) -> str:
    sides = [(row.first, row.first_done), (row.second, row.second_done)]
    (strict, fewer), (other, more) = sides if row.difference < 0 else sides[::-1]
    return tr(
        "{strict} saw {fewer} tries done, {other} {more}. {stricter}",
        strict=strict,
        fewer=count_words(fewer, row.tries),
        other=other,
        more=more,
        stricter=_stricter(row),
    )


def _stricter(row: Row) -> str:
    strict = row.first if row.difference < 0 else row.second
    low, high = sorted(abs(end) for end in (row.difference_low, row.difference_high))
    return tr(
        "{observer} is the stricter there, by {points} ({span}).",
        observer=strict,
        points=moved_words(row.difference),
        span=clear_span(low, high),
    )


def _agreed(row: Row) -> str:
    return tr_many(
        "{count} try, {share} %",
        "{count} tries, {share} %",
        row.tries,
        count=agreed_count(row),
        share=against_aim(row.share),
    )


def _chance(chance: float) -> str:
    if chance < 0.01:
        return tr("under 1 %")
    return tr("over 99 %") if chance > 0.99 else in_percent(chance)


def unmatched_words(pairing: Pairing) -> str:
    """Return in one sentence that no common time was found in a practice, and why that may be."""
    return tr(
        "{practice}: {first} and {second} tallied the same skill, but no common time was found; either they "
        "watched different tries, or their clocks are more than 5 minutes apart: set them alike",
        practice=pairing.practice,
        first=pairing.first,
        second=pairing.second,
    )


def agreed_count(row: Row) -> str:
    """Return ``41 of 50``."""
    return count_words(round(row.share * row.tries), row.tries)


def against_aim(share: float) -> str:
    """Return a share agreed in percent, with one more digit where rounding would lift it to the aim."""
    if share < ENOUGH and round(100 * share) >= round(100 * ENOUGH):
        return decimal(floor(1000 * share) / 10)
    return percent(share)


def percent(share: float) -> str:
    """Return a share in whole percent, without the sign."""
    return decimal(100 * share, 0)
