"""A cement card that is changed after it was used: the longer row governs joints already made.

The card is the invented one of ``move_rig``: at 52 F its handling row is 2 h. Waits are counted by hand.
"""

from __future__ import annotations

from pathlib import Path

from lineproof.floor.verdicts import Verdict
from lineproof.job.card_seal import seal_of, told_of
from lineproof.job.folder import read_job
from lineproof.logbook.fold import fold
from lineproof.plan.make_pack import named_work
from lineproof.plan.may_move import MayMove, may_move
from lineproof.plan.work import work
from logbook.rig import BELA
from made_rig import CANS, Made
from move_rig import J1, at


class Carded(Made):
    """A site on which the card is sealed by hand, as the desk does it."""

    def seal(self, clock: str, hours: str = "2 h") -> str:
        """Seal the card of job.toml with another handling row at 52 F."""
        told = told_of(self.typed(hours), "C-2")
        return self.story.write(clock, "card", {"card": "C-2", "seal": seal_of(told), "told": told}).id

    def typed(self, hours: str) -> str:
        text = (self.folder / "job.toml").read_text("utf-8")
        return text.replace('time = "2 h"', f'time = "{hours}"')

    def change(self, hours: str) -> None:
        """Change the card in job.toml."""
        (self.folder / "job.toml").write_text(self.typed(hours), "utf-8")
        self.work, _ = named_work(work(read_job(self.folder), nest=False))

    def ask(self, clock: str) -> MayMove:
        return may_move(J1, self.work, self.progress(clock))


def made(folder: Path) -> Carded:
    site = Carded(folder)
    site.seal("7:10")
    site.whole()
    site.story.read("10:00", 52)
    return site


def test_a_shorter_card_does_not_shorten_what_was_made_before(tmp_path: Path) -> None:
    site = made(tmp_path)
    assert site.ask("10:05").until == at("11:05")
    site.change("1 h")
    found = site.ask("10:05")
    assert (found.verdict, found.until) == (Verdict.CANNOT_TELL, at("11:05"))
    clock = next(f for f in found.findings if f.id == "MOV-02")
    assert (clock.verdict, clock.limit) == (Verdict.WAIT, 7200.0)
    assert [f.facts["why"] for f in found.findings if f.id == "CEM-06"] == ["changed"]
    site.seal("10:01", "1 h")
    again = [f.facts["why"] for f in site.ask("10:05").findings if f.id == "CEM-06"]
    assert again == ["changed"], "to use it once more is no reading back"


def test_a_changed_card_is_read_back_again(tmp_path: Path) -> None:
    site = made(tmp_path)
    site.change("3 h")
    path = site.folder / "job.toml"
    again = path.read_text("utf-8").replace(
        'read_back_by = "B"', 'read_back_by = "B"\nread_back_on = 2026-11-22'
    )
    path.write_text(again, "utf-8")
    site.work, _ = named_work(work(read_job(site.folder), nest=False))
    assert site.ask("10:05").verdict is Verdict.WAIT


def test_a_longer_card_does(tmp_path: Path) -> None:
    site = made(tmp_path)
    site.change("3 h")
    assert site.ask("10:05").until == at("12:05")


def test_a_joint_made_after_the_change_goes_by_the_new_card(tmp_path: Path) -> None:
    site = Carded(tmp_path)
    site.seal("7:10", "4 h")
    site.seal("8:00", "2 h")  # nobody read it back: CEM-06 says so, the clock goes on
    site.whole()
    site.story.read("10:00", 52)
    assert site.ask("10:05").until == at("11:05")
    other = Carded(tmp_path / "other")
    other.seal("7:10", "4 h")
    other.whole()
    other.seal("9:30", "2 h")
    other.story.read("10:00", 52)
    assert other.ask("10:05").until == at("13:05"), "the one sealed when it was made governs as well"


def test_one_person_alone_does_not_strike_a_sealed_card_out(tmp_path: Path) -> None:
    site = Carded(tmp_path)
    sealed = site.seal("7:10", "4 h")
    site.whole()
    site.story.read("10:00", 52)
    void = {"corrects": sealed, "reason": "typed wrong", "void": True}
    site.story.write("10:01", "correction", void)
    assert site.ask("10:05").until == at("13:05")
    site.story.write("10:02", "correction", {**void, "second": BELA})
    assert site.ask("10:05").until == at("11:05")


def test_another_card_that_one_person_alone_puts_in(tmp_path: Path) -> None:
    """C-2 was sealed with 4 h; to say afterwards that it was C-1 (2 h) takes a second person."""
    papers = {'cement = "C-2"': 'cement = "C-1"', 'id = "C-2"': 'id = "C-1"'}
    site = Carded(tmp_path, papers=papers, cans=CANS.replace("C-2", "C-1"))
    text = (site.folder / "job.toml").read_text("utf-8")
    told = told_of(text.replace('id = "C-1"', 'id = "C-2"').replace('time = "2 h"', 'time = "4 h"'), "C-2")
    site.story.write("7:10", "card", {"card": "C-2", "seal": seal_of(told), "told": told})
    entry = site.make(card="C-2")
    site.record("9:03", "hold_end")
    site.story.read("10:00", 52)
    site.correct("10:01", entry, card="C-1")
    assert site.ask("10:05").until == at("13:05")
    site.correct("10:02", entry, BELA, card="C-1", second=entry.who)
    assert site.ask("10:05").until == at("11:05")


def test_a_card_whose_seal_is_not_its_content_leaves_it_open(tmp_path: Path) -> None:
    site = made(tmp_path)
    told = told_of(site.typed("1 h"), "C-2")
    site.story.write("10:01", "card", {"card": "C-2", "seal": "ab" * 32, "told": told})
    found = site.ask("10:05")
    assert found.verdict is Verdict.CANNOT_TELL
    assert fold(site.story.store.read_since()).joints[J1].unclear == ()
