"""A language that nobody speaks: each looked-up sentence in brackets, so that what stands outside was not."""

import re
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

OPEN, CLOSE = "⟦", "⟧"


class Bracketed:
    """A catalogue that puts each sentence into brackets."""

    def gettext(self, message: str) -> str:
        """Return the sentence in brackets."""
        return f"{OPEN}{message}{CLOSE}"

    def ngettext(self, one: str, many: str, number: int) -> str:
        """Return the form of English in brackets."""
        return self.gettext(one if number == 1 else many)


def bracketed_library(folder: Path, source: Path) -> Path:
    """Write the sentences of click in brackets where it looks for French below a folder, and return that."""
    with source.open("rb") as file:
        french = read_po(file)
    words = Catalog()
    words.mime_headers = [
        ("Content-Type", "text/plain; charset=utf-8"),
        ("Plural-Forms", french.plural_forms),
    ]
    for one in french:
        if one.id:
            ids = one.id if isinstance(one.id, tuple) else (one.id,)
            said = tuple(f"{OPEN}{each}{CLOSE}" for each in ids)
            words.add(one.id, said if len(said) > 1 else said[0])
    target = folder / "languages" / "fr" / "LC_MESSAGES" / "messages.mo"
    target.parent.mkdir(parents=True)
    with target.open("wb") as file:
        write_mo(file, words)
    return folder


def outside(text: str) -> str:
    """Return what stands outside all brackets; one that was cut off ends with its dots."""
    inner = re.compile(rf"{OPEN}[^{OPEN}{CLOSE}]*?(?:{CLOSE}|\.\.\.$)", re.MULTILINE)
    while (less := inner.sub(" ", text)) != text:
        text = less
    return text
