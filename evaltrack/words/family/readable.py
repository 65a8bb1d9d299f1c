"""Whether the coach's own words are easy enough for a family's page: told, and left to the coach."""

from collections.abc import Iterator

from evaltrack.language import tr
from evaltrack.words.family.page_language import page_language
from evaltrack.words.family.sheet import FamilySheet
from evaltrack.words.reading_ease import HARD_EASE, reading_ease
from evaltrack.words.reading_grade import HARD, reading_grade

_LEAST_WORDS = 8  # a few words have no grade: one long name would make it


def hard_words(sheet: FamilySheet) -> Iterator[str]:
    """Return a sentence for each paragraph of the coach's that reads above grade 8, with the paragraph.

    French has no such grade: on a French page it is the reading ease that tells.
    """
    judge = _too_hard_in_french if page_language(sheet.language).is_french else _too_hard
    for part in sheet.parts:
        for one in part.sentences:
            if one.own and len(one.text.split()) >= _LEAST_WORDS:
                yield from judge(one.text)


def _too_hard(text: str) -> Iterator[str]:
    grade = reading_grade(text)
    if grade > HARD:
        yield tr(
            "This reads at about grade {grade}; shorter sentences and shorter words reach more families: "
            "“{text}”",
            grade=round(grade),
            text=text,
        )


def _too_hard_in_french(text: str) -> Iterator[str]:
    if reading_ease(text) < HARD_EASE:
        yield tr(
            "This is hard to read; shorter sentences and shorter words reach more families: “{text}”",
            text=text,
        )
