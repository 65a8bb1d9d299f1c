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
from evaltrack.words.points import clear_span, moved_words
from evaltrack.words.wording import count_words

_MEND = (
    "Read the definitions together, agree on five tries as examples of each skill, and watch one station "
    "together again."
)
_HOW = (
    "let two observers watch the same skill at the same station for one drill of 8 minutes or more, each "
    "on their own tablet or with times in the file"
)
ONE_BY_ONE = "Skill by skill"


def remarks(found: Agreement) -> list[str]:
    """Return in sentences how far each two agree, what to do about it, and what cannot be compared."""
    said = [sentence for _, rows in by_two(found) for sentence in sentences_of(rows)]
    return [*(said or [_nothing(found)]), *map(unmatched_words, not_paired(found))]


def of_practice(season, practice: str) -> list[str]:
    """Return in sentences how far the observers of one practice agreed; skills by name."""
    found = _named(read_agreement(season, practice), season)
    if not found.pairings:
        return ["no two observers tallied the same tries in it"]
    return remarks(found) if found.rows else list(map(unmatched_words, not_paired(found)))


def of_season(season) -> list[tuple[str, list[str]]]:
    """Return what is to be told of the observers of a season: headings, each with its lines; skills by name.

    First what each two observers are told and then each skill; where nothing can be compared, that.
    """
    found = _named(read_agreement(season), season)
    told = []
    for (first, second), rows in by_two(found):
        lines = [skill_words(row) for row in rows if row.skill != ALL]
        told += [(f"{first} and {second}", sentences_of(rows)), (ONE_BY_ONE, lines)]
    told = told or [("", [sentence(_nothing(found))])]
    apart = [sentence(unmatched_words(pairing)) for pairing in not_paired(found)]
    return [*told, *([("Not matched", apart)] if apart else [])]


def _named(found: Agreement, season) -> Agreement:
    """Return the same with the names of the skills in place of their keys."""
    names = {skill.key: skill.name for skill in season.catalogue.skills(retired=True)}
    return replace(
        found, rows=tuple(replace(row, skill=names.get(row.skill, row.skill)) for row in found.rows)
    )


def sentence(words: str) -> str:
    """Return words with a capital and a full stop."""
    return words[:1].upper() + words[1:] + ("" if words.endswith(".") else ".")


def skill_words(row: Row) -> str:
    """Return how far two observers agree in one skill, and who is stricter where one of them is."""
    doubt = (
        f" ({against_aim(row.share_low)} to {against_aim(row.share_high)})"
        if row.share_low is not None
        else ""
    )
    said = f"{row.skill}: agreed in {_agreed(row)}{doubt}"
    if not is_stricter(row):
        return f"{said}; neither is surely the stricter."
    return f"{said}. {_stricter(row)}"


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
    if len(found.observers) < 2:
        seen = f"{found.observers[0]} is the only observer" if found.observers else "nobody tallied yet"
        return f"nothing can be compared: {seen} in this season; {_HOW}"
    return f"nothing can be compared: no two observers have tallied the same tries; {_HOW}"


def _verdict(row: Row) -> str:
    said = f"{row.first} and {row.second} agreed in {_agreed(row)}"
    if row.share_low is None:
        return f"{said}. The minutes are too few to say how sure that is: {_HOW}."
    between = f"{against_aim(row.share_low)} and {against_aim(row.share_high)} %"
    return f"{said}; the true figure lies between {between} in 9 of 10 cases. {_advice(row)}"


def _advice(row: Row) -> str:
    aim = percent(ENOUGH)
    if row.share_low >= ENOUGH:
        return f"That is enough: the aim is {aim} %."
    if row.share_high < ENOUGH:
        return f"That is too little: the aim is {aim} %. {_MEND}"
    unsure = f"The aim is {aim} %, and the chance that they truly reach it is {_chance(1 - row.p_below)}."
    if row.share < ENOUGH:
        return f"{unsure} {_MEND}"
    return f"{unsure} To be surer, let them watch one station together again."


def _split(rows: list[Row]) -> list[str]:
    row = split_most(rows)
    if row is None:
        return []
    if is_stricter(row):
        return [f"Talk over the definition of {row.skill} first: {_severity(row)}"]
    done = f"{row.first} saw {row.first_done} done, {row.second} {row.second_done}"
    return [f"Talk over the definition of {row.skill} first: they agreed in {_agreed(row)}; {done}."]


def _severity(row: Row) -> str:
    sides = [(row.first, row.first_done), (row.second, row.second_done)]
    (strict, fewer), (other, more) = sides if row.difference < 0 else sides[::-1]
    return f"{strict} saw {count_words(fewer, row.tries)} tries done, {other} {more}. {_stricter(row)}"


def _stricter(row: Row) -> str:
    strict = row.first if row.difference < 0 else row.second
    low, high = sorted(abs(end) for end in (row.difference_low, row.difference_high))
    return f"{strict} is the stricter there, by {moved_words(row.difference)} ({clear_span(low, high)})."


def _agreed(row: Row) -> str:
    return f"{agreed_count(row)} {'try' if row.tries == 1 else 'tries'}, {against_aim(row.share)} %"


def _chance(chance: float) -> str:
    if chance < 0.01:
        return "under 1 %"
    return "over 99 %" if chance > 0.99 else f"{percent(chance)} %"


def unmatched_words(pairing: Pairing) -> str:
    """Return in one sentence that no common time was found in a practice, and why that may be."""
    who = f"{pairing.first} and {pairing.second}"
    return (
        f"{pairing.practice}: {who} tallied the same skill, but no common time was found; either they "
        "watched different tries, or their clocks are more than 5 minutes apart: set them alike"
    )


def agreed_count(row: Row) -> str:
    """Return ``41 of 50``."""
    return count_words(round(row.share * row.tries), row.tries)


def against_aim(share: float) -> str:
    """Return a share agreed in percent, with one more digit where rounding would lift it to the aim."""
    if share < ENOUGH and round(100 * share) >= round(100 * ENOUGH):
        return f"{floor(1000 * share) / 10:.1f}"
    return percent(share)


def percent(share: float) -> str:
    """Return a share in whole percent, without the sign."""
    return f"{100 * share:.0f}"
