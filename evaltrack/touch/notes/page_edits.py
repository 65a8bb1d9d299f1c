"""What a touch or a word on a page's screen becomes: a fact where something is changed, and else nothing."""

from evaltrack.rink.family_note import Agreed
from evaltrack.rink.note_life import OF_THINGS, NoteFact, NoteField, NoteLife
from evaltrack.words.family.sheet import Sentence


def words_of(life: NoteLife, ours: Sentence, text: str) -> list[NoteFact]:
    """Return what the words in the place of a sentence change; those as drafted are ours again."""
    text = " ".join(text.split())
    value = None if text == ours.text else text
    return _changed(life, NoteField.WORDS, value, ours.key)


def ours_again(life: NoteLife, ours: Sentence) -> list[NoteFact]:
    """Return what it changes to have a sentence as it was drafted."""
    return _changed(life, NoteField.WORDS, None, ours.key)


def left_out(life: NoteLife, ours: Sentence) -> list[NoteFact]:
    """Return what it changes to leave a sentence out."""
    return _changed(life, NoteField.WORDS, "", ours.key)


def said(life: NoteLife, field: NoteField, text: str) -> list[NoteFact]:
    """Return what a text changes of which a page has one only."""
    lines = (" ".join(line.split()) for line in text.strip().splitlines())
    before = life.value(field) or ""
    text = "\n".join(lines)
    return [] if text == before else [NoteFact(life.key, field, text)]


def agreed(life: NoteLife, about: str, thing: Agreed) -> list[NoteFact]:
    """Return what it changes to have agreed on this; who helps and when is kept with something only."""
    again = thing.look_again.isoformat() if thing.look_again else ""
    texts = (" ".join(text.split()) for text in (thing.what, thing.who_helps, again))
    values = dict(zip(OF_THINGS, texts, strict=True))
    if not values[NoteField.AGREED] and about not in life.things:
        return []
    return [
        NoteFact(life.key, field, value, about)
        for field, value in values.items()
        if value != (life.value(field, about) or "")
    ]


def not_agreed(life: NoteLife, about: str) -> list[NoteFact]:
    """Return what it changes to have agreed on no such thing."""
    return [NoteFact(life.key, NoteField.AGREED, "", about)] if about in life.things else []


def _changed(life: NoteLife, field: NoteField, value: str | None, about: str) -> list[NoteFact]:
    return [] if value == life.value(field, about) else [NoteFact(life.key, field, value, about)]
