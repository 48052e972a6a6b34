"""The join page hands out what a phone must trust, says how, and nothing else."""

from __future__ import annotations

import plistlib
import re
from datetime import UTC, datetime

import pytest
from cryptography import x509
from starlette.testclient import TestClient

from support import web_app
from yokemate.certificates.making import fingerprint, make_authority
from yokemate.routes.join_page import CERTIFICATE, PROFILE, join_page
from yokemate.settings import Reach

AUTHORITY = make_authority(["yokemate.local"], datetime(2026, 11, 25, tzinfo=UTC), "bench").certificate
REACH = Reach(("https://yokemate.local:8420", "https://192.168.1.5:8420"))


@pytest.fixture
def visitor() -> TestClient:
    return TestClient(
        join_page(lambda: (AUTHORITY, REACH), web_app.built()), base_url="http://192.168.1.5:8421"
    )


def test_it_hands_out_the_authority_in_both_ways(visitor: TestClient) -> None:
    """Without its key."""
    certificate, profile = visitor.get(CERTIFICATE), visitor.get(PROFILE)

    assert certificate.headers["content-type"] == "application/x-x509-ca-cert"
    assert x509.load_pem_x509_certificate(certificate.content) == AUTHORITY
    assert profile.headers["content-type"] == "application/x-apple-aspen-config"
    assert plistlib.loads(profile.content)["PayloadType"] == "Configuration"
    assert b"PRIVATE" not in certificate.content + profile.content


def test_it_says_the_fingerprint_and_the_way_onward(visitor: TestClient) -> None:
    text = visitor.get("/").text

    assert fingerprint(AUTHORITY) in text.replace("<wbr>", "")
    assert 'href="https://yokemate.local:8420"' in text
    assert 'href="https://192.168.1.5:8420"' in text


@pytest.mark.parametrize(
    ("said", "opened"),
    [
        ("Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) Safari/604.1", "iPhone, iPad"),
        ("Mozilla/5.0 (Linux; Android 15; Pixel 7) Chrome/150.0 Mobile", "Android"),
        ("Mozilla/5.0 (Windows NT 10.0; Win64; x64) Chrome/150.0", "Windows"),
        ("Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) Safari/605.1", "macOS"),
        ("Mozilla/5.0 (X11; Linux x86_64) Firefox/150.0", "Linux"),
        ("", None),
    ],
)
def test_the_steps_for_this_system_are_open(visitor: TestClient, said: str, opened: str | None) -> None:
    """All five are there; the one that fits comes opened."""
    text = visitor.get("/", headers={"User-Agent": said}).text

    assert len(re.findall("<details", text)) == 5
    assert re.findall(r"<details open><summary>(.*?)</summary>", text) == ([opened] if opened else [])
    assert "Certificate Trust Settings" in text


def test_nothing_else_is_there(visitor: TestClient) -> None:
    """No API, no app, no cookie, nothing taken in, nothing inline, and every answer under a policy."""
    for path in (
        "/api/me",
        "/api/health",
        "/join",
        "/sw.js",
        "/service.pem",
        "/../certificates/authority.pem",
    ):
        assert visitor.get(path).status_code == 404, path
    for method in ("POST", "PUT", "DELETE"):
        assert visitor.request(method, "/", content=b"{}").status_code == 404
    for path in ("/", CERTIFICATE, PROFILE, "/looks.css", "/icon.svg", "/nowhere"):
        answer = visitor.get(path)
        assert "set-cookie" not in answer.headers
        assert answer.headers["content-security-policy"].startswith("default-src 'none'")
    page = visitor.get("/").text
    assert not re.search(r"<script|<style|\sstyle=|\son\w+=", page)


def test_it_has_the_looks_of_the_app(visitor: TestClient) -> None:
    """The same tokens: the app's own style sheet, with what this page needs behind it."""
    looks = visitor.get("/looks.css").text
    [sheet] = re.findall(r'href="/(assets/[\w.-]+\.css)"', (web_app.built() / "index.html").read_text())

    assert looks.startswith((web_app.built() / sheet).read_text())
    assert "--ground" in looks
