"""A shim under SQLite that records every write, sync, truncation and removal of its files, in order.

SQLite lets a program register a file layer of its own (its VFS interface, in SQLite's documentation). The
shim takes the usual one, replaces three of its file methods by ones that note the call and pass it on, and
makes itself the default. The shared-memory index is not recorded: it is rebuilt after a crash.
"""

from __future__ import annotations

import ctypes
import ctypes.util
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Call:
    """One recorded call: ``write``, ``sync``, ``truncate``, ``delete``, or ``ack`` noted by the test."""

    what: str
    file: str = ""
    at: int = 0
    data: bytes = b""


_POINTER = ctypes.c_void_p
_WRITE = ctypes.CFUNCTYPE(ctypes.c_int, _POINTER, _POINTER, ctypes.c_int, ctypes.c_int64)
_SYNC = ctypes.CFUNCTYPE(ctypes.c_int, _POINTER, ctypes.c_int)
_TRUNCATE = ctypes.CFUNCTYPE(ctypes.c_int, _POINTER, ctypes.c_int64)
_OPEN = ctypes.CFUNCTYPE(
    ctypes.c_int, _POINTER, _POINTER, _POINTER, ctypes.c_int, ctypes.POINTER(ctypes.c_int)
)
_DELETE = ctypes.CFUNCTYPE(ctypes.c_int, _POINTER, ctypes.c_char_p, ctypes.c_int)


class _Methods(ctypes.Structure):  # sqlite3_io_methods, version 3
    _fields_ = [("version", ctypes.c_int)] + [
        (name, _POINTER)
        for name in (
            "close", "read", "write", "truncate", "sync", "size", "lock", "unlock", "check", "control",
            "sector", "device", "map", "shmlock", "barrier", "unmap", "fetch", "unfetch",
        )
    ]  # fmt: skip


class _File(ctypes.Structure):
    _fields_ = [("methods", ctypes.POINTER(_Methods))]


class _Vfs(ctypes.Structure):  # sqlite3_vfs, version 3
    _fields_ = [
        ("version", ctypes.c_int),
        ("size", ctypes.c_int),
        ("longest", ctypes.c_int),
        ("next", _POINTER),
        ("name", ctypes.c_char_p),
        ("data", _POINTER),
        *[
            (name, _POINTER)
            for name in (
                "open", "delete", "access", "path", "dlopen", "dlerror", "dlsym", "dlclose", "random",
                "sleep", "time", "error", "time64", "setcall", "getcall", "nextcall",
            )
        ],
    ]  # fmt: skip


def _library() -> Any:
    """The very library the interpreter's own sqlite3 uses."""
    library = ctypes.CDLL(ctypes.util.find_library("sqlite3") or "libsqlite3.so.0")
    library.sqlite3_vfs_find.restype = ctypes.POINTER(_Vfs)
    library.sqlite3_vfs_find.argtypes = [ctypes.c_char_p]
    library.sqlite3_vfs_register.argtypes = [ctypes.POINTER(_Vfs), ctypes.c_int]
    library.sqlite3_vfs_unregister.argtypes = [ctypes.POINTER(_Vfs)]
    return library


@contextmanager
def recorded() -> Iterator[list[Call]]:
    """Record all file calls of SQLite in this process while the block runs."""
    library = _library()
    usual = library.sqlite3_vfs_find(None)
    log: list[Call] = []
    names: dict[int, str] = {}
    kept: list[Any] = []  # what SQLite points to must not be collected
    by_methods: dict[int, Any] = {}
    real_open = _OPEN(usual.contents.open)
    real_delete = _DELETE(usual.contents.delete)

    def shimmed(usual_methods: Any) -> Any:
        key = ctypes.addressof(usual_methods.contents)
        if key not in by_methods:
            real = usual_methods.contents
            write, sync, truncate = _WRITE(real.write), _SYNC(real.sync), _TRUNCATE(real.truncate)

            def on_write(file: int, data: int, length: int, at: int) -> int:
                told = write(file, data, length, at)
                if told == 0:
                    log.append(Call("write", names[file], at, ctypes.string_at(data, length)))
                return int(told)

            def on_sync(file: int, flags: int) -> int:
                told = sync(file, flags)
                if told == 0:
                    log.append(Call("sync", names[file]))
                return int(told)

            def on_truncate(file: int, size: int) -> int:
                told = truncate(file, size)
                if told == 0:
                    log.append(Call("truncate", names[file], size))
                return int(told)

            copy = _Methods.from_buffer_copy(real)
            calls = (_WRITE(on_write), _SYNC(on_sync), _TRUNCATE(on_truncate))
            copy.write, copy.sync, copy.truncate = (ctypes.cast(call, _POINTER).value for call in calls)
            # No memory mapping: what it writes would go past the shim.
            copy.version = min(copy.version, 2)
            kept.append((copy, calls))
            by_methods[key] = ctypes.pointer(copy)
        return by_methods[key]

    def on_open(vfs: int, name: int | None, file: int, flags: int, out: Any) -> int:
        del vfs
        told = real_open(ctypes.addressof(usual.contents), name, file, flags, out)
        handle = ctypes.cast(file, ctypes.POINTER(_File)).contents
        if told == 0 and handle.methods:
            names[file] = ctypes.string_at(name).decode() if name else ""
            handle.methods = shimmed(handle.methods)
        return int(told)

    def on_delete(vfs: int, name: bytes, sync: int) -> int:
        del vfs
        told = real_delete(ctypes.addressof(usual.contents), name, sync)
        if told == 0:
            log.append(Call("delete", name.decode()))
        return int(told)

    mine = _Vfs.from_buffer_copy(usual.contents)
    calls = (_OPEN(on_open), _DELETE(on_delete))
    mine.name = b"recorded"
    mine.next = None
    mine.open, mine.delete = (ctypes.cast(call, _POINTER).value for call in calls)
    library.sqlite3_vfs_register(ctypes.byref(mine), 1)
    try:
        yield log
    finally:
        library.sqlite3_vfs_register(usual, 1)
        library.sqlite3_vfs_unregister(ctypes.byref(mine))
        kept.append(calls)


Files = dict[str, bytes]


def _written(content: bytes, call: Call) -> bytes:
    if call.what == "truncate":
        return content[: call.at].ljust(call.at, b"\0")
    padded = content.ljust(call.at, b"\0")
    return padded[: call.at] + call.data + padded[call.at + len(call.data) :]


def images(log: list[Call], upto: int) -> Iterator[tuple[str, Files]]:
    """What the disk may hold when the power goes after so many calls.

    What was synced is there. Of what was written to a file since its last sync: nothing, all, all but one
    write, one write alone, only the first half of the last, the last full of zeros.
    """
    durable: Files = {}
    loose: dict[str, list[Call]] = {}
    for call in log[:upto]:
        if call.what == "sync":
            for each in loose.pop(call.file, []):
                durable[call.file] = _written(durable.get(call.file, b""), each)
            durable.setdefault(call.file, b"")
        elif call.what == "delete":
            durable.pop(call.file, None)
            loose.pop(call.file, None)
        elif call.what != "ack":
            loose.setdefault(call.file, []).append(call)
    pending = [(name, i) for name, calls in loose.items() for i in range(len(calls))]

    def image(take: set[tuple[str, int]], torn: tuple[str, int] | None = None, fill: bytes = b"") -> Files:
        made = dict(durable)
        for name, calls in loose.items():
            for i, call in enumerate(calls):
                if (name, i) == torn:
                    half = call.data[: len(call.data) // 2] if not fill else fill * len(call.data)
                    made[name] = _written(made.get(name, b""), Call("write", name, call.at, half))
                elif (name, i) in take:
                    made[name] = _written(made.get(name, b""), call)
        return made

    everything = set(pending)
    yield "nothing that was not synced", image(set())
    if not pending:
        return
    yield "all of it", image(everything)
    for one in pending[-8:]:
        yield f"all but {one}", image(everything - {one})
        yield f"only {one}", image({one})
    last = pending[-1]
    if loose[last[0]][last[1]].what == "write":
        yield "the last torn", image(everything - {last}, torn=last)
        yield "the last as zeros", image(everything - {last}, torn=last, fill=b"\0")
        yield "only the last, torn", image(set(), torn=last)
