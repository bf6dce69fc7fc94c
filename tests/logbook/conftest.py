"""Folders of these tests lie in memory where there can be: thousands of syncs are asked for, none is needed.

What a power cut leaves is rebuilt from the recorded calls, not taken from the disk.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from logbook.rig import MEMORY


@pytest.fixture
def tmp_path() -> Iterator[Path]:
    with tempfile.TemporaryDirectory(dir=MEMORY, prefix="lineproof-", ignore_cleanup_errors=True) as place:
        yield Path(place)
