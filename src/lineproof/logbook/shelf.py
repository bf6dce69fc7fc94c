"""Photos and documents, each under its own SHA-256, written whole and never changed."""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
from collections.abc import Iterator
from pathlib import Path

from lineproof.floor.errors import BadInput, EntrySealed
from lineproof.job.write import why, write_whole
from lineproof.logbook.entry import is_seal

LARGEST = 512 * 1024 * 1024
"""A file larger than this is not taken. [bytes]"""


class Shelf:
    """A folder of files by their hash: ``files/ab/abcd...``.

    Parameters
    ----------
    root : Path
        The folder; made when the first file comes.
    """

    def __init__(self, root: Path) -> None:
        self.root = root

    def place(self, digest: str) -> Path:
        """Where a file stands or would stand.

        Parameters
        ----------
        digest : str
            Its SHA-256.

        Returns
        -------
        Path

        Raises
        ------
        BadInput
            This is no SHA-256.
        """
        if not is_seal(digest):
            raise BadInput(f"{digest[:40]!r} is not the hash of a file", allowed="64 hex figures")
        return self.root / digest[:2] / digest

    def put(self, content: bytes) -> str:
        """Keep a file; once this returns it is on the disk. One that is there already is left as it is.

        Parameters
        ----------
        content : bytes
            All of it.

        Returns
        -------
        str
            Its SHA-256.

        Raises
        ------
        BadInput
            It is too large, or cannot be written; then nothing was.
        """
        if len(content) > LARGEST:
            raise BadInput(
                f"the file holds {len(content) // 1024**2} MiB", allowed=f"up to {LARGEST // 1024**2} MiB"
            )
        digest = hashlib.sha256(content).hexdigest()
        path = self.place(digest)
        if self._whole(path, digest):
            _sync(path.parent)  # another process may have put it there a moment ago
        else:
            self._folder(path.parent)
            write_whole(path, content)
        return digest

    def get(self, digest: str) -> bytes:
        """The bytes of a file.

        Parameters
        ----------
        digest : str
            Its SHA-256.

        Returns
        -------
        bytes

        Raises
        ------
        BadInput
            It is not there or cannot be read.
        EntrySealed
            Its bytes are no longer those it was kept with.
        """
        path = self.place(digest)
        try:
            content = path.read_bytes()
        except FileNotFoundError as error:
            raise BadInput(
                f"the file {digest[:16]} is not on the shelf", next="bring it in from where it was taken"
            ) from error
        except OSError as error:
            raise BadInput(f"the file {digest[:16]} cannot be read: {why(error)}") from error
        if hashlib.sha256(content).hexdigest() != digest:
            raise EntrySealed(
                f"the file {digest[:16]} was changed after it was kept",
                allowed="the bytes it was kept with",
                next="put it back from a backup",
            )
        return content

    def has(self, digest: str) -> bool:
        """Whether a file is there by its name; its bytes are looked at by :meth:`get`."""
        return self.place(digest).is_file()

    def names(self) -> Iterator[str]:
        """Hashes of all files kept, in order."""
        if not self.root.is_dir():
            return
        for folder in sorted(self.root.iterdir()):
            if folder.is_dir() and re.fullmatch(r"[0-9a-f]{2}", folder.name):
                yield from sorted(p.name for p in folder.iterdir() if is_seal(p.name))

    def _whole(self, path: Path, digest: str) -> bool:
        try:
            return hashlib.sha256(path.read_bytes()).hexdigest() == digest
        except OSError:
            return False

    def _folder(self, folder: Path) -> None:
        """Make a folder whose name outlives a power cut."""
        try:
            for each in (self.root, folder):
                if not each.is_dir():
                    each.mkdir(exist_ok=True)
                    _sync(each.parent)
        except OSError as error:
            raise BadInput(
                f"{folder} cannot be made: {why(error)}", next="make room or choose another"
            ) from error


def _sync(folder: Path) -> None:
    # Some file systems cannot sync a folder.
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
