"""The coach's own words on a family's page: kept as they were typed, and looked over for the coach."""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import tr
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.words.family.sheet import AGREED, COACH, Sentence
from evaltrack.words.wording import count_words, long_date

# 26 of 37, of the 37; 26 sur 37, 26 essais sur 37, 26 fois sur les 37
_COUNT = re.compile(r"\b(\d+) (?:of (?:the )?|(?:essais? |fois )?sur (?:les )?)(\d+)\b")


def coach_sentences(text: str) -> Iterator[Sentence]:
    """Return the coach's paragraphs, each a sentence of the page."""
    for place, paragraph in enumerate(_paragraphs(text), 1):
        yield Sentence(f"{COACH}.{place}", paragraph, own=True)


def agreed_sentences(agreed: Iterable[Agreed]) -> Iterator[Sentence]:
    """Return what was agreed, with who helps and when it is looked at again."""
    for place, one in enumerate(agreed, 1):
        yield Sentence(f"{AGREED}.{place}", _agreed(one), own=True)


def _agreed(one: Agreed) -> str:
    what, who = one.what.strip().rstrip("."), one.who_helps.strip().rstrip(".")
    day = long_date(one.look_again) if one.look_again else ""
    if who and day:
        return tr("{what}. Who helps: {who}. We look again on {day}.", what=what, who=who, day=day)
    if who:
        return tr("{what}. Who helps: {who}.", what=what, who=who)
    return tr("{what}. We look again on {day}.", what=what, day=day) if day else f"{what}."


def edited(sentences: Iterable[Sentence], words: Mapping[str, str]) -> Iterator[Sentence]:
    """Return the sentences with the coach's words in their place; what was emptied is left out."""
    for sentence in sentences:
        text = words.get(sentence.key, sentence.text)
        if text == sentence.text:
            yield sentence
        elif own := " ".join(_paragraphs(text)):
            lead = sentence.lead if own.startswith(sentence.lead) else ""
            yield Sentence(sentence.key, own, sentence.skill, own=True, lead=lead)


def astray(edits: NoteEdits, shown: Iterable[str]) -> Iterator[str]:
    """Return what the coach wrote for sentences that the page no longer has, so that nothing goes in silence.

    ``shown`` are the keys of the sentences that were drafted.
    """
    shown = set(shown)
    for key, text in edits.words.items():
        if key not in shown and text.strip():
            yield tr(
                "What you wrote stands on the page no more, since its sentence is gone: “{text}”",
                text=text.strip(),
            )


def other_counts(sentences: Iterable[Sentence], standings: Sequence[Standing]) -> Iterator[str]:
    """Return a sentence for each count in the coach's words that is not the count of that skill now."""
    own = {s.skill: s for s in standings}
    for sentence in sentences:
        standing = own.get(sentence.skill)
        if sentence.own and standing:
            known = count_words(standing.done, standing.tries)
            for done, tries in _COUNT.findall(sentence.text):
                if (told := count_words(int(done), int(tries))) != known:
                    yield tr(
                        "Your words say {told}, and the count is {known}: “{text}”",
                        told=told,
                        known=known,
                        text=sentence.text,
                    )


def _paragraphs(text: str) -> Iterator[str]:
    for line in text.splitlines():
        # control characters have no shape on paper; everything else is the coach's to write
        clean = "".join(" " if c == "\t" else c for c in line if c == "\t" or unicodedata.category(c) != "Cc")
        if clean.strip():
            yield clean.strip()
