"""Writing files whole or not at all."""

from __future__ import annotations

import contextlib
import os
import secrets
from pathlib import Path

from lineproof.floor.errors import BadInput


def write_whole(path: Path, content: bytes, *, secret: bool = False) -> None:
    """Write a file so that it appears whole or not at all, also when the power goes.

    The bytes go to a new file beside it and to the disk, then the new file takes the name, then the folder
    goes to the disk. A file that was there keeps its permissions; a symbolic link is followed.

    Parameters
    ----------
    path : Path
        The file; its folder must exist.
    content : bytes
        All of it.
    secret : bool
        Nobody but its owner may read it, from its first byte on.

    Raises
    ------
    BadInput
        The file cannot be written, with the reason.
    """
    temporary = ""
    try:
        path = path.resolve()
        mode = 0o600 if secret else path.stat().st_mode & 0o7777 if path.exists() else None
        temporary = str(path.with_name(f".{path.name[:40]}.{secrets.token_hex(6)}"))
        handle = os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600 if secret else 0o666)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            if mode is not None:
                os.fchmod(file.fileno(), mode)
            os.fsync(file.fileno())
        Path(temporary).replace(path)
        temporary = ""
        _sync_folder(path.parent)
    except (OSError, RuntimeError, ValueError) as error:
        raise BadInput(
            f"{path} cannot be written: {why(error)}",
            allowed="a folder that may be written, with room on the disk",
            next="make the folder writable or choose another",
        ) from error
    finally:
        if temporary:
            with contextlib.suppress(OSError):
                Path(temporary).unlink()


def why(error: OSError | RuntimeError | ValueError) -> str:
    """The reason of a file error in a few words."""
    if isinstance(error, RuntimeError):
        return "its name leads in a circle"
    if isinstance(error, ValueError):
        return "its name cannot be used"  # a null byte in it
    told = error.strerror or "the system refused"
    return told[0].lower() + told[1:]


def _sync_folder(folder: Path) -> None:
    # Some file systems cannot sync a folder; the file itself is on the disk by then.
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
