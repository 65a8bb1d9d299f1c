"""Whether the coach's own words are easy enough for a family's page: told, and left to the coach."""

from collections.abc import Iterator

from evaltrack.words.family.sheet import FamilySheet
from evaltrack.words.reading_grade import HARD, reading_grade

_LEAST_WORDS = 8  # a few words have no grade: one long name would make it


def hard_words(sheet: FamilySheet) -> Iterator[str]:
    """Return a sentence for each paragraph of the coach's that reads above grade 8, with the paragraph."""
    for part in sheet.parts:
        for one in part.sentences:
            grade = reading_grade(one.text) if one.own and len(one.text.split()) >= _LEAST_WORDS else 0
            if grade > HARD:
                yield (
                    f"This reads at about grade {grade:.0f}; shorter sentences and shorter words reach more "
                    f"families: “{one.text}”"
                )
