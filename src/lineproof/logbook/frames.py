"""Entries as frames of codes: read by any other device from a screen, in any order, with no network.

A frame is one line, ``LPZ1:HASH:INDEX/TOTAL:PART``: HASH is the SHA-256 of the entries' bytes, PART a piece
of them packed as zlib data (RFC 1950), both in base 32 without padding (RFC 4648); ``LPF1`` is the same, not
packed. All its letters are of the alphanumeric set of a code (ISO/IEC 18004, table 5): so a code holds more.
"""

from __future__ import annotations

import base64
import binascii
import hashlib
import re
import zlib
from collections.abc import Iterable

from lineproof.floor.errors import BadInput

LARGEST_UNPACKED = 64 * 1024**2
"""Entries of one set of frames. [bytes]"""

MOST_FRAMES = 9_999
"""Frames of one set. [-]"""

PART = 320
"""Bytes of one frame as a phone cuts them. [bytes]"""

_FRAME = re.compile(r"(LP[FZ]1):([A-Z2-7]{52}):(\d{1,4})/(\d{1,4}):([A-Z2-7]+)", re.ASCII)


def frames_of(content: bytes) -> list[str]:
    """Frames of some entries.

    Parameters
    ----------
    content : bytes
        Entries, one on each line.

    Returns
    -------
    list of str
    """
    packed = zlib.compress(content, 9)
    digest = _text(hashlib.sha256(content).digest())
    parts = [packed[i : i + PART] for i in range(0, len(packed), PART)]
    return [f"LPZ1:{digest}:{n}/{len(parts)}:{_text(part)}" for n, part in enumerate(parts, 1)]


def entries_from(lines: Iterable[str]) -> bytes:
    """The bytes of the entries that frames carry, in any order, with any of them twice.

    Parameters
    ----------
    lines : iterable of str
        One frame on each; empty lines are passed over. Several sets may be mixed.

    Returns
    -------
    bytes
        Of all sets, in the order their first frames came.

    Raises
    ------
    BadInput
        A line is no frame, frames are missing (they are named), or the whole does not bear its hash.
    """
    sets: dict[tuple[str, str, int], dict[int, bytes]] = {}
    for n, line in enumerate(lines, 1):
        text = line.strip()
        if not text:
            continue
        kind, digest, index, total, part = _read(text, n)
        known = sets.setdefault((kind, digest, total), {})
        if known.setdefault(index, part) != part:
            raise BadInput(
                f"line {n}: frame {index} of {total} is there twice and says two things",
                allowed="frames as the screen showed them", next="read that frame again",
            )  # fmt: skip
    if not sets:
        raise BadInput(
            "there is no frame", allowed="lines that begin with LPZ1:", next="read the codes again"
        )
    return b"".join(_whole(*key, parts) for key, parts in sets.items())


def _read(text: str, n: int) -> tuple[str, str, int, int, bytes]:
    found = _FRAME.fullmatch(text)
    if found is None:
        raise BadInput(f"line {n} is no frame: {text[:40]!r}", allowed="LPZ1:HASH:INDEX/TOTAL:PART")
    kind, digest, index, total, part = found.groups()
    if not 1 <= int(index) <= int(total) <= MOST_FRAMES:
        raise BadInput(f"line {n} is frame {index} of {total}", allowed=f"1 to {MOST_FRAMES}")
    return kind, digest, int(index), int(total), _bytes(part, n)


def _whole(kind: str, digest: str, total: int, parts: dict[int, bytes]) -> bytes:
    missing = [n for n in range(1, total + 1) if n not in parts]
    if missing:
        raise BadInput(
            f"{len(missing)} of {total} frames are missing: {_ranges(missing)}",
            allowed="all frames of a set", next="read those from the phone's screen; nothing was taken",
        )  # fmt: skip
    packed = b"".join(parts[n] for n in range(1, total + 1))
    content = packed if kind == "LPF1" else _unpacked(packed)
    if _text(hashlib.sha256(content).digest()) != digest:
        raise BadInput(
            "the frames do not bear their hash", allowed="frames as the screen showed them",
            next="read them all again; nothing was taken",
        )  # fmt: skip
    return content


def _unpacked(packed: bytes) -> bytes:
    opener = zlib.decompressobj()
    try:
        content = opener.decompress(packed, LARGEST_UNPACKED)
    except zlib.error as error:
        raise BadInput("the frames do not fit together", next="read them all again") from error
    if opener.unconsumed_tail or not opener.eof:
        raise BadInput(
            "the frames unpack to too much or break off", allowed=f"{LARGEST_UNPACKED // 1024**2} MiB"
        )
    return content


def _ranges(numbers: list[int]) -> str:
    """1, 2, 3, 7 as 1-3, 7."""
    runs: list[list[int]] = []
    for n in numbers:
        if runs and n == runs[-1][-1] + 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    return ", ".join(f"{r[0]}-{r[-1]}" if len(r) > 1 else str(r[0]) for r in runs)


def _text(content: bytes) -> str:
    return base64.b32encode(content).decode("ascii").rstrip("=")


def _bytes(text: str, n: int) -> bytes:
    try:
        return base64.b32decode(text + "=" * (-len(text) % 8))
    except binascii.Error as error:
        raise BadInput(f"line {n} is cut off", next="read that frame again") from error
