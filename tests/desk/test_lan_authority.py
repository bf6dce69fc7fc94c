"""The job's authority: what it may sign for, what it may not, and a certificate that renews itself.

Second opinion: OpenSSL, by Python's ``ssl`` module, does the path validation of RFC 5280; nothing of ours
decides here whether a certificate is believed.
"""

from __future__ import annotations

import ipaddress
import socket
import ssl
import threading
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from lan_rig import HERE, Lan
from lineproof.desk.lan import authority as rules
from lineproof.desk.lan.addresses import Address, private, ranges_of
from lineproof.desk.lan.authority import Authority, authority_of, leaf_of, network_name
from lineproof.floor.errors import BadInput
from verb_rig import verb

OTHER: tuple[Address, ...] = (ipaddress.ip_address("192.168.7.99"),)


def pem(*parts: x509.Certificate | ec.EllipticCurvePrivateKey) -> bytes:
    told = b""
    for part in parts:
        if isinstance(part, x509.Certificate):
            told += part.public_bytes(serialization.Encoding.PEM)
        else:
            told += part.private_bytes(
                serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
            )
    return told


def forged(
    signer: Authority, names: Sequence[x509.GeneralName], path: Path, *, through: bool = False
) -> Path:
    """What a thief with the authority's key would make: a certificate for other names."""
    issuer, key, chain = signer.certificate, signer.key, []
    if through:
        key = ec.generate_private_key(ec.SECP256R1())
        issuer = _signed("thief", key, signer.certificate.subject, signer.key, [], ca=True)
        chain = [issuer]
    own = ec.generate_private_key(ec.SECP256R1())
    leaf = _signed("server", own, issuer.subject, key, names, ca=False)
    path.write_bytes(pem(leaf, *chain, own))
    return path


def _signed(
    name: str, key: ec.EllipticCurvePrivateKey, issuer: x509.Name, by: ec.EllipticCurvePrivateKey,
    names: Sequence[x509.GeneralName], *, ca: bool,
) -> x509.Certificate:  # fmt: skip
    now = datetime.now(UTC)
    builder = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)]))
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=30))
        .add_extension(x509.BasicConstraints(ca=ca, path_length=None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(by.public_key()), critical=False)
    )
    if ca:
        builder = builder.add_extension(rules._usage(signs=True), critical=True)
    if names:
        builder = builder.add_extension(x509.SubjectAlternativeName(names), critical=False)
    return builder.sign(by, hashes.SHA256())


def shaken(file: Path, trusted: Authority, host: str) -> str:
    """Shake hands over a socket pair: empty if the client believes the server, else why not."""
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(file)
    client = ssl.create_default_context(cadata=pem(trusted.certificate).decode())
    client.verify_flags |= ssl.VERIFY_X509_STRICT  # RFC 5280 to the letter
    here, there = socket.socketpair()
    here.settimeout(30)

    def serve() -> None:
        try:
            with server.wrap_socket(there, server_side=True) as one:
                one.recv(1)
        except OSError:
            there.close()

    thread = threading.Thread(target=serve, daemon=True)
    thread.start()
    try:
        with client.wrap_socket(here, server_hostname=host) as one:
            one.send(b"x")
        return ""
    except ssl.SSLCertVerificationError as error:
        return error.verify_message
    finally:
        here.close()
        thread.join(30)


@pytest.fixture
def made(tmp_path: Path) -> Authority:
    return authority_of(tmp_path, "B1", lambda: HERE)


def test_openssl_believes_it_for_the_name_and_the_address_and_for_nothing_else(
    made: Authority, tmp_path: Path
) -> None:
    file, new = leaf_of(tmp_path, made, HERE)
    assert new
    assert shaken(file, made, made.name) == ""
    assert shaken(file, made, "localhost") == ""
    assert shaken(file, made, "192.168.7.2") == ""
    assert "mismatch" in shaken(file, made, "192.168.7.3")
    assert "mismatch" in shaken(file, made, "other.local")


@pytest.mark.parametrize(
    "name",
    [
        x509.DNSName("bank.example"), x509.DNSName("other-job.local"), x509.DNSName("local"),
        x509.IPAddress(ipaddress.ip_address("203.0.113.7")), x509.IPAddress(ipaddress.ip_address("10.0.0.1")),
        x509.IPAddress(ipaddress.ip_address("fd00::7")),
    ],
    ids=lambda n: str(n.value),
)  # fmt: skip
def test_a_stolen_key_signs_for_nothing_but_this_job(
    made: Authority, tmp_path: Path, name: x509.GeneralName
) -> None:
    """RFC 5280, section 4.2.1.10: a name outside the permitted subtrees is refused by whoever verifies."""
    file = forged(made, [name], tmp_path / "forged.pem")
    assert shaken(file, made, str(name.value)) == "permitted subtree violation"


def test_the_authority_makes_no_further_authority(made: Authority, tmp_path: Path) -> None:
    file = forged(made, [x509.DNSName(made.name)], tmp_path / "forged.pem", through=True)
    assert shaken(file, made, made.name) == "path length constraint exceeded"
    limits = made.certificate.extensions.get_extension_for_class(x509.BasicConstraints)
    assert (limits.critical, limits.value.ca, limits.value.path_length) == (True, True, 0)
    names = made.certificate.extensions.get_extension_for_class(x509.NameConstraints)
    assert names.critical


def test_without_an_address_every_address_is_shut_out(tmp_path: Path) -> None:
    """A kind of name without a permitted subtree would be free: RFC 5280 says so."""
    alone = authority_of(tmp_path, "B1", tuple)
    file, _ = leaf_of(tmp_path, alone, HERE)
    assert shaken(file, alone, alone.name) == ""
    for told in ("192.168.7.2", "203.0.113.7"):
        name = x509.IPAddress(ipaddress.ip_address(told))
        forged(alone, [name], tmp_path / "forged.pem")
        assert shaken(tmp_path / "forged.pem", alone, told) == "excluded subtree violation"


def test_keys_are_for_their_owner_alone_and_leave_in_no_copy(tmp_path: Path) -> None:
    lan = Lan(tmp_path / "job")
    lan.phone("joiner")
    place = lan.folder / rules.FOLDER
    assert place.stat().st_mode & 0o777 == 0o700
    for name in ("ca.key", "server.pem"):
        assert (place / name).stat().st_mode & 0o777 == 0o600, name
    assert (lan.folder / ".local" / "phones.db").stat().st_mode & 0o777 == 0o600
    secret = next(line for line in (place / "ca.key").read_bytes().splitlines() if b"---" not in line)
    lead = lan.phone("lead")
    for ask in (lan.machine, lead):
        for path in (
            "/.local/authority/ca.key", "/papers/..%2f.local%2fauthority%2fca.key",
            "/static/../.local/phones.db",
            "/static/%2e%2e/%2e%2e/.local/authority/ca.key", "/papers/ca.key", "/papers/phones.db",
        ):  # fmt: skip
            told = ask.get(path)
            assert told.status_code in (400, 404), path
            assert secret not in told.content
    lan.close()
    (tmp_path / "copies").mkdir()
    assert verb("record", "backup", tmp_path / "copies" / "copy.db", "--job", lan.folder).code == 0
    copies = [f for f in (tmp_path / "copies").rglob("*") if f.is_file()]
    assert copies
    for file in copies:
        content = file.read_bytes()
        assert secret not in content
        assert b"PRIVATE KEY" not in content
        assert b"__Host-" not in content


def test_it_lasts_and_is_the_same_at_the_next_start(made: Authority, tmp_path: Path) -> None:
    again = authority_of(tmp_path, "B1", lambda: OTHER)
    assert again.fingerprint == made.fingerprint
    assert len(made.fingerprint.split()) == 8
    assert made.fingerprint.replace(" ", "").lower() == made.certificate.fingerprint(hashes.SHA256()).hex()
    life = made.certificate.not_valid_after_utc - datetime.now(UTC)
    assert timedelta(days=365) < life <= rules.LIFE


def test_a_damaged_authority_is_said_in_one_sentence(made: Authority, tmp_path: Path) -> None:
    (tmp_path / rules.FOLDER / "ca.crt").write_text("not a certificate")
    with pytest.raises(BadInput, match=r"not the authority of this job.*take the folder"):
        authority_of(tmp_path, "B1", lambda: HERE)
    other = authority_of(tmp_path / "other", "B1", tuple)
    (tmp_path / rules.FOLDER / "ca.crt").write_bytes(pem(other.certificate))
    with pytest.raises(BadInput, match="not the authority"):
        authority_of(tmp_path, "B1", lambda: HERE)


def test_two_jobs_never_share_a_name() -> None:
    ids = ["b1", "B.1", "B 1", "b-1", "Ü", "Ö", "x" * 60, "x" * 61, "", "-"]
    names = [network_name(told) for told in ids]
    assert len(set(names)) == len(ids)
    for name in names:
        assert len(name) <= 54
        assert name.removesuffix(".local").replace("-", "").isalnum()
        assert name.isascii()


def test_only_private_addresses_count() -> None:
    told = [
        "203.0.113.9",
        "192.168.1.5",
        "127.0.0.1",
        "169.254.3.3",
        "10.1.2.3",
        "fe80::1",
        "fd12::1",
        "2001:db8::1",
    ]
    assert [str(a) for a in private(told)] == ["192.168.1.5", "10.1.2.3", "fd12::1"]
    assert [str(n) for n in ranges_of(private(told))] == ["10.0.0.0/8", "192.168.0.0/16", "fc00::/7"]


def test_a_new_address_or_a_near_end_makes_a_new_certificate_while_it_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lan = Lan(tmp_path / "job")
    network, here = lan.network, list(HERE)
    network._here = lambda: tuple(here)
    context = network.tls()
    assert network.renew() is False, "nothing changed"
    first = served_names(context, network.authority)
    assert "192.168.7.99" not in first
    here += OTHER
    assert network.renew() is True
    assert network.tls() is context, "the listener goes on with the same one"
    assert "192.168.7.99" in served_names(context, network.authority)
    assert "192.168.7.99" in network.names()
    serial = leaf_serial(lan.folder)
    monkeypatch.setattr(rules, "RENEW", rules.LEAF_LIFE + timedelta(days=1))
    assert network.renew() is True
    assert leaf_serial(lan.folder) != serial
    monkeypatch.undo()
    far = ipaddress.ip_address("10.0.0.8")
    here.append(far)
    assert network.renew() is False, "the authority may not sign for it"
    assert far in network.outside
    assert "10.0.0.8" not in network.names()
    lan.close()


def leaf_serial(folder: Path) -> int:
    return x509.load_pem_x509_certificate((folder / rules.FOLDER / "server.pem").read_bytes()).serial_number


def served_names(context: ssl.SSLContext, trusted: Authority) -> set[str]:
    """Names in the certificate that a new connection gets."""
    client = ssl.create_default_context(cadata=pem(trusted.certificate).decode())
    server_in, client_in = ssl.MemoryBIO(), ssl.MemoryBIO()
    server = context.wrap_bio(server_in, client_in, server_side=True)
    asks = client.wrap_bio(client_in, server_in, server_hostname=trusted.name)
    for _ in range(8):
        for side in (asks, server):
            try:
                side.do_handshake()
            except ssl.SSLWantReadError:
                continue
    told = asks.getpeercert()
    assert told
    return {str(value) for _, value in told["subjectAltName"]}  # type: ignore[misc]
