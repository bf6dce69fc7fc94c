"""The job on a network that a test made up: paired phones, asked in this process."""

from __future__ import annotations

import ipaddress
import re
from pathlib import Path

from starlette.testclient import TestClient

from lineproof.desk.lan.addresses import Address
from lineproof.desk.lan.network import Network
from lineproof.desk.lan.pairing import offer
from lineproof.desk.record_book import settings_of
from lineproof.desk.web.app import create_app
from web_rig import works

HERE: tuple[Address, ...] = (ipaddress.ip_address("192.168.7.2"),)
"""Address of this machine on the invented network (a private range, RFC 1918)."""
PHONE = "192.168.7.20"

PERSON = {
    "lead": "P-1",
    "joiner": "P-2",
    "inspector": "",
    "engineer": "",
    "test_in_charge": "",
    "witness": "",
    "viewer": "P-3",
}
"""Who has which role in the invented works; an empty one is read from ``[signs]``."""


class Lan:
    """The invented treatment works on the network."""

    def __init__(self, folder: Path) -> None:
        self.folder = works(folder)
        job = folder / "job.toml"
        told = job.read_text("utf-8").replace('witness = ""', 'witness = "P-4"')
        job.write_text(told, "utf-8")
        self.settings = settings_of(folder)
        self.app = create_app(folder)
        self.machine = TestClient(self.app, base_url="http://localhost")
        self.network = Network(self.app, folder, port=8643, trust_port=8644, here=lambda: HERE)
        self.home = f"https://{self.network.authority.name}:8643"

    def person(self, role: str) -> str:
        return PERSON[role] or str(getattr(self.settings.signs, role))

    def stranger(self, address: str = PHONE) -> TestClient:
        """A browser that nobody paired, on a page of the job."""
        return TestClient(
            self.network.app, base_url=self.home, client=(address, 50000), follow_redirects=False,
            headers={"origin": self.home},
        )  # fmt: skip

    def code(self, role: str, *, person: str = "", again: str = "") -> str:
        who = person or self.person(role)
        return offer(self.network.phones, self.settings, who, [role], again=again).code

    def phone(self, *roles: str, address: str = PHONE, person: str = "") -> TestClient:
        """A paired phone with its session."""
        who = person or self.person(roles[0])
        made = offer(self.network.phones, self.settings, who, roles)
        ask = self.stranger(address)
        told = ask.post("/pair", data={"code": made.code, "name": "phone of the test"})
        assert told.status_code == 303, told.text
        return ask

    def close(self) -> None:
        self.network.close()


def key(ask: TestClient, page: str = "/tape") -> str:
    """The form key of a page as its reader gets it."""
    found = re.search(r'name="key" value="([^"]+)"', ask.get(page).text)
    assert found, page
    return found[1]


__all__ = ["HERE", "PHONE", "Lan", "key"]
