"""Questions about joints that could be one of several, and their answers."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.floor.errors import BadInput, Place


@dataclass(frozen=True, slots=True)
class SameAs:
    """An answer: the statement in this row of a walk is the one that made this joint's socket.

    Parameters
    ----------
    joint : str
        Id of the joint.
    file : str
        The walk.
    row : int
        Line in the file; 0 says that the statement is gone. [-]
    """

    joint: str
    file: str = ""
    row: int = 0


def read_answer(text: str) -> SameAs:
    """Read an answer as typed.

    Parameters
    ----------
    text : str
        ``B-201/J12 same as lines/b.walk:14`` or ``B-201/J12 gone``.

    Returns
    -------
    SameAs

    Raises
    ------
    BadInput
        If it is neither.
    """
    plain = " ".join(text.split())
    if plain.endswith(" gone"):
        return SameAs(plain.removesuffix(" gone"))
    joint, said, where = plain.partition(" same as ")
    file, colon, row = where.rpartition(":")
    number = int(row) if row.isascii() and row.isdigit() and len(row) < 8 else 0
    if said and joint and file and colon and number:
        return SameAs(joint, file, number)
    raise BadInput(
        f"{plain[:80]!r} is no answer",
        allowed="JOINT same as FILE:ROW, or JOINT gone",
        next="write it like B-201/J12 same as lines/b.walk:14",
    )


@dataclass(frozen=True, slots=True)
class AskWhich:
    """A match that can be told in more than one way.

    Parameters
    ----------
    line : str
        Name of the line now.
    what : str
        What is asked.
    joints : tuple of str
        The joints that hang on it.
    candidates : tuple of Place
        Where they could be now.
    may_be_gone : bool
        Whether one of the answers is that they are gone.
    """

    line: str
    what: str
    joints: tuple[str, ...]
    candidates: tuple[Place, ...]
    may_be_gone: bool = True

    @property
    def how(self) -> str:
        """How to answer."""
        joint = self.joints[0] if self.joints else self.line
        where = str(self.candidates[0]) if self.candidates else "FILE:ROW"
        gone = f' or "{joint} gone"' if self.may_be_gone else ""
        return f'answer "{joint} same as {where}"{gone}'

    @property
    def choices(self) -> tuple[str, ...]:
        """Every answer, as it is typed."""
        joint = self.joints[0] if self.joints else self.line
        found = [f"{joint} same as {place}" for place in self.candidates]
        return (*found, f"{joint} gone") if self.may_be_gone else tuple(found)
