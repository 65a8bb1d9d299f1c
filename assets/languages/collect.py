"""Bring the sentences of the code and those of the translation together.

    python assets/languages/collect.py              what is untranslated or no longer said; exit 1 if any is
    python assets/languages/collect.py --blank FILE  writes the untranslated ones to fill in

Run it in a checkout, with Babel: the code is read, and next to none of it is run.
"""

import argparse
import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po, write_po

HERE = Path(__file__).resolve().parent
PACKAGE = HERE.parents[1] / "evaltrack"
SAMPLE = HERE.parents[1] / "sample_roster"
# the words of the shipped skills and drills have a context of their own, joined to them as gettext does it
CATALOGUE, JOINED = "catalogue", "\x04"
CATALOGUE_TEXTS = ("name", "caption", "starts", "done", "missed", "not_counted", "looks_like", "at_home")
TWO_FORMS = "nplurals=2; plural=(n > 1);"
VALUES = "sound"  # whose functions take the name of what they read
ROOM = "refuse_overfull"  # whose fourth argument names what there is no room for
COMMANDS, OPTIONS = ("command", "group"), ("option", "argument", "version_option")
ONE, MANY, COUNTED = ("tr", "mark", "unlike"), "tr_many", "counted"


@dataclass(slots=True)
class Said:
    """A sentence of the code: its key (two for a plural) and where it is said."""

    key: str | tuple[str, str]
    places: list[str] = field(default_factory=list)


def sentences(package: Path = PACKAGE) -> dict[str | tuple[str, str], Said]:
    """Return every marked sentence of the code by key, the shipped catalogue's and those of help."""
    found: dict[str | tuple[str, str], Said] = {}
    for file in sorted(package.rglob("*.py")):
        for key, line in of_python(file.read_text(encoding="utf-8"), str(file)):
            _add(found, key, f"{file.relative_to(package.parent).as_posix()}:{line}")
    for file in sorted(package.rglob("*.kv")):
        for key, line in of_kv(file.read_text(encoding="utf-8"), str(file)):
            _add(found, key, f"{file.relative_to(package.parent).as_posix()}:{line}")
    for file in (SAMPLE / "skills.toml", SAMPLE / "drills.toml"):
        for text, line in of_catalogue(file.read_text(encoding="utf-8")):
            _add(found, f"{CATALOGUE}{JOINED}{text}", f"{SAMPLE.name}/{file.name}:{line}")
    for key in of_help((HERE.parent / "help" / "pages.toml").read_text(encoding="utf-8")):
        _add(found, key, "assets/help/pages.toml:1")
    return found


def of_help(source: str):
    """Yield the sentences of the pages of help, the keys that they name, and the words of their drawings."""
    sys.path.insert(0, str(PACKAGE.parent))
    # how a page is read is known there; whoever only compiles needs none of it
    from evaltrack.words.help_pages import messages

    for parts in tomllib.loads(source).values():
        yield from messages(parts)


def of_catalogue(source: str) -> Iterator[tuple[str, int]]:
    """Yield the names and texts of skills.toml or drills.toml, with their lines."""
    lines = source.splitlines()
    for text in _texts_in(tomllib.loads(source)):
        yield text, next(number for number, line in enumerate(lines, start=1) if f'"{text}"' in line)


def _texts_in(found) -> Iterator[str]:
    for one in found if isinstance(found, list) else ():
        yield from _texts_in(one)
    for name, value in found.items() if isinstance(found, dict) else ():
        if name not in CATALOGUE_TEXTS:
            yield from _texts_in(value)
        else:
            yield from [value] if isinstance(value, str) else value


def of_python(source: str, name: str):
    """Yield the keys of a module, with their lines."""
    for node in ast.walk(ast.parse(source, name)):
        if isinstance(node, ast.Call) and (key := _key(node)) is not None:
            yield key, node.lineno
        if isinstance(node, ast.Call | ast.FunctionDef):
            for key in (*_of_command(node), *_of_values(node)):
                yield key, node.lineno


def _of_command(node: ast.Call | ast.FunctionDef) -> list[str]:
    """Return the help of a command, a paragraph a key, or what an option of one says when help is shown."""
    if isinstance(node, ast.FunctionDef):
        is_command = any(_name(one) in COMMANDS for one in node.decorator_list if isinstance(one, ast.Call))
        help_text = ast.get_docstring(node) or "" if is_command else ""
        return [" ".join(part.split()) for part in help_text.split("\n\n") if part]
    if _name(node) not in OPTIONS:
        return []
    words = [one.value for one in node.keywords if one.arg in ("help", "metavar")]
    return [one.value for one in words if isinstance(one, ast.Constant)]


def _of_values(node: ast.Call | ast.FunctionDef) -> list[str]:
    """Return what the season file's reader is told that it reads, and what there is no room for."""
    if not isinstance(node, ast.Call):
        return []
    said = node.args if _module(node) == VALUES else node.args[3:4] if _name(node) == ROOM else []
    words = [one.value for one in said if isinstance(one, ast.Constant)]
    return [word for word in words if isinstance(word, str)]


def _module(call: ast.Call) -> str | None:
    return getattr(getattr(call.func, "value", None), "id", None)


def _name(call: ast.Call) -> str | None:
    return getattr(call.func, "id", None) or getattr(call.func, "attr", None)


def of_kv(source: str, name: str):
    """Yield the keys of a kv file, with their lines: each line's right side is Python."""
    for number, line in enumerate(source.splitlines(), start=1):
        for start in re.finditer(r"\b(?:tr|tr_many|counted)\(", line):
            call = _call_from(line[start.start() :])
            if call is None:
                raise SyntaxError(f"{name}:{number}: this call of tr does not end on its line")
            for node in ast.walk(call):
                if isinstance(node, ast.Call) and (key := _key(node)) is not None:
                    yield key, number


def _call_from(text: str) -> ast.AST | None:
    for end in range(len(text), 0, -1):
        if text[end - 1] == ")":
            try:
                tree = ast.parse(text[:end], mode="eval")
            except SyntaxError:
                continue
            if isinstance(tree.body, ast.Call):
                return tree
    return None


def _key(call: ast.Call) -> str | tuple[str, str] | None:
    """Return the key of a call of tr, mark or tr_many; None if it is none, or looks a constant up."""
    name = _name(call)
    words = [arg.value if isinstance(arg, ast.Constant) else None for arg in call.args]
    if name in ONE and words and isinstance(words[0], str):
        return words[0]
    if name == COUNTED and len(words) >= 2 and isinstance(words[1], str):
        plural = words[2] if words[2:3] and isinstance(words[2], str) else f"{words[1]}s"
        return f"{{number}} {words[1]}", f"{{number}} {plural}"
    if name == MANY and len(words) >= 2 and isinstance(words[0], str) and isinstance(words[1], str):
        return words[0], words[1]
    return None


def _add(found, key, place: str) -> None:
    if key and key != ("", ""):
        found.setdefault(key, Said(key)).places.append(place)


def translation(folder: Path) -> Catalog:
    """Return all .po files of a language as one catalogue.

    Raises
    ------
    ValueError : two files say the same sentence differently
    """
    whole = Catalog()
    # said outright: Babel's own rule for French has a third form, for whole millions
    whole.mime_headers = [("Content-Type", "text/plain; charset=utf-8"), ("Plural-Forms", TWO_FORMS)]
    for file in sorted(folder.glob("*.po")):
        with file.open("rb") as opened:
            for message in read_po(opened, abort_invalid=True):
                if message.id and message.string:
                    _take(whole, message, file)
    return whole


def _take(whole: Catalog, message: Message, file: Path) -> None:
    known = whole.get(message.id, message.context)
    if known is not None and known.string != message.string:
        raise ValueError(f"{file.name} says {message.id!r} otherwise than another file")
    whole.add(
        message.id,
        message.string,
        flags=message.flags,
        user_comments=message.user_comments,
        context=message.context,
    )


def key_of(message: Message) -> str | tuple[str, str]:
    """Return the key of a translated sentence, with its context if it has one."""
    return f"{message.context}{JOINED}{message.id}" if message.context else message.id


def _parted(key: str | tuple[str, str]) -> tuple[str | tuple[str, str], str | None]:
    """Return a key without its context, and that."""
    if isinstance(key, tuple) or JOINED not in key:
        return key, None
    context, _, bare = key.partition(JOINED)
    return bare, context


def untranslated(said, french: Catalog) -> list[Said]:
    """Return the sentences that lack a translation, a plural form among them."""
    return [one for key, one in said.items() if not _is_whole(french.get(*_parted(key)), key)]


def _place(words: str) -> tuple[str, int]:
    file, _, line = words.rpartition(":")
    return file, int(line)


def _is_whole(message: Message | None, key) -> bool:
    if message is None or "fuzzy" in message.flags:
        return False
    if isinstance(key, tuple):
        return message.id == key and isinstance(message.string, tuple) and all(message.string)
    return bool(message.string)


def no_longer_said(said, french: Catalog) -> list[str]:
    """Return the translated sentences that no code says."""
    return [key_of(one) for one in french if one.id and key_of(one) not in said]


def main() -> int:
    """Tell what is missing, and return the exit code."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--blank", type=Path, metavar="FILE", help="write what is untranslated, to fill in")
    asked.add_argument("--under", default="", help="only sentences said in files whose path begins so")
    wanted = asked.parse_args()
    said, french = sentences(), translation(HERE / "fr")
    missing = [one for one in untranslated(said, french) if one.places[0].startswith(wanted.under)]
    if wanted.blank:
        blank = Catalog()
        blank.mime_headers = [("Language", "fr"), ("Plural-Forms", TWO_FORMS)]
        for one in missing:
            bare, context = _parted(one.key)
            blank.add(bare, locations=[_place(place) for place in one.places], context=context)
        with wanted.blank.open("wb") as file:
            write_po(file, blank, width=0, omit_header=False)
    for one in missing:
        print(f"{one.places[0]}: untranslated: {one.key!r}")
    idle = no_longer_said(said, french)
    for key in idle:
        print(f"no longer said: {key!r}")
    print(f"{len(said)} sentences, {len(missing)} untranslated, {len(idle)} no longer said")
    return 1 if missing or idle else 0


if __name__ == "__main__":
    sys.exit(main())
