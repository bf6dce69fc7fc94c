"""Photographs that entries name: which have come, which are owed, and how one comes in parts.

An entry names a photograph by its SHA-256 before the picture itself is sent. What comes is laid beside the
shelf part by part, and goes on the shelf whole, once its bytes bear the hash they were announced with.
"""

from __future__ import annotations

import hashlib
import os
import threading
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from lineproof.floor.errors import BadInput
from lineproof.job.write import why
from lineproof.logbook.entry import Entry
from lineproof.logbook.shelf import Shelf

LARGEST_PHOTO = 8_000_000
"""Largest photograph; a phone scales down what is larger. [bytes]"""

LARGEST_PART = 256_000
"""Largest part of one. [bytes]"""

OWED = "photo owed"
"""Text of a note that promises a photograph."""

_STARTS = {b"\xff\xd8\xff": "image/jpeg", b"\x89PNG\r\n\x1a\n": "image/png"}
"""How the two kinds of pictures begin: ITU-T T.81 (markers SOI and the next), ISO/IEC 15948 (signature)."""
_LONGEST_START = max(map(len, _STARTS))


def kind_of(content: bytes) -> str:
    """What a picture is, by its first bytes.

    Parameters
    ----------
    content : bytes

    Returns
    -------
    str
        ``image/jpeg``, ``image/png``, or empty for anything else.
    """
    return next((kind for start, kind in _STARTS.items() if content.startswith(start)), "")


@dataclass(frozen=True, slots=True)
class Photos:
    """Photographs of one joint.

    Parameters
    ----------
    here : tuple of str
        Hashes of those that have come, in the order told.
    owed : tuple of str
        Hashes of those that were told and have not come.
    promised : bool
        Somebody noted that one is owed, and none was told since.
    """

    here: tuple[str, ...] = ()
    owed: tuple[str, ...] = ()
    promised: bool = False

    @property
    def any_owed(self) -> bool:
        """Whether one is still to come."""
        return bool(self.owed) or self.promised


def named_in(entry: Entry) -> tuple[str, ...]:
    """Hashes of the photographs an entry names.

    Parameters
    ----------
    entry : Entry

    Returns
    -------
    tuple of str
    """
    told = entry.body.get("photos", ())
    return tuple(str(one) for one in told) if isinstance(told, list | tuple) else ()


def photos_of(entries: Iterable[Entry], has: Callable[[str], bool]) -> dict[str, Photos]:
    """Photographs by joint.

    Parameters
    ----------
    entries : iterable of Entry
        In the order of arrival.
    has : callable
        Whether a file is on the shelf.

    Returns
    -------
    dict
        Joints with a photograph told or promised.
    """
    told: dict[str, dict[str, None]] = {}
    promised: dict[str, bool] = {}
    for entry in entries:
        joint = str(entry.body.get("joint", ""))
        digests = named_in(entry)
        if digests:
            told.setdefault(joint, {}).update(dict.fromkeys(digests))
            promised[joint] = False
        elif entry.kind == "note" and entry.body.get("text") == OWED:
            promised[joint] = True
    found = {}
    for joint in sorted({*told, *promised} - {""}):
        mine = tuple(told.get(joint, {}))
        here = tuple(d for d in mine if has(d))
        found[joint] = Photos(here, tuple(d for d in mine if d not in here), promised.get(joint, False))
    return found


@dataclass(frozen=True, slots=True)
class Come:
    """How much of a photograph has come.

    Parameters
    ----------
    have : int
        From there on it is to be sent. [bytes]
    whole : bool
        It is on the shelf.
    """

    have: int
    whole: bool


class Coming:
    """Photographs on their way: parts in order, each on the disk before it is answered.

    Parameters
    ----------
    shelf : Shelf
        Where they go once they are whole.
    """

    def __init__(self, shelf: Shelf) -> None:
        self.shelf = shelf
        self._lock = threading.Lock()

    def come(self, digest: str) -> Come:
        """How much of one is here.

        Parameters
        ----------
        digest : str
            Its SHA-256.

        Returns
        -------
        Come

        Raises
        ------
        BadInput
            This is no SHA-256.
        """
        if self.shelf.has(digest):
            return Come(self.shelf.place(digest).stat().st_size, True)
        try:
            return Come(self._part(digest).stat().st_size, False)
        except FileNotFoundError:
            return Come(0, False)

    def take(self, digest: str, at: int, of: int, content: bytes) -> Come:
        """Take the next part. One that does not go on where the last ended changes nothing.

        Parameters
        ----------
        digest : str
            SHA-256 of the whole.
        at : int
            Where the part begins. [bytes]
        of : int
            Size of the whole. [bytes]
        content : bytes
            The part.

        Returns
        -------
        Come
            From where on to send.

        Raises
        ------
        BadInput
            It is too large, no picture, or the whole does not bear its hash; then all parts are let go.
        """
        with self._lock:
            come = self.come(digest)
            if come.whole or at != come.have:
                return come
            self._check(at, of, content)
            path = self._part(digest)
            try:
                path.parent.mkdir(parents=True, exist_ok=True)
                with path.open("ab") as file:
                    file.write(content)
                    file.flush()
                    os.fsync(file.fileno())
            except OSError as error:
                raise BadInput(f"the photograph cannot be written: {why(error)}", next="make room") from error
            if at + len(content) < of:
                return Come(at + len(content), False)
            whole = path.read_bytes()
            path.unlink()
            if hashlib.sha256(whole).hexdigest() != digest:
                raise BadInput(
                    "the photograph does not bear the hash it was told with",
                    allowed="the bytes that were hashed", next="send it again from the start",
                )  # fmt: skip
            self.shelf.put(whole)
            return Come(of, True)

    def _part(self, digest: str) -> Path:
        return self.shelf.place(digest).parent.parent / "coming" / digest

    def _check(self, at: int, of: int, content: bytes) -> None:
        if not 0 < of <= LARGEST_PHOTO:
            raise BadInput(
                f"the photograph holds {of} bytes", allowed=f"1 to {LARGEST_PHOTO}", next="scale it down"
            )
        if not content or len(content) > LARGEST_PART or at + len(content) > of:
            raise BadInput(
                f"a part of {len(content)} bytes at {at} of {of}",
                allowed=f"1 to {LARGEST_PART} bytes, up to the end", next="send the parts in order",
            )  # fmt: skip
        if at == 0 and (len(content) < min(of, _LONGEST_START) or not kind_of(content)):
            raise BadInput(
                "this is no picture that is kept here",
                allowed="JPEG or PNG",
                next="take the photograph again",
            )
