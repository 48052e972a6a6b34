"""`serve` over its own HTTPS: what it prints, what it answers, how it renews while it runs, and when it refuses to serve."""

from __future__ import annotations

import io
import signal
import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path
from typing import Any

import httpx2
import pytest
from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding

from support.phones import shared_app
from support.server import Running
from support.service import CHEAP_KIB, SECRET, START_MS, Clock, fresh_sqlite
from yokemate.app import make_service
from yokemate.certificates.files import keep
from yokemate.certificates.making import fingerprint
from yokemate.certificates.names import Address, Names
from yokemate.cli import main, say
from yokemate.routes.join_page import CERTIFICATE
from yokemate.serving import Brought, Garage
from yokemate.serving import garage as garage_room
from yokemate.serving.addresses import at_port, origin
from yokemate.serving.running import listening
from yokemate.serving.ways import qr
from yokemate.settings import Settings
from yokemate.store import people

DAY_MS = 24 * 3600 * 1000


def free_ports() -> tuple[int, int]:
    with socket.create_server(("127.0.0.1", 0)) as one, socket.create_server(("127.0.0.1", 0)) as two:
        return int(one.getsockname()[1]), int(two.getsockname()[1])


@contextmanager
def serving(data: Path, port: int, *asked: str) -> Iterator[list[str]]:
    """`serve` as a program of its own; the lines it says until it serves, and after the block those it said since."""
    command = [
        sys.executable,
        "-m",
        "yokemate.cli",
        "serve",
        "--data",
        str(data),
        "--port",
        str(port),
        *asked,
    ]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as served:
        said: list[str] = []
        try:
            assert served.stdout is not None
            while not said or "Stop with Ctrl-C." not in said[-1]:
                line = served.stdout.readline()
                assert line, said
                said.append(line)
            deadline = time.monotonic() + 20
            while time.monotonic() < deadline:
                with suppress(OSError), socket.create_connection(("127.0.0.1", port), 1):
                    break
                time.sleep(0.05)
            yield said
        finally:
            served.send_signal(signal.SIGINT)
            said += served.stdout.readlines() if served.stdout else []
            served.wait(20)


def test_serve_makes_its_own_https_and_hands_out_what_to_trust(tmp_path: Path) -> None:
    """Nothing but a data folder: the terminal names fingerprint and addresses; a client that trusts what the join page
    hands out is answered by name and by address; one that does not is not; and nothing answers in plain HTTP."""
    port, join_port = free_ports()
    asked = ["--host", "127.0.0.1", "--join-port", str(join_port), "--unannounced"]
    with serving(tmp_path, port, *asked) as said:
        with httpx2.Client() as plain:
            authority = plain.get(f"http://127.0.0.1:{join_port}{CERTIFICATE}").content
            with pytest.raises(httpx2.TransportError):
                plain.get(f"http://127.0.0.1:{port}/api/health")
        trusting = ssl.create_default_context(cadata=authority.decode())
        with httpx2.Client(verify=trusting) as client:
            for host in ("localhost", "127.0.0.1"):
                assert client.get(f"https://{host}:{port}/api/health").json()["mode"] == "https"
        with (
            httpx2.Client() as stranger,
            pytest.raises(httpx2.ConnectError, match="CERTIFICATE_VERIFY_FAILED"),
        ):
            stranger.get(f"https://localhost:{port}/api/health")
    text = "".join(said)
    assert fingerprint(x509.load_pem_x509_certificate(authority)) in text.replace("\n  ", ":")
    assert f"https://localhost:{port}" in text
    assert "Traceback" not in text


@pytest.fixture
def garage(sqlite_template: Path, tmp_path: Path) -> Iterator[Garage]:
    """A service on an https clock that tests move, at a machine that tests move about."""
    clock = Clock()
    settings = Settings(
        fresh_sqlite(sqlite_template, tmp_path), SECRET, clock=clock, argon2_memory_kib=CHEAP_KIB
    )
    at = make_service(settings)
    said: list[str] = []
    made = Garage(at, tmp_path, ["yokemate.local"], "0.0.0.0", 8420, 8421, said.append)
    made.names_now = lambda called: Names.of([*called, "localhost"], [ip_address("127.0.0.1"), *LAN])
    yield made
    at.database.close()


LAN = [ip_address("192.168.1.5")]


def served(port: int, authority: x509.Certificate) -> x509.Certificate:
    """The certificate that a new connection is shown."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    with socket.create_connection(("127.0.0.1", port), 10) as plain, context.wrap_socket(plain) as secure:
        shown = secure.getpeercert(binary_form=True)
    assert shown is not None
    found = x509.load_der_x509_certificate(shown)
    found.verify_directly_issued_by(authority)
    return found


def test_it_renews_while_it_runs(garage: Garage, monkeypatch: pytest.MonkeyPatch) -> None:
    """The clock goes on, the address changes: the next connection is shown the new certificate, nobody restarts."""
    kept = garage.look()
    server = Running(garage.at, app=shared_app(garage.at), tls=garage.context)
    server.start()
    try:
        first = served(server.port, kept.authority)
        garage.look()
        assert served(server.port, kept.authority).serial_number == first.serial_number

        clock: Any = garage.at.settings.clock
        clock.now_ms = START_MS + 310 * DAY_MS
        garage.look()
        second = served(server.port, kept.authority)
        assert second.not_valid_after_utc > first.not_valid_after_utc

        monkeypatch.setitem(globals(), "LAN", [ip_address("192.168.1.77")])
        garage.look()
        third = served(server.port, kept.authority)
        names = third.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        assert ip_address("192.168.1.77") in names.get_values_for_type(x509.IPAddress)
        assert "https://192.168.1.77:8420" in garage.at.reach.addresses
    finally:
        server.stop()


def test_a_brought_certificate_is_taken_up_when_it_is_renewed(garage: Garage, tmp_path: Path) -> None:
    """Whoever renews it replaces the file: the next connection is shown the new one; a torn file leaves the old in use."""
    first = garage.look()
    file, said = tmp_path / "brought.pem", list[str]()
    file.write_bytes(first.file.read_bytes())
    brought = Brought(file, file, said.append)
    brought.look()
    server = Running(garage.at, app=shared_app(garage.at), tls=brought.context)
    server.start()
    try:
        before = served(server.port, first.authority).serial_number
        file.write_bytes(b"torn")
        with pytest.raises(ValueError, match=r"brought\.pem"):
            brought.look()
        assert served(server.port, first.authority).serial_number == before

        clock: Any = garage.at.settings.clock
        clock.now_ms = START_MS + 310 * DAY_MS
        file.write_bytes(garage.look().file.read_bytes())
        brought.look()
        brought.look()
        assert served(server.port, first.authority).serial_number != before
    finally:
        server.stop()
    assert said == [f"{file} changed, and is used from now on."]


def test_what_phones_are_told(garage: Garage) -> None:
    """Not announced, so by address; the join page beside it; every way that leads here counts as this service."""
    garage.look()
    reach = garage.at.reach

    assert reach.addresses == ("https://192.168.1.5:8420",)
    assert reach.join_page == "http://192.168.1.5:8421"
    assert {
        "https://yokemate.local:8420",
        "https://192.168.1.5:8420",
        "https://localhost:8420",
    } <= reach.origins


def test_the_name_follows_the_machine_and_is_tried_again(
    garage: Garage, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No network at start: by address, said once. A network comes: announced there; another: announced there instead."""
    asked: list[list[str]] = []
    ended: list[str] = []

    class Announced:
        name = "yokemate.local"

        def close(self) -> None:
            ended.append(self.name)

    def announce(name: str, addresses: Iterable[Address], port: int) -> Announced:
        asked.append([str(one) for one in addresses])
        if not asked[-1]:
            raise ValueError(f"{name} is not announced: no network.")
        return Announced()

    said: list[str] = []
    garage.say, garage.announces = said.append, True
    monkeypatch.setattr(garage_room, "announce", announce)
    for lan in ([], [], ["192.168.1.5"], ["192.168.1.5"], ["192.168.7.7"]):
        monkeypatch.setitem(globals(), "LAN", [ip_address(one) for one in lan])
        garage.look()

    assert asked == [[], [], ["192.168.1.5"], ["192.168.7.7"]]
    assert ended == ["yokemate.local"]
    assert len([one for one in said if "not announced" in one]) == 1
    assert garage.at.reach.addresses == ("https://yokemate.local:8420", "https://192.168.7.7:8420")


def test_phones_left_behind_are_told_of_at_every_start(garage: Garage) -> None:
    """Enrolled at an address that the machine no longer has: said once, with where their unsent work is."""
    said: list[str] = []
    garage.say = said.append
    with garage.at.database.write() as connection:
        people.add(connection, "person-aled", "Aled", START_MS)
        for origin_then in ("https://192.168.1.4:8420", "https://yokemate.local:8420"):
            people.enrol(connection, people.new_key(), "person-aled", START_MS, origin=origin_then)
    garage.look()
    garage.look()

    [told] = [one for one in said if "does not lead here any more" in one]
    assert told.startswith("1 phone(s) were enrolled at https://192.168.1.4:8420")
    assert "Save it as a file" in told


@pytest.mark.parametrize("way", ["brought", "behind"])
def test_the_other_ways_of_https_serve(way: str, tmp_path: Path) -> None:
    """With a certificate that was brought along, by HTTPS; behind a proxy, in plain on this machine alone, yet as https."""
    port, _ = free_ports()
    asked = ["--public-url", f"https://localhost:{port}", "--host", "127.0.0.1"]
    now = datetime.now(UTC)
    trusting = ssl.create_default_context()
    if way == "brought":
        kept = keep(tmp_path, [], Names.of(["localhost"], []), now)
        trusting = ssl.create_default_context(cadata=kept.authority.public_bytes(Encoding.PEM).decode())
        asked += ["--cert", str(kept.file), "--key", str(kept.file)]
    else:
        asked = ["--public-url", "https://garage.example.org", "--behind-proxy", "127.0.0.1"]
    with serving(tmp_path / "data", port, *asked), httpx2.Client(verify=trusting) as client:
        scheme = "https" if way == "brought" else "http"
        base = f"{scheme}://localhost:{port}"
        health = client.get(f"{base}/api/health").json()
        made = client.post(
            f"{base}/api/first-run",
            json={"build_name": "x", "name": "Ines", "pin": "24681011"},
            headers={"X-Yokemate": "1", "Origin": asked[1]},
        )

    assert health["mode"] == "https"
    assert made.status_code == 200
    assert made.headers["set-cookie"].startswith("__Host-yokemate=")
    assert "; Secure" in made.headers["set-cookie"]


def test_a_certificate_that_was_brought_says_its_own_names_and_when_it_ends(tmp_path: Path) -> None:
    """Nothing renews it here, and a garage without internet forgets. 396 days, less the one it begins earlier."""
    made = datetime(2026, 1, 10, tzinfo=UTC)
    kept = keep(tmp_path, ["shed.local"], Names.of(["shed.local"], []), made)
    brought = Brought(kept.file, kept.file, lambda _said: None)
    brought.look()
    assert brought.names == ("shed.local",)
    assert brought.warning(made + timedelta(days=370)) is None
    soon = brought.warning(made + timedelta(days=380))
    assert soon is not None
    assert "ends on 2027-02-08" in soon
    ended = brought.warning(made + timedelta(days=396))
    assert ended is not None
    assert "ended on 2027-02-08" in ended


def test_a_port_that_is_taken_ends_with_a_sentence() -> None:
    with (
        socket.create_server(("127.0.0.1", 0)) as taken,
        pytest.raises(ValueError, match="Choose another --join-port"),
        listening("127.0.0.1", taken.getsockname()[1], "--join-port"),
    ):
        pass


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (["--plain", "--cert", "x", "--key", "y"], "one way only"),
        (["--cert", "x"], "belong together"),
        (["--behind-proxy", "127.0.0.1"], "needs --public-url"),
        (["--behind-proxy", "127.0.0.1", "--public-url", "http://x.example"], "begins with https://"),
        (["--plain", "--public-url", "https://x.example"], "begins with http://"),
        (["--plain", "--name", "shed.local"], "belong to HTTPS by our own authority"),
        (["--name", "garage.example.org"], "no name of a private network"),
        (["--cert", "nowhere.pem", "--key", "nowhere.key"], "there is no file"),
    ],
)
def test_what_can_not_be_is_said_and_nothing_is_served(
    asked: list[str], says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """No way of serving slides into another by itself."""
    assert main(["serve", "--data", str(tmp_path / "data"), *asked]) == 2
    assert says in capsys.readouterr().err
    assert not (tmp_path / "data").exists()


def test_without_https_it_ends_and_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder that can't hold keys: no silent way down to plain HTTP."""
    (tmp_path / "certificates").write_text("in the way")

    assert main(["serve", "--data", str(tmp_path), "--unannounced"]) == 2
    assert "HTTPS can't be had" in capsys.readouterr().err


def test_a_terminal_without_the_letters_still_serves(monkeypatch: pytest.MonkeyPatch) -> None:
    """A code to scan is made of blocks that not every terminal knows."""
    held = io.BytesIO()
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(held, encoding="cp1252"))
    say(qr("https://yokemate.local:8420"))
    say("On this network: https://yokemate.local:8420")

    assert held.getvalue().decode("cp1252").splitlines() == [
        "(This terminal can't show the code to scan.)",
        "On this network: https://yokemate.local:8420",
    ]


def test_addresses_as_browsers_write_them() -> None:
    assert at_port("https", ["a.local", "[fd00::1]"], 443) == ["https://a.local", "https://[fd00::1]"]
    assert at_port("http", ["a.local"], 443) == ["http://a.local:443"]
    assert origin("https://Garage.example:8443/x?y") == "https://garage.example:8443"
