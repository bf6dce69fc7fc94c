"""The section of ``raise_rig``, made once and copied for each test that takes it on from there."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.rig import Hands
from raise_rig import Site, job_folder


@pytest.fixture(scope="session")
def cured(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Hands]:
    """The job with its joints made and read; copied for each test."""
    folder = job_folder(tmp_path_factory.mktemp("raise") / "job")
    with pytest.MonkeyPatch.context() as patch:
        site = Site(folder, patch)
        site.made_and_cured()
        site.store.close()
    return folder, site.clock  # the clocks of the machine are its own again


@pytest.fixture
def site(cured: tuple[Path, Hands], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Site:
    """Its joints made and cured, nothing recorded around it yet."""
    folder, clock = cured
    return Site.copied(folder, tmp_path / "job", monkeypatch, clock)


@pytest.fixture
def ready(site: Site) -> Site:
    """Everything is recorded: the answer is GO."""
    site.around()
    return site
