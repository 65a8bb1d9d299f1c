"""What leaves a tablet under a passphrase: a file in the age format, which other tools open.

The format is open: https://age-encryption.org/v1. Only the layout of the file is put together here; all that
keeps a secret is done by the library `cryptography`: scrypt, HKDF, HMAC and ChaCha20-Poly1305. It is imported
when it is needed, so that no board waits for it.
"""

import binascii
import os
import re
from base64 import b64decode, b64encode
from collections.abc import Iterator
from unicodedata import normalize

from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr

SHORTEST = 8  # characters of a passphrase
MOST_BYTES = 1 << 30  # of what is sealed; a season of a million tallies has a quarter of that

_VERSION = b"age-encryption.org/v1"
_WORK = 16  # log2 of scrypt's cost: 64 MiB and about 0.2 s, which a small tablet can spare
_MOST_WORK = 18  # 256 MiB; a file may ask for any, and would take the memory for it before anything is known
_HEADER = re.compile(
    rb"age-encryption\.org/v1\n"
    rb"-> scrypt ([A-Za-z0-9+/]{22}) ([1-9][0-9]?)\n([A-Za-z0-9+/]{43})\n--- ([A-Za-z0-9+/]{43})\n"
)
_LONGEST_HEADER = 512
_CHUNK, _TAG, _NONCE, _FILE_KEY = 64 * 1024, 16, 16, 16

_CHANGED = mark("the passphrase is not the right one, or the file was changed on its way; nothing was read")


def is_sealed(content: bytes) -> bool:
    """Say whether this is the beginning of an age file."""
    return content.startswith(_VERSION)


def sealed(content: bytes, passphrase: str) -> bytes:
    """Return an age file that holds the content and opens with the passphrase alone.

    Raises
    ------
    EvaltrackError : the passphrase is too short, or there is too much content.
    """
    refuse_short(passphrase)
    if len(content) > MOST_BYTES:
        raise EvaltrackError(tr("this is too large to be sealed: at most {most} MiB", most=MOST_BYTES >> 20))
    file_key, salt, nonce = os.urandom(_FILE_KEY), os.urandom(16), os.urandom(_NONCE)
    wrapped = _cipher(_stretched(passphrase, salt, _WORK)).encrypt(bytes(12), file_key, None)
    header = b"%s\n-> scrypt %s %d\n%s\n---" % (_VERSION, _text(salt), _WORK, _text(wrapped))
    cipher = _cipher(_derived(file_key, nonce, b"payload"))
    parts = [header, b" ", _text(_mac(file_key, header)), b"\n", nonce]
    last = max(0, (len(content) - 1) // _CHUNK)
    for nth in range(last + 1):
        chunk = content[nth * _CHUNK : (nth + 1) * _CHUNK]
        parts.append(cipher.encrypt(_counter(nth, nth == last), chunk, None))
    return b"".join(parts)


def opened(content: bytes, passphrase: str) -> bytes:
    """Return what an age file holds that was sealed under a passphrase; all of it or nothing.

    Raises
    ------
    EvaltrackError : another passphrase, changed or missing bytes, no such file, or one that would take too
        much memory to open.
    """
    if not is_sealed(content):
        raise EvaltrackError(tr("the file was not sealed under a passphrase, or its beginning is damaged"))
    if len(content) > MOST_BYTES + MOST_BYTES // 1024:
        raise EvaltrackError(
            tr("the file is too large to be opened: at most {most} MiB", most=MOST_BYTES >> 20)
        )
    found = _HEADER.match(content[:_LONGEST_HEADER])
    if not found:
        raise EvaltrackError(
            tr("the file was sealed in another way than under one passphrase, or is damaged")
        )
    salt, work, wrapped, mac = found.groups()
    if int(work) > _MOST_WORK:  # before a byte of memory is taken for it
        raise EvaltrackError(
            tr(
                "the file asks for more memory than a tablet has (2 to the {work}, not {most}); seal "
                "it again with a smaller one",
                work=int(work),
                most=_MOST_WORK,
            )
        )
    return _opened(found.end(), content, (_bytes(salt), int(work), _bytes(wrapped), _bytes(mac)), passphrase)


def refuse_short(passphrase: str) -> None:
    """Refuse a passphrase that anybody could guess."""
    if len(passphrase) < SHORTEST:
        raise EvaltrackError(
            tr(
                "a passphrase has at least {number} characters; several words that nobody would guess "
                "are best",
                number=SHORTEST,
            )
        )


def _opened(start: int, content: bytes, parts: tuple[bytes, int, bytes, bytes], passphrase: str) -> bytes:
    import hmac

    from cryptography.exceptions import InvalidTag

    salt, work, wrapped, mac = parts
    header = content[: content.index(b"\n---") + 4]
    try:
        file_key = _cipher(_stretched(passphrase, salt, work)).decrypt(bytes(12), wrapped, None)
        if not hmac.compare_digest(_mac(file_key, header), mac):
            raise EvaltrackError(tr(_CHANGED))
        return b"".join(_chunks(content, start, file_key))
    except InvalidTag:
        raise EvaltrackError(tr(_CHANGED)) from None


def _chunks(content: bytes, start: int, file_key: bytes) -> Iterator[bytes]:
    nonce, start = content[start : start + _NONCE], start + _NONCE
    whole = _CHUNK + _TAG
    size = len(content) - start
    if len(nonce) < _NONCE or size < _TAG:
        raise EvaltrackError(tr(_CHANGED))
    cipher = _cipher(_derived(file_key, nonce, b"payload"))
    last = (size - 1) // whole
    if last and size - last * whole <= _TAG:  # an empty last chunk stands only where there is no other
        raise EvaltrackError(tr(_CHANGED))
    for nth in range(last + 1):
        at = start + nth * whole
        yield cipher.decrypt(_counter(nth, nth == last), content[at : at + whole], None)


def _counter(nth: int, is_last: bool) -> bytes:
    return nth.to_bytes(11, "big") + bytes([is_last])


def _stretched(passphrase: str, salt: bytes, work: int) -> bytes:
    from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

    # one keyboard writes é as one sign, another as two
    words = normalize("NFC", passphrase).encode("utf-8", "surrogatepass")
    return Scrypt(salt=_VERSION + b"/scrypt" + salt, length=32, n=1 << work, r=8, p=1).derive(words)


def _derived(file_key: bytes, salt: bytes, info: bytes) -> bytes:
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.hazmat.primitives.kdf.hkdf import HKDF

    return HKDF(algorithm=SHA256(), length=32, salt=salt or None, info=info).derive(file_key)


def _mac(file_key: bytes, header: bytes) -> bytes:
    import hmac

    return hmac.digest(_derived(file_key, b"", b"header"), header, "sha256")


def _cipher(key: bytes):
    from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305

    return ChaCha20Poly1305(key)


def _text(raw: bytes) -> bytes:
    return b64encode(raw).rstrip(b"=")


def _bytes(text: bytes) -> bytes:
    """Return what base64 stands for; there is one way only to write it."""
    try:
        raw = b64decode(text + b"=" * (-len(text) % 4), validate=True)
    except binascii.Error:
        raw = b""
    if _text(raw) != text:
        raise EvaltrackError(tr(_CHANGED))
    return raw
