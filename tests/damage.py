"""Damaged copies of whole files, for the fuzz tests and their benchmark: seeded, one slip a copy."""

from __future__ import annotations

import random
import re

WORD = re.compile(rb"\S+")
CELL = re.compile(rb"[^\s,]+")


def mutants(
    text: str, count: int, seed: int | str, token: re.Pattern[bytes] = WORD
) -> list[tuple[bytes, int, int]]:
    """Return mutants with the first and last line that was touched."""
    rng = random.Random(seed)
    whole = text.encode()
    tokens = [m.span() for m in token.finditer(whole)]
    words = [whole[a:b] for a, b in tokens]
    made = []
    while len(made) < count:
        at = rng.randrange(len(whole))
        a, b = rng.choice(tokens)
        c, d = rng.choice(tokens)
        kind = rng.randrange(8)
        end = at
        if kind == 0:  # a byte lost
            new = whole[:at] + whole[at + 1 :]
        elif kind == 1:  # a byte too many
            new = whole[:at] + bytes([rng.randrange(256)]) + whole[at:]
        elif kind == 2:  # a wrong byte
            new = whole[:at] + bytes([rng.choice(b"\"'#,.-+:%/ 09azNE\x00\xff\n")]) + whole[at + 1 :]
        elif kind == 3:  # two neighbours swapped
            new = whole[:at] + whole[at : at + 2][::-1] + whole[at + 2 :]
        elif kind == 4:  # a word lost
            at, end, new = a, b, whole[:a] + whole[b:]
        elif kind == 5:  # another word in its place
            at, end, new = a, b, whole[:a] + rng.choice(words) + whole[b:]
        elif kind == 6:  # a word twice
            at, end, new = a, b, whole[:b] + b" " + whole[a:b] + whole[b:]
        elif b <= c:  # two words change places
            at, end, new = a, d, whole[:a] + whole[c:d] + whole[b:c] + whole[a:b] + whole[d:]
        else:
            continue
        if new != whole:
            made.append((new, whole.count(b"\n", 0, at) + 1, whole.count(b"\n", 0, end) + 1))
    return made
