"""A phone that trusts the garage: secure, opens without the service, keeps what is done, hands it over; nothing less is taken."""

from __future__ import annotations

import re
import socket
import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from playwright.sync_api import Browser, Error, Route, expect

from support import web_app
from support.axe import axe_violations
from support.crew_day_plan import PLAN
from support.tls_phones import NewTlsPhone, TlsPhone
from support.tls_site import FOREIGN, NAME, Site
from support.web_crew import PIN, WebCrew
from support.web_phones import PHONE
from yokemate.routes.join_page import join_page
from yokemate.serving.running import beside, listening
from yokemate.settings import Reach


def test_a_trusting_phone_works_on_when_the_service_is_gone(
    tls_site: Site, new_tls_phone: NewTlsPhone
) -> None:
    """R3: by name, in a secure context, the worker keeps the app; with the service stopped it opens anew at a deep
    address, a step is ticked and waits; back again, it is handed over by itself, once."""
    crew = WebCrew(new_tls_phone, tls_site.at(NAME), PLAN, {"aled": {"role": "builder"}})
    crew.act("aled", "/tasks/hoses/take")
    aled = crew.opened("aled", "/tasks/hoses", "Fit the top hose")
    assert aled.page.evaluate("isSecureContext") is True
    shell_kept(aled)

    asked: list[str] = []
    given_up: list[str] = []

    def hangs(route: Route) -> None:
        """At the edge of the network: neither an answer nor a failure."""
        asked.append(route.request.url)

    aled.page.on("requestfailed", lambda request: given_up.append(request.url))
    aled.context.route("**/api/**", hangs)
    aled.page.reload()
    aled.title("Fit the top hose")
    me = tls_site.at(NAME) + "/api/me"
    assert me in asked
    assert me not in given_up
    aled.context.unroute("**/api/**")

    tls_site.stop()
    aled.page.reload()
    aled.title("Fit the top hose")
    aled.sees("No connection since")
    aled.press("Step 1 done")
    expect(aled.link("1 here", exact=False)).to_be_visible()
    aled.page.reload()
    expect(aled.link("1 here", exact=False)).to_be_visible()

    tls_site.start()
    expect(aled.link("1 here", exact=False)).to_have_count(0)
    assert _ticks(crew) == 1


def test_unsent_work_moves_to_another_address_and_is_done_once(
    tls_site: Site, new_tls_phone: NewTlsPhone, tmp_path: Path
) -> None:
    """R3: Aled's phone was enrolled by address; he saves what waits, is let in by name with his own PIN, takes the file in;
    the old address coming back later adds nothing."""
    by_address = tls_site.at("127.0.0.1")
    crew = WebCrew(new_tls_phone, by_address, PLAN, {"aled": {"role": "builder"}, "bram": {"role": "helper"}})
    crew.act("aled", "/tasks/hoses/take")
    old = crew.opened("aled", "/tasks/hoses", "Fit the top hose")
    shell_kept(old)
    old.cut_off()
    old.press("Step 1 done")
    old.go("/here")
    old.title("Still on this phone")
    with old.page.expect_download() as saving:
        old.press("Save it as a file")
    file = tmp_path / saving.value.suggested_filename
    saving.value.save_as(file)
    old.sees("Saved, 1 in it.")

    bram = crew.opened("bram", "/here", "Still on this phone")
    bram.page.get_by_label("Take in a file").set_input_files(file)
    bram.sees("This is Aled's work, and you are Bram.")

    code = crew.phones["ines"].post(f"{crew.home}/people/{crew.people['aled']}/devices", {})["code"]
    new = new_tls_phone(tls_site.at(NAME))
    new.open(f"/join#{code}")
    new.title("Another phone of Aled's")
    new.fill("Your PIN", PIN)
    new.press("Let this phone in")
    new.title("Queue")
    new.go("/here")
    new.page.get_by_label("Take in a file").set_input_files(file)
    new.sees("1 taken in. Nothing is done twice.")
    new.sees("All sent")
    ticked = _ticks(crew)
    new.page.get_by_label("Take in a file").set_input_files(file)
    new.sees("0 taken in. 1 was here before. Nothing is done twice.")

    old.back_on()
    old.sees("All sent")
    assert ticked == 1
    assert _ticks(crew) == 1


def test_an_invite_begins_with_what_a_new_phone_must_trust(
    tls_site: Site, new_tls_phone: NewTlsPhone
) -> None:
    """Step 1 is the join page and the fingerprint, step 2 the invite; the crew's screen says whose address is gone."""
    here = tls_site.at(NAME)
    crew = WebCrew(new_tls_phone, here, PLAN, {"aled": {"role": "builder"}})
    assert tls_site.running is not None
    tls_site.running.service.reach = Reach(
        (here,),
        frozenset({"https://elsewhere.local"}),
        join_page="http://192.168.1.5:8421",
        fingerprint="AB:CD:EF",
        authority="Yokemate garage bench",
    )
    ines = crew.opened("ines", "/crew/invite", "Invite someone")
    ines.press("Make the invite")
    ines.sees("1 of 2. A new phone must trust this garage first.")
    ines.sees("http://192.168.1.5:8421")
    ines.sees("AB:CD:EF")
    ines.press("It trusts this garage: step 2")
    ines.sees(re.compile(rf"^{re.escape(here)}/join#"))
    ines.go("/crew")
    ines.sees(f"2 phones were enrolled at {here}, which does not lead here any more.")
    ines.follow("Aled", exact=False)
    ines.press("A code for a new phone of Aled's")
    ines.sees("1 of 2. A new phone must trust this garage first.")


def shell_kept(phone: TlsPhone) -> None:
    """The service worker is there and answers for the app's own files."""
    phone.page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    phone.page.wait_for_function("navigator.serviceWorker.controller !== null")


def _ticks(crew: WebCrew) -> int:
    """How many entries of the record tell of a ticked step."""
    entries = crew.view("ines", "/record")["entries"]
    return sum(one["kind"] == "task.ticked" for one in entries)


def test_who_does_not_trust_the_garage_gets_nothing(tls_site: Site, browser: Browser) -> None:
    """An ordinary browser says so, and opens nothing."""
    context = browser.new_context()
    try:
        with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
            context.new_page().goto(f"{tls_site.at('127.0.0.1')}/")
    finally:
        context.close()


def test_trust_in_the_garage_is_no_trust_in_its_key_for_other_names(
    tls_site: Site, trusting: Browser, tmp_path: Path
) -> None:
    """The garage's key, stolen, signs for somebody else's name: the trusting browser refuses it."""
    authority = serialization.load_pem_private_key(
        (tmp_path / "certificates" / "authority.pem").read_bytes(), None
    )
    assert isinstance(authority, ec.EllipticCurvePrivateKey)
    context = trusting.new_context()
    try:
        foreign, ours = (
            forged(tls_site.kept.authority, authority, name, tmp_path) for name in (FOREIGN, NAME)
        )
        with answering(foreign) as port, pytest.raises(Error, match="ERR_CERT_INVALID"):
            context.new_page().goto(f"https://{FOREIGN}:{port}/")
        with answering(ours) as port:
            # A page of its own: the browser's own page of errors still lands on the one that was refused.
            page = context.new_page()
            page.goto(f"https://{NAME}:{port}/")
            expect(page.locator("body")).to_have_text("here")
    finally:
        context.close()


def forged(issuer: x509.Certificate, key: ec.EllipticCurvePrivateKey, name: str, folder: Path) -> Path:
    own, now = ec.generate_private_key(ec.SECP256R1()), datetime.now(UTC)
    made = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([]))
        .issuer_name(issuer.subject)
        .public_key(own.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))
        .not_valid_after(now + timedelta(days=30))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(name)]), True)
        .add_extension(x509.ExtendedKeyUsage([x509.ExtendedKeyUsageOID.SERVER_AUTH]), False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(key.public_key()), False)
        .sign(key, hashes.SHA256())
    )
    file = folder / f"{name}.pem"
    pem, pkcs8 = serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8
    file.write_bytes(made.public_bytes(pem) + own.private_bytes(pem, pkcs8, serialization.NoEncryption()))
    return file


@contextmanager
def answering(file: Path) -> Iterator[int]:
    """Something that speaks HTTPS with this certificate and says *here* to whoever gets that far."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(file)
    listening = socket.create_server(("127.0.0.1", 0))
    listening.settimeout(0.2)
    over = threading.Event()

    def answer() -> None:
        while not over.is_set():
            try:
                opened, _ = listening.accept()
                with opened, context.wrap_socket(opened, server_side=True) as secure:
                    secure.recv(4096)
                    secure.sendall(b"HTTP/1.0 200 OK\r\nContent-Type: text/plain\r\n\r\nhere")
            except OSError:
                continue

    thread = threading.Thread(target=answer, daemon=True)
    thread.start()
    try:
        yield int(listening.getsockname()[1])
    finally:
        over.set()
        thread.join(5)
        listening.close()


def test_the_join_page_reads_well_on_a_phone(tls_site: Site, browser: Browser) -> None:
    """390 × 844: nothing sideways, targets of 48 px, axe content, and the browser has nothing to complain of."""
    reach = Reach(
        (tls_site.at(NAME), tls_site.at("127.0.0.1")), authority="Yokemate garage", fingerprint="AB"
    )
    page_app = join_page(lambda: (tls_site.kept.authority, reach), web_app.built())
    context = browser.new_context(viewport=PHONE)  # type: ignore[arg-type]
    page = context.new_page()
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    try:
        with listening("127.0.0.1", 0, "--join-port") as opened, beside(page_app, opened):
            page.goto(f"http://127.0.0.1:{opened.getsockname()[1]}/")
            page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
            assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
            for target in page.locator("a.button, summary").all():
                box = target.bounding_box()
                assert box is not None and box["height"] >= 48
            assert axe_violations(page) == []
    finally:
        context.close()
    assert complaints == []
