"""The forms in which a family's page is given away. All say the same; each is made by a module of its own."""

from collections.abc import Callable
from dataclasses import dataclass

from evaltrack.language import Language
from evaltrack.paper.note.placed import printable_page
from evaltrack.words.family.sheet import FamilySheet

FORMS = ("pdf", "html", "text", "docx")
SUFFIXES = {"pdf": ".pdf", "html": ".html", "text": ".txt", "docx": ".docx"}


@dataclass(frozen=True, slots=True)
class Wanted:
    """How pages are to be given away.

    Attributes
    ----------
    form : one of ``FORMS``.
    paper : ``us-letter`` or ``a4``; plain text has none.
    large_print : in 12 points; plain text has no size.
    by_number : whether names of files leave the player's name out.
    """

    form: str = FORMS[0]
    paper: str = "us-letter"
    large_print: bool = False
    by_number: bool = False

    def differs(self, language: Language) -> list[str]:
        """Return in what a page is another than in English on Letter in 10 points: ``fr``, ``a4``, ``large``.

        French of Canada is ``fr``, that of France ``fr-fr``. Plain text has neither paper nor size.
        """
        spoken = {Language.ENGLISH: "", Language.FRENCH_CANADA: "fr"}.get(language, str(language).lower())
        looks = ("a4" if self.paper == "a4" else "", "large" if self.large_print else "")
        return [word for word in (spoken, *(looks if self.form != "text" else ())) if word]


@dataclass(frozen=True, slots=True)
class Made:
    """A page as bytes, its pages on paper (1 where that is open), and what its printing complains of."""

    content: bytes
    pages: int = 1
    problem: str | None = None


def made(page: FamilySheet, wanted: Wanted | None = None) -> Made:
    """Return a page in a form; the same page gives the same bytes."""
    wanted = wanted or Wanted()
    return _MAKERS[wanted.form](printable_page(page), wanted)


# each is imported when it is first used: printing takes half a second that a list of notes need not wait for
def _pdf(page: FamilySheet, wanted: Wanted) -> Made:
    from evaltrack.paper.note.as_pdf import print_sheets

    printed = print_sheets([page], wanted.paper, wanted.large_print)
    return Made(printed.content, printed.pages, printed.problem)


def _html(page: FamilySheet, wanted: Wanted) -> Made:
    from evaltrack.paper.note.as_html import html_of

    return Made(html_of(page, wanted.paper, wanted.large_print).encode())


def _text(page: FamilySheet, _: Wanted) -> Made:
    from evaltrack.paper.note.as_text import text_of

    return Made(text_of(page).encode())


def _docx(page: FamilySheet, wanted: Wanted) -> Made:
    from evaltrack.paper.note.as_docx import docx_of

    return Made(docx_of(page, wanted.paper, wanted.large_print))


_MAKERS: dict[str, Callable[[FamilySheet, Wanted], Made]] = {
    "pdf": _pdf, "html": _html, "text": _text, "docx": _docx,
}  # fmt: skip
