"""The join page: plain HTTP on a port of its own. It hands out what a new phone must trust first, and nothing else.

It knows no build, sets no cookie, takes nothing in. A phone that does not trust this garage yet could not open anything
of it over HTTPS; so this one page can't be HTTPS, and the fingerprint is what it is judged by.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from html import escape
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import Route

from yokemate.certificates.making import fingerprint
from yokemate.certificates.profile import mobileconfig
from yokemate.settings import Reach

CERTIFICATE = "/yokemate-garage.crt"
PROFILE = "/yokemate-garage.mobileconfig"
HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'; "
        "frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",
}
STYLE = (
    "main{max-width:40rem;margin:0 auto;padding:16px 16px 48px;display:grid;gap:16px;min-width:0}"
    "main>*,details>*{min-width:0}"
    "details{border:2px solid var(--line);background:var(--bench)}"
    "summary{min-height:56px;padding:12px 16px;font-weight:700;cursor:pointer}"
    "details ol{display:grid;gap:12px;padding:0 16px 16px 2.4em}"
    "details p{padding:0 16px 16px}"
    "details .button{display:flex;width:fit-content;margin-top:8px}"
    "code{font-size:1.125rem;overflow-wrap:anywhere}"
    ".fingerprint{font-family:ui-monospace,monospace;font-size:1.125rem;font-weight:700;overflow-wrap:anywhere;"
    "padding:12px;border:2px solid var(--line);background:var(--tag)}"
    ".steps{display:grid;gap:12px}"
)
# What a phone calls itself; the first that fits is opened.
SYSTEMS = (
    ("iphone", r"iPhone|iPad|iPod"),
    ("android", r"Android"),
    ("windows", r"Windows"),
    ("mac", r"Macintosh"),
    ("linux", r"Linux|X11|CrOS"),
)
Found = Callable[[], tuple[x509.Certificate, Reach]]


def join_page(found: Found, web_folder: Path) -> Starlette:
    """`found` answers with the authority and the addresses as they are now."""

    def page(request: Request) -> Response:
        authority, reach = found()
        said = request.headers.get("user-agent", "")
        mine = next((name for name, words in SYSTEMS if re.search(words, said)), "")
        return HTMLResponse(written(authority, reach, mine), headers=HEADERS)

    def certificate(_request: Request) -> Response:
        return _file(found()[0].public_bytes(Encoding.PEM), "application/x-x509-ca-cert")

    def profile(_request: Request) -> Response:
        return _file(mobileconfig(found()[0]), "application/x-apple-aspen-config")

    def looks(_request: Request) -> Response:
        """The app's own looks, so that this page has the same tokens."""
        return Response(_app_style(web_folder) + STYLE, media_type="text/css", headers=HEADERS)

    def icon(_request: Request) -> Response:
        file = web_folder / "icon.svg"
        held = file.read_bytes() if file.is_file() else b"<svg xmlns='http://www.w3.org/2000/svg'/>"
        return Response(held, media_type="image/svg+xml", headers=HEADERS)

    def nothing(_request: Request, _error: Exception) -> Response:
        return PlainTextResponse("This page hands out one certificate: open / here.\n", 404, headers=HEADERS)

    routes = [
        Route("/", page),
        Route(CERTIFICATE, certificate),
        Route(PROFILE, profile),
        Route("/looks.css", looks),
        Route("/icon.svg", icon),
    ]
    return Starlette(routes=routes, exception_handlers={404: nothing, 405: nothing})


def _file(held: bytes, kind: str) -> Response:
    return Response(held, headers=HEADERS | {"Content-Type": kind})


def _app_style(web_folder: Path) -> str:
    index = web_folder / "index.html"
    if not index.is_file():
        return ""
    named = re.findall(r'href="/(assets/[\w.-]+\.css)"', index.read_text(encoding="utf-8"))
    return "\n".join((web_folder / one).read_text(encoding="utf-8") for one in named)


def written(authority: x509.Certificate, reach: Reach, mine: str = "") -> str:
    """The page as text. `mine`: which system's steps come first, and are open from the start."""
    name = escape(str(authority.subject.get_attributes_for_oid(x509.NameOID.COMMON_NAME)[0].value))
    print_ = escape(fingerprint(authority)).replace(":", ":<wbr>")
    first, *others = [escape(one) for one in reach.addresses] or [""]
    onward = (
        f'<a class="button button-act button-72 button-wide" href="{first}">Go on to Yokemate</a><p>{first}</p>'
        if first
        else "<p>Ask the lead for the address.</p>"
    )
    beside = "".join(f'<li><a href="{one}">{one}</a></li>' for one in others)
    if beside:
        beside = f"<p>If that does not open, this is the same service by its address:</p><ul>{beside}</ul>"
    systems = "".join(
        f"<details{' open' if key == mine else ''}><summary>{title}</summary>{steps(name)}</details>"
        for key, title, steps in sorted(_STEPS, key=lambda one: one[0] != mine)
    )
    return f"""<!doctype html>
<html lang="en" data-theme="dark">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="dark light">
<title>Trust this garage · Yokemate</title>
<link rel="icon" href="/icon.svg" type="image/svg+xml">
<link rel="stylesheet" href="/looks.css">
</head>
<body>
<main id="main">
<h1>This phone must trust this garage first</h1>
<p>Then Yokemate opens here without a warning, works without a connection, and what you type crosses the network
encrypted. It is done once for each phone.</p>
<h2>1. Compare</h2>
<p>The lead's screen and the terminal show the same fingerprint (SHA-256) of <b>{name}</b>. While you install it, your phone
shows it too, under details. Are they different? Stop, and ask the lead.</p>
<p class="fingerprint">{print_}</p>
<h2>2. Install</h2>
<div class="steps">{systems}</div>
<p class="t-small t-dim">It speaks for this garage's own name and for addresses of private networks, and for nothing else on the
internet. Remove it in the same place when you leave the crew.</p>
<h2>3. Go on</h2>
{onward}
{beside}
</main>
</body>
</html>
"""


def _get(href: str, label: str) -> str:
    return f'<a class="button button-plain button-56" href="{href}">{label}</a>'


def _iphone(name: str) -> str:
    return (
        f"<ol><li>In Safari press this, then <b>Allow</b>: {_get(PROFILE, 'Get the profile')}</li>"
        f"<li>Open <b>Settings</b>: <b>Profile Downloaded</b>, then <b>Install</b>. Under <b>More Details</b> is the "
        f"fingerprint.</li>"
        f"<li>The step that is easily missed: <b>Settings, General, About, Certificate Trust Settings</b>: switch on "
        f"<b>{name}</b>.</li>"
        "<li>Come back here and go on. To have it on the home screen: <b>Share, Add to Home Screen</b>.</li></ol>"
    )


def _android(name: str) -> str:
    return (
        f"<ol><li>Press this; it is saved among the downloads: {_get(CERTIFICATE, 'Get the certificate')}</li>"
        "<li>Open <b>Settings</b> and look for <b>CA certificate</b> (often under <b>Security, More security settings, "
        "Encryption and credentials, Install a certificate</b>). The phone must have a screen lock.</li>"
        "<li>It warns that such a certificate can be used to watch traffic. This one is limited to this garage. "
        "Choose <b>Install anyway</b> and the file.</li>"
        f"<li>Under <b>Trusted credentials, User</b> stands <b>{name}</b> with its fingerprint.</li>"
        "<li>Come back here and go on, in Chrome. Some phones say from then on that the network may be monitored."
        "</li></ol>"
    )


def _windows(name: str) -> str:
    return (
        f"<ol><li>Press this and open the file: {_get(CERTIFICATE, 'Get the certificate')}</li>"
        "<li>Compare in a terminal: <code>certutil -dump yokemate-garage.crt</code> names it <b>Cert Hash(sha256)</b>. "
        "(The <b>Thumbprint</b> in the window is another, shorter sum.)</li>"
        "<li><b>Install Certificate</b>, <b>Current User</b>, <b>Place all certificates in the following store</b>, "
        "<b>Trusted Root Certification Authorities</b>.</li>"
        "<li>Start the browser again and go on. Firefox: <b>Settings, Certificates, View, Authorities, Import</b>."
        "</li></ol>"
    )


def _mac(name: str) -> str:
    return (
        f"<ol><li>Press this and open the file, which goes into <b>Keychain Access</b>: "
        f"{_get(CERTIFICATE, 'Get the certificate')}</li>"
        f"<li>Open <b>{name}</b> there. At the end of its details is the fingerprint.</li>"
        "<li>Under <b>Trust</b> set <b>Secure Sockets Layer</b> to <b>Always Trust</b>, close it, give your password."
        "</li><li>Come back here and go on. Firefox: <b>Settings, Certificates, View, Authorities, Import</b>.</li></ol>"
    )


def _linux(name: str) -> str:
    return (
        f"<ol><li>Press this: {_get(CERTIFICATE, 'Get the certificate')}</li>"
        "<li>Compare: <code>openssl x509 -noout -fingerprint -sha256 -in yokemate-garage.crt</code></li>"
        "<li>Chromium: <code>certutil -d sql:$HOME/.pki/nssdb -A -t C,, -n Yokemate -i yokemate-garage.crt</code> "
        "(Debian's package <code>libnss3-tools</code>). Firefox: <b>Settings, Certificates, View, Authorities, "
        "Import</b>.</li>"
        "<li>For other programs: copy it to <code>/usr/local/share/ca-certificates/</code> and run "
        "<code>update-ca-certificates</code>.</li></ol>"
    )


_STEPS = (
    ("iphone", "iPhone, iPad", _iphone),
    ("android", "Android", _android),
    ("windows", "Windows", _windows),
    ("mac", "macOS", _mac),
    ("linux", "Linux", _linux),
)
