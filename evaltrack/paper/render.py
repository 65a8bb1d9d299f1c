"""Printing: a template and its words become a tagged PDF. The only module that knows typst.

All words go to the template as data, so nothing that a coach types is ever taken for a command.
"""

import json
import re
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path

import typst

from evaltrack.device.added_fonts import added_fonts
from evaltrack.language import Language, tr
from evaltrack.places import assets
from evaltrack.rink.plain_text import printable

_NO_LETTER = re.compile(r'the text `"(?P<letters>.*)"` could not be displayed', re.DOTALL)


@dataclass(frozen=True, slots=True)
class Printed:
    """A finished file: its bytes, its pages, and what the coach must know before giving it away."""

    content: bytes
    pages: int
    problem: str | None = None


def print_pdf(template: Path, words: dict, day: date) -> Printed:
    """Return a PDF with the PDF/UA-1 rules checked; where they refuse, print without the claim and say why.

    Parameters
    ----------
    template : a typst file; it may import others of its folder.
    words : what the template finds in ``sys.inputs.words``, as JSON.
    day : the day up to which is counted. It is the moment in the file: the same numbers give the same bytes.
    """
    compiler, inputs = _compiler(template, _own_fonts()), _inputs(words)
    moment = int(datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp())
    try:
        content, problem = _pdf(compiler, inputs, moment, ["ua-1"]), None
    except typst.TypstError as refusal:
        content, problem = _pdf(compiler, inputs, moment, []), _explained(str(refusal))
    pages = int(json.loads(compiler.query("<pages>", field="value", one=True)))
    return Printed(content, pages, problem)


def tagged(language: Language) -> dict[str, str | None]:
    """Return the language and the region as a template takes them: typst breaks words and tags by both."""
    lang, _, region = language.value.partition("-")
    return {"lang": lang, "region": region or None}


def print_pngs(template: Path, words: dict, dots: int) -> list[bytes]:
    """Return each page as a picture with so many dots to the inch."""
    made = _compiler(template, _own_fonts()).compile(sys_inputs=_inputs(words), format="png", ppi=dots)
    return made if isinstance(made, list) else [made]


def _pdf(compiler: typst.Compiler, inputs: dict[str, str], moment: int, standards: list[str]) -> bytes:
    return compiler.compile(sys_inputs=inputs, format="pdf", pdf_standards=standards, timestamp=moment)


def _inputs(words: dict) -> dict[str, str]:
    return {"words": json.dumps(_plain(words), ensure_ascii=False)}


def _plain(words):
    """Return the words with every text in them printable."""
    if isinstance(words, dict):
        return {name: _plain(value) for name, value in words.items()}
    if isinstance(words, list | tuple):
        return [_plain(value) for value in words]
    return printable(words) if isinstance(words, str) else words


def _explained(refusal: str) -> str:
    found = _NO_LETTER.search(refusal)
    if found:
        letters = found["letters"]
        return tr(
            "no font has the letter {letters}, so it is an empty box on paper; spell it another way",
            letters=letters,
        )
    return tr("printed, but screen readers may not read all of it: {refusal}", refusal=refusal)


def _own_fonts() -> tuple[str, ...]:
    """Return where the fonts lie; typst looks into all of them for a letter that the usual ones lack."""
    return str(assets() / "fonts"), *({str(font.parent) for font in added_fonts()})


@cache
def _compiler(template: Path, folders: tuple[str, ...]) -> typst.Compiler:
    # only our own fonts: a system's "last resort" font has a box for every letter and hides what is missing
    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=list(folders))
    return typst.Compiler(str(template), root=str(template.parent), font_paths=fonts)
