"""Carrying a logbook in one file: out of one store, into another, with the hash of every part."""

from __future__ import annotations

import hashlib
import json
import zipfile
import zlib
from pathlib import Path
from typing import Any

from lineproof.floor.errors import BadInput, EntrySealed, Place
from lineproof.job.write import why, write_whole
from lineproof.logbook.entry import Entry, canonical, is_seal, parse
from lineproof.logbook.frames import entries_from
from lineproof.logbook.kinds import faults
from lineproof.logbook.merge import take_in
from lineproof.logbook.shelf import LARGEST as LARGEST_FILE
from lineproof.logbook.store import Bare, JobStore, Taken

FORMAT = 1
ABOUT, ENTRIES, RECEIPTS, HASHES = "about.json", "entries.jsonl", "receipts.jsonl", "hashes.json"
FRAMES = (b"LPZ1:", b"LPF1:")
LARGEST = 4 * 1024**3
"""A carried file that unpacks to more than this is not taken. [bytes]"""

LARGEST_PLAIN = 256 * 1024**2
"""A plain file of entries larger than this is not taken. [bytes]"""

_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError)
_MISREAD = (*_BROKEN, KeyError, ValueError, TypeError, RuntimeError)
_EARLIEST = (1980, 1, 1, 0, 0, 0)  # of a zip: the same content makes the same bytes


def export_to(store: JobStore, path: Path) -> str:
    """Write everything a store holds into one file.

    Parameters
    ----------
    store : JobStore
        Is only read.
    path : Path
        The file, a zip; written whole or not at all.

    Returns
    -------
    str
        The head seal of what was written.

    Raises
    ------
    BadInput
        The file cannot be written.
    EntrySealed
        Something in the store was changed.
    """
    with store.lock():
        newest = store.receipt()
        entries = [stored.entry.raw for stored in store.read_since()]
        receipts = [store.receipt(number).raw for number in range(1, newest.number + 1)]
    about = {"entries": len(entries), "format": FORMAT, "head": newest.head, "job": store.job}
    parts = {
        ABOUT: canonical(about),
        ENTRIES: b"".join(raw + b"\n" for raw in entries),
        RECEIPTS: b"".join(raw + b"\n" for raw in receipts),
    }
    shelf = store.files()
    hashes = {name: hashlib.sha256(content).hexdigest() for name, content in parts.items()}
    beside = path.with_name(f".{path.name}.part")
    try:
        with zipfile.ZipFile(beside, "w", zipfile.ZIP_DEFLATED) as out:
            for name, content in parts.items():
                out.writestr(zipfile.ZipInfo(name, _EARLIEST), content, zipfile.ZIP_DEFLATED)
            for digest in shelf.names():
                info = zipfile.ZipInfo(_name(digest), _EARLIEST)
                out.writestr(info, shelf.get(digest), zipfile.ZIP_STORED)
                hashes[_name(digest)] = digest
            out.writestr(zipfile.ZipInfo(HASHES, _EARLIEST), canonical(hashes), zipfile.ZIP_DEFLATED)
        write_whole(path, beside.read_bytes())
    except OSError as error:
        raise BadInput(
            f"{path.name} cannot be written: {why(error)}", next="make room or choose another"
        ) from error
    finally:
        beside.unlink(missing_ok=True)
    return newest.head


def import_from(store: Bare, path: Path) -> Taken:
    """Take in everything from a carried file, or nothing if a part of it is not as it was written.

    A plain file of entries, one on each line as a phone writes it, is taken as well, and so is one of the
    frames of codes that a phone shows.

    Parameters
    ----------
    store : Bare
        Gains it.
    path : Path
        The file.

    Returns
    -------
    Taken

    Raises
    ------
    BadInput
        It is no such file, of another job, or of newer software.
    EntrySealed
        A part does not bear its hash.
    """
    place = Place(path.name)
    plain = _plain_entries(path)
    if plain is not None:
        return store.append(plain)
    try:
        with zipfile.ZipFile(path) as file:
            if sum(info.file_size for info in file.infolist()) > LARGEST:
                raise BadInput("the file unpacks to too much", allowed=f"{LARGEST // 1024**3} GiB")
            hashes = _told(file, HASHES)
            about = _told(file, ABOUT)
            _check_about(about, hashes, file, store.job)
            entries = [parse(line) for line in _part(file, ENTRIES, hashes[ENTRIES]).splitlines()]
            if len(entries) != about["entries"]:
                raise _changed(ENTRIES)
            _part(file, RECEIPTS, hashes[RECEIPTS])
            kept = [digest for name, digest in hashes.items() if name == _name(digest)]
            for digest in kept:
                if file.getinfo(_name(digest)).file_size > LARGEST_FILE:
                    raise BadInput("a file in it is too large", place=place)
                _part(file, _name(digest), digest)
            for digest in kept:
                if not store.files().has(digest):
                    store.files().put(_part(file, _name(digest), digest))
    except (BadInput, EntrySealed) as error:
        raise error.at(file=path.name) from error
    except OSError as error:
        raise BadInput(f"the file cannot be read: {why(error)}", place=place) from error
    except _MISREAD as error:
        raise BadInput(
            "this is not a carried logbook, or it is damaged",
            allowed="a file written by the export of a logbook",
            next="export it again on the other device",
            place=place,
        ) from error
    return take_in(store, entries, about["head"])


def _plain_entries(path: Path) -> list[Entry] | None:
    """The entries of a plain file; None for a file that is not one."""
    try:
        with path.open("rb") as file:
            begins = file.read(5)
            if not begins.startswith((b"{", *FRAMES)):
                return None
            if path.stat().st_size > LARGEST_PLAIN:
                raise BadInput("the file is too large", allowed=f"{LARGEST_PLAIN // 1024**2} MiB")
            file.seek(0)
            content = file.read()
    except OSError as error:
        raise BadInput(f"the file cannot be read: {why(error)}", place=Place(path.name)) from error
    if begins.startswith(FRAMES):
        try:
            content = entries_from(content.decode("ascii", "replace").splitlines())
        except BadInput as error:
            raise error.at(file=path.name) from error
    entries = []
    for n, line in enumerate(content.split(b"\n"), 1):
        if not line:
            continue
        try:
            entry = parse(line)
        except BadInput as error:
            raise error.at(file=path.name, line=n) from error
        wrong = faults(entry)
        if wrong:
            raise BadInput(
                f"{entry.kind} is not as it should be: {wrong[0]}",
                next="nothing was taken; keep the file and ask for help",
                place=Place(path.name, n),
            )
        entries.append(entry)
    return entries


def _name(digest: str) -> str:
    return f"files/{digest[:2]}/{digest}"


def _part(file: zipfile.ZipFile, name: str, digest: str) -> bytes:
    try:
        content = file.read(name)
    except _BROKEN as error:
        raise _changed(name) from error
    if hashlib.sha256(content).hexdigest() != digest:
        raise _changed(name)
    return content


def _told(file: zipfile.ZipFile, name: str) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(file.read(name))
    return told


def _check_about(about: dict[str, Any], hashes: dict[str, Any], file: zipfile.ZipFile, job: str) -> None:
    if about["format"] != FORMAT:
        raise BadInput(
            f"the file is of format {about['format']!r}", allowed=str(FORMAT), next="use newer software"
        )
    if not all(is_seal(digest) for digest in hashes.values()) or not is_seal(about["head"]):
        raise _changed(HASHES)
    if set(file.namelist()) != {*hashes, HASHES}:
        raise _changed(HASHES)
    _part(file, ABOUT, hashes[ABOUT])
    if about["job"] != job:
        raise BadInput(f"the file is of another job ({about['job']})", allowed=f"that of job {job}")


def _changed(name: str) -> EntrySealed:
    return EntrySealed(
        f"{name} in the file does not bear its hash, so it was changed on the way",
        allowed="the file as it was exported",
        next="export it again on the other device",
    )


def entries_of(path: Path) -> tuple[Entry, ...]:
    """The entries of a carried file, without taking them in.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    tuple of Entry

    Raises
    ------
    BadInput
        It is no such file.
    """
    try:
        with zipfile.ZipFile(path) as file:
            return tuple(parse(line) for line in file.read(ENTRIES).splitlines())
    except (OSError, *_MISREAD) as error:
        raise BadInput("this is not a carried logbook, or it is damaged", place=Place(path.name)) from error
