"""The command line: show the demo, serve a crew, look after the record."""

from __future__ import annotations

import argparse
import json
import os
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from urllib.parse import urlsplit

import segno

from yokemate import __version__, demo
from yokemate.app import make_app, make_service
from yokemate.bench_words import bench_words
from yokemate.certificates.names import DEFAULT_NAME, local_name
from yokemate.handle import recover
from yokemate.routes.document import shapes_only
from yokemate.routes.service import Service
from yokemate.serving import Brought, Garage, serve_behind, serve_brought, serve_garage, serve_plain
from yokemate.settings import DEFAULT_PORT, Settings, secret_in, sqlite_url
from yokemate.store import ledger, states
from yokemate.store.verify import differences, verify

EVERYWHERE = "0.0.0.0"
DATABASE_VARIABLE = "YOKEMATE_DATABASE_URL"


def main(arguments: Sequence[str] | None = None) -> int:
    asked = _parser().parse_args(arguments)
    try:
        return int(asked.run(asked) or 0)
    except (ValueError, LookupError, FileNotFoundError) as error:
        print(f"yokemate: {error}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 130


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="yokemate", description="A crew's job card, torque record and lift plan."
    )
    parser.add_argument("--version", action="version", version=f"yokemate {__version__}")
    commands = parser.add_subparsers(required=True, metavar="command")
    keeps = argparse.ArgumentParser(add_help=False)
    keeps.add_argument(
        "--data", type=Path, default=Path("yokemate-data"), help="folder of database and key file"
    )
    keeps.add_argument(
        "--database-url",
        default=os.environ.get(DATABASE_VARIABLE),
        help=f"a PostgreSQL database instead of the folder's own (or {DATABASE_VARIABLE})",
    )

    shows = commands.add_parser(
        "demo", help="the invented crew on the invented car; plain HTTP on this network"
    )
    shows.add_argument("--data", type=Path, help="keep the demo here (else it is forgotten at the end)")
    shows.add_argument("--port", type=int, default=DEFAULT_PORT)
    shows.add_argument("--check", action="store_true", help="load everything, say so, and end")
    shows.set_defaults(run=run_demo)

    serves = commands.add_parser(
        "serve",
        parents=[keeps],
        help="serve a crew; HTTPS by this garage's own authority unless told otherwise",
    )
    serves.add_argument("--port", type=int, default=DEFAULT_PORT)
    serves.add_argument("--host", help="the IP address to listen at (else all of this machine's)")
    serves.add_argument(
        "--name", action="append", help=f"what the service is called on this network (else {DEFAULT_NAME})"
    )
    serves.add_argument(
        "--join-port",
        type=int,
        help="where new phones get what they must trust, by plain HTTP (else --port + 1)",
    )
    serves.add_argument(
        "--unannounced", action="store_true", help="do not announce the name by multicast DNS"
    )
    serves.add_argument(
        "--new-authority", action="store_true", help="make another authority; every phone must trust it anew"
    )
    serves.add_argument("--cert", type=Path, help="a certificate of your own (PEM, with its chain)")
    serves.add_argument("--key", type=Path, help="its private key (PEM)")
    serves.add_argument(
        "--behind-proxy", metavar="ADDRESS", help="a reverse proxy at this address speaks HTTPS for us"
    )
    serves.add_argument(
        "--plain", action="store_true", help="plain HTTP: no offline, PINs cross an open network"
    )
    serves.add_argument(
        "--public-url", help="the address that invites name, where it is not the one asked at"
    )
    serves.set_defaults(run=run_serve)

    for name, run, says in (
        ("verify", run_verify, "check every number, digest, payload and photo of the record"),
        ("replay", run_replay, "compare the rows with what the record says; --repair writes them anew"),
        ("ledger", run_ledger, "print the record, one entry a line"),
        ("recover-lead", run_recover, "let a lead who lost their phone in again"),
        ("new-pin", run_new_pin, "let somebody who forgot their PIN set another one"),
    ):
        one = commands.add_parser(name, parents=[keeps], help=says)
        one.add_argument("--build", help="one build only (its id)")
        one.set_defaults(run=run)
        if name == "replay":
            one.add_argument("--repair", action="store_true")
        if name in ("recover-lead", "new-pin"):
            one.add_argument("name", help="who it is for, as the crew calls them")
            one.add_argument(
                "--address",
                default=f"https://{DEFAULT_NAME}:{DEFAULT_PORT}",
                help="the service's address, as `serve` prints it (%(default)s)",
            )
    sums = commands.add_parser("calc", help="work something out; without a name, list what there is")
    sums.add_argument("name", nargs="?", help="a calculation")
    sums.add_argument("inputs", nargs="*", help="name=value unit, or one JSON object; none: describe it")
    sums.add_argument(
        "--in",
        dest="answer_in",
        action="append",
        default=[],
        metavar="UNIT",
        help="a unit for the answer, like lbf_ft",
    )
    sums.set_defaults(run=run_calc)
    document = commands.add_parser("openapi", help="print the REST document")
    document.add_argument("--shapes", action="store_true", help="only the shapes, for the web app's types")
    document.set_defaults(run=run_openapi)
    return parser


def run_demo(asked: argparse.Namespace) -> None:
    if asked.data is not None:
        _demo_in(asked.data, asked)
        return
    with tempfile.TemporaryDirectory(prefix="yokemate-demo-") as folder:
        _demo_in(Path(folder), asked)


def _demo_in(folder: Path, asked: argparse.Namespace) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    settings = Settings(sqlite_url(folder), secret_in(folder), mode="demo")
    crew = demo.crew()
    at = make_service(settings, [one.shown() for one in crew.people])
    print("Demo. Nobody is who they say; everything is invented.")
    loaded = demo.load(at, crew)
    print(f"{loaded.name}: {loaded.tasks} tasks, {loaded.entries} entries in the record.")
    if asked.check:
        at.database.close()
        return
    serve_plain(at, EVERYWHERE, asked.port, say)


def run_serve(asked: argparse.Namespace) -> None:
    """HTTPS by our own authority, unless another way is said. What is asked for works, or nothing is served."""
    brought = asked.cert is not None or asked.key is not None
    if [brought, asked.plain, asked.behind_proxy is not None].count(True) > 1:
        raise ValueError("say one way only: --cert with --key, --behind-proxy, --plain, or none of them")
    if brought and not (asked.cert and asked.key):
        raise ValueError("--cert and --key belong together: the certificate and its private key, both PEM")
    own = not (brought or asked.plain or asked.behind_proxy)
    if not own and (asked.name or asked.new_authority or asked.join_port is not None):
        raise ValueError("--name, --join-port and --new-authority belong to HTTPS by our own authority")
    if asked.public_url and urlsplit(asked.public_url).scheme != ("http" if asked.plain else "https"):
        raise ValueError(
            f"--public-url begins with {'http' if asked.plain else 'https'}:// in this way of serving"
        )
    if asked.behind_proxy and not asked.public_url:
        raise ValueError("--behind-proxy needs --public-url: the https address that phones use")
    for path in (asked.cert, asked.key):
        if path is not None and not path.is_file():
            raise FileNotFoundError(f"there is no file {path}")
    names = [local_name(name) for name in asked.name or [DEFAULT_NAME]]
    settings = _settings(asked, "plain" if asked.plain else "https")
    at, port = make_service(settings), asked.port
    if own:
        join_port = port + 1 if asked.join_port is None else asked.join_port
        host = asked.host or EVERYWHERE
        announces = not asked.unannounced
        serve_garage(
            Garage(at, asked.data, names, host, port, join_port, say, asked.new_authority, announces)
        )
    elif brought:
        serve_brought(at, Brought(asked.cert, asked.key, say), asked.host or EVERYWHERE, port)
    elif asked.behind_proxy:
        serve_behind(at, asked.behind_proxy.split(","), asked.host or "127.0.0.1", port, say)
    else:
        say("Plain HTTP: nothing works offline, and PINs cross an open network (the record says so).")
        serve_plain(at, asked.host or EVERYWHERE, port, say)


def say(sentence: str) -> None:
    """Print at once: somebody waits for it. What a terminal has no letters for (a code to scan) must not end a service."""
    try:
        print(sentence, flush=True)
    except UnicodeEncodeError:
        print("(This terminal can't show the code to scan.)", flush=True)


def _settings(asked: argparse.Namespace, mode: str) -> Settings:
    asked.data.mkdir(parents=True, exist_ok=True)
    url = asked.database_url or sqlite_url(asked.data)
    if url.startswith(("postgres://", "postgresql://")):
        url = "postgresql+psycopg://" + url.split("://", 1)[1]
    return Settings(
        url,
        secret_in(asked.data),
        mode="plain" if mode == "plain" else "https",
        public_url=getattr(asked, "public_url", None),
    )


def _kept(asked: argparse.Namespace) -> Service:
    """What is kept there already; nothing is made by looking."""
    if not asked.database_url and not (asked.data / "yokemate.sqlite3").is_file():
        raise FileNotFoundError(f"there is no build kept in {asked.data}. Say where with --data.")
    return make_service(_settings(asked, "https"))


def _builds(at: Service, only: str | None) -> list[str]:
    with at.database.read() as connection:
        known = ledger.builds(connection)
    if only is not None and only not in known:
        raise LookupError(f"there is no build {only}; there is {', '.join(known) or 'none'}")
    return [only] if only else known


def run_verify(asked: argparse.Namespace) -> int:
    at, broken = _kept(asked), False
    for build in _builds(at, asked.build):
        with at.database.read(steady=True) as connection:
            found = verify(connection, build)
        verdict = "the chain holds" if found.holds else "THE CHAIN DOES NOT HOLD"
        print(f"{build}: {verdict} over {found.entries} entries; last digest {found.head}")
        if found.withdrawn:
            print(f"  {found.withdrawn} notes or photos were withdrawn, each by an entry with a reason")
        if found.photos_awaited:
            print(
                f"  {found.photos_awaited} photos that entries name are not here: their phones have not sent them, or they were taken away"
            )
        for problem in found.problems:
            print(f"  {problem}")
        broken = broken or not found.holds
    return int(broken)


def run_replay(asked: argparse.Namespace) -> int:
    at, differs = _kept(asked), False
    for build in _builds(at, asked.build):
        with at.database.write() as connection:
            ledger.lock_head(connection, build)
            found = differences(connection, build)
            if found and asked.repair:
                states.rebuild(connection, build)
        print(f"{build}: {'rows follow from the record' if not found else f'{len(found)} rows differ'}")
        for one in found[:50]:
            print(f"  {one}")
        if found and asked.repair:
            print("  written anew from the record")
        differs = differs or (bool(found) and not asked.repair)
    return int(differs)


def run_ledger(asked: argparse.Namespace) -> None:
    at = _kept(asked)
    for build in _builds(at, asked.build):
        with at.database.read() as connection:
            for one in ledger.entries(connection, build):
                print(f'{{"digest":"{one.digest}","entry":{one.text}}}')


def run_recover(asked: argparse.Namespace) -> None:
    """Shuts old phones out, makes them lead by an entry, prints a code for a new phone and PIN (R29)."""
    at = _kept(asked)
    for build, person in recover.lost_lead(at.handler, asked.name, asked.build):
        code = recover.let_in(at.handler, build, person.id)
        _show_code(asked, f"{person.name}, {build}: open this on the new phone", code)


def run_new_pin(asked: argparse.Namespace) -> None:
    """Prints a code with which somebody sets another PIN; their phones stay (R29)."""
    at = _kept(asked)
    [(build, person, _role), *_more] = recover.found(at.handler, asked.name, asked.build)
    code = recover.new_pin(at.handler, build, person.id)
    _show_code(asked, f"{person.name}: open this on your phone", code)


def _show_code(asked: argparse.Namespace, says: str, code: str) -> None:
    address = f"{asked.address.rstrip('/')}/join#{code}"
    print(f"{says}, within {recover.MINUTES} min:\n{address}")
    segno.make(address, micro=False).terminal(compact=True, border=2)


def run_calc(asked: argparse.Namespace) -> None:
    print(bench_words(asked.name, asked.inputs, asked.answer_in))


def run_openapi(asked: argparse.Namespace) -> None:
    with tempfile.TemporaryDirectory() as folder:
        at = make_service(Settings(sqlite_url(Path(folder)), b"\0" * 32))
        document = make_app(at).openapi()
        if asked.shapes:
            document = shapes_only(document)
        print(json.dumps(document, indent=1, ensure_ascii=False, sort_keys=True))
        at.database.close()


if __name__ == "__main__":
    sys.exit(main())
