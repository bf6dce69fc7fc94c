"""Loggers' files on the shelf of a logbook, each read once."""

from __future__ import annotations

from datetime import tzinfo

from lineproof.floor.errors import LineproofError
from lineproof.job.logger_csv import LoggerRows, read_logger
from lineproof.logbook.shelf import Shelf


class LoggerFiles:
    """Reads loggers' files by their hash.

    Parameters
    ----------
    shelf : Shelf
        Where the files of the logbook are kept.
    zone : tzinfo
        Of the site.
    before : LoggerFiles or None
        Read the same shelf before: what it read, it need not read again, if it is still there.
    """

    def __init__(self, shelf: Shelf, zone: tzinfo, before: LoggerFiles | None = None) -> None:
        self._shelf = shelf
        self._zone = zone
        self._known: dict[str, LoggerRows | str] = {}
        self._before: dict[str, LoggerRows | str] = {}
        if before is not None:
            self._before = {**before._before, **before._known}

    def rows(self, digest: str, name: str) -> LoggerRows | str:
        """Rows of a file, or in words why it cannot be read.

        Parameters
        ----------
        digest : str
            Its SHA-256.
        name : str
            What it is called.

        Returns
        -------
        LoggerRows or str
        """
        known = self._known.get(digest)
        if known is None:
            known = self._known[digest] = self._read(digest, name)
        return known

    def _read(self, digest: str, name: str) -> LoggerRows | str:
        if not self._shelf.has(digest):
            return f"{name} is not on this machine"
        before = self._before.get(digest)
        try:
            content = self._shelf.get(digest)
            if before is not None and not isinstance(before, str):
                return before
            return read_logger(content, name, self._zone)
        except LineproofError as error:
            where = f"{error.place}: " if error.place.file else f"{name}: "
            return f"{where}{error.given}"
