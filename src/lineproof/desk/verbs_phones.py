"""The verbs of paired phones: a code for a new one, the list, and the one that is dropped."""

from __future__ import annotations

import contextlib
import io
import json
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import segno
import typer

from lineproof.desk.lan.audit import Audit
from lineproof.desk.lan.pairing import drop, offer
from lineproof.desk.lan.phones import Phones
from lineproof.desk.record_book import settings_of
from lineproof.desk.web.access import Role
from lineproof.desk.words_when import day_and_hour
from lineproof.floor.errors import BadInput


@contextlib.contextmanager
def _phones(folder: Path) -> Iterator[Phones]:
    there = Phones(folder)
    try:
        yield there
    finally:
        there.close()


def show_phones(folder: Path, *, as_json: bool) -> None:
    """Say which phones are paired."""
    zone = ZoneInfo(settings_of(folder).site.timezone)
    with _phones(folder) as there:
        phones = there.all()
    if as_json:
        told = [
            {
                "id": p.id, "name": p.name, "person": p.person, "roles": sorted(r.value for r in p.roles),
                "paired": _iso(p.paired), "seen": _iso(p.seen),
                "dropped": None if p.dropped is None else _iso(p.dropped),
            }
            for p in phones
        ]  # fmt: skip
        typer.echo(json.dumps({"phones": told}, indent=1))
        return
    if not phones:
        typer.echo(
            "no phone is paired; next: lineproof serve --lan, then lineproof phones pair P-2 --as joiner"
        )
    for p in phones:
        roles = ", ".join(r.value.replace("_", " ") for r in sorted(p.roles))
        last = p.seen if p.dropped is None else p.dropped
        said = "last seen" if p.dropped is None else "dropped"
        when = day_and_hour(datetime.fromtimestamp(last, UTC).astimezone(zone))
        typer.echo(f"{p.id}  {p.person} as {roles}, {p.name}; {said} {when}")


def pair_phone(folder: Path, person: str, roles: Sequence[str], *, by: str, again: str) -> None:
    """Make a code that pairs one phone once, and show its picture."""
    settings = settings_of(folder)
    wrong = [r for r in roles if r not in {role.value for role in Role}]
    if wrong:
        raise BadInput(
            f"--as {wrong[0][:40]} is not known",
            allowed=", ".join(r.value for r in Role),
            next="choose of these",
        )
    with _phones(folder) as there:
        address = there.about("address")
        if not address:
            raise BadInput(
                "the job is not on the site's network", allowed="lineproof serve --lan, in another window",
                next="start it, then make the code",
            )  # fmt: skip
        made = offer(there, settings, person, roles, by=by, again=again)
    picture = io.StringIO()
    segno.make(f"{address}/pair#{made.code}", error="l", micro=False).terminal(picture, compact=True)
    typer.echo(picture.getvalue())
    until = datetime.fromtimestamp(made.ends, UTC).astimezone(ZoneInfo(settings.site.timezone))
    typer.echo(f"code for {person}: {made.code}   (one phone, once, until {day_and_hour(until)})")
    typer.echo(f"scan it with the phone's camera, or open {address}/pair and type it")
    typer.echo(f"hand it to {person} in person: what is signed on that phone counts as signed by {person}")


def drop_phone(folder: Path, id: str, reason: str, *, by: str) -> None:
    """End the session of a phone."""
    settings_of(folder)
    with _phones(folder) as there:
        known = [p.id for p in there.all() if p.dropped is None]
        if drop(there, Audit(folder), id, reason, by=by) is None:
            raise BadInput(
                f"there is no phone {id[:40]} to drop", allowed=", ".join(known) or "none is paired",
                next="lineproof phones",
            )  # fmt: skip
    typer.echo(f"{id} is dropped; what it sent stays, what waits on it is sent once it is paired again")


def _iso(seconds: float) -> str:
    return datetime.fromtimestamp(seconds, UTC).isoformat(timespec="seconds")
