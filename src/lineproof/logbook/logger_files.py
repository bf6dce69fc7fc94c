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
    """

    def __init__(self, shelf: Shelf, zone: tzinfo) -> None:
        self._shelf = shelf
        self._zone = zone
        self._known: dict[str, LoggerRows | str] = {}

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
        try:
            return read_logger(self._shelf.get(digest), name, self._zone)
        except LineproofError as error:
            where = f"{error.place}: " if error.place.file else f"{name}: "
            return f"{where}{error.given}"
