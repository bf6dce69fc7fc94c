"""Damaged walks: only our own errors come out, near the damage, and a fair part still reads."""

from __future__ import annotations

import random
from collections.abc import Callable

from damage import mutants
from job.test_walk_read import DESIGN
from lineproof.floor.errors import LineproofError
from lineproof.job.walk_csv import read_walk_csv, write_walk_csv
from lineproof.job.walk_read import read_walk, read_walk_all, read_walk_bytes
from lineproof.job.walk_write import print_walk

MAIN = """\
# invented: a buried main in metric sizes
drawing C-11 rev B
line C-01 size d315 pipe pvc-u pn10 for "seawater supply"
starts at flange fixed may unbolt flat "intake pump" at 0, 0, -1.2 m facing east station 0+000
bells facing back
go east to station 0+186 to invert -1.450 m
saddle north d63 threaded as C-01s
offset south 0.6 m with 45 lot E4
go east 12.5 m down 1:200 in plan
repair coupling lot R1
spool "tank drop"
stub and ring
go up 1.8 m to face field
spool ends
expansion joint travel 100 mm set 40 mm
reduce to d250 bushing
ends at test blind
"""


def run(
    read: Callable[[bytes], object], made: list[tuple[bytes, int, int]]
) -> tuple[int, int, list[LineproofError]]:
    """Return how many read, how many errors stand near the damage, and the errors."""
    whole, near, errors = 0, 0, []
    for data, first, last in made:
        try:
            read(data)
        except LineproofError as error:
            errors.append(error)
            line = error.place.line
            near += min(abs(line - first), abs(line - last)) <= 1
        else:
            whole += 1
    return whole, near, errors


def test_damaged_walks_read_or_are_answered_near_the_damage() -> None:
    made = mutants(DESIGN, 2000, 1) + mutants(MAIN, 2000, 2)
    whole, near, errors = run(lambda data: read_walk_bytes(data, "a.walk"), made)
    assert whole >= 0.10 * len(made)
    assert near >= 0.90 * len(errors)
    for error in errors:
        said = str(error)
        assert error.place.file == "a.walk"
        assert error.place.column >= 1
        assert said.isprintable(), said


def test_a_damaged_walk_that_reads_prints_and_reads_again() -> None:
    for data, _, _ in mutants(MAIN, 600, 3):
        try:
            walk = read_walk_bytes(data, "a.walk")
        except LineproofError:
            continue
        assert read_walk(print_walk(walk), "a.walk") == walk
        assert read_walk_csv(write_walk_csv(walk), "a.walk") == walk


def test_all_errors_of_a_much_damaged_walk_are_ours() -> None:
    rng = random.Random(4)
    for _ in range(300):
        rows = (DESIGN + MAIN).splitlines()
        for _ in range(8):
            at = rng.randrange(len(rows))
            cut = rng.randrange(len(rows[at]) + 1)
            rows[at] = rng.choice([rows[at][:cut], rows[at][cut:], rows[at][::-1], rows[at].upper(), "\x7f"])
        rng.shuffle(rows)
        walk, errors = read_walk_all("\n".join(rows), "a.walk")
        assert (walk is None) == bool(errors)
        assert all(error.place.line for error in errors)


def test_damaged_sheets_read_or_are_answered_near_the_damage() -> None:
    made = mutants(write_walk_csv(read_walk(MAIN, "a.walk")), 1500, 5)
    whole, near, errors = run(lambda data: read_walk_csv(data.decode("latin-1"), "a.csv"), made)
    assert whole >= 0.10 * len(made)
    assert near >= 0.90 * len(errors)
    assert all(str(error).isprintable() for error in errors)
