"""The web app of this checkout: built anew when a source changed, its tools run with the wheel's Node."""

from __future__ import annotations

import importlib.util
import os
import subprocess
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

from .one_at_a_time import one_at_a_time

ROOT = Path(__file__).parents[2]
WEB = ROOT / "web"


def load_hook() -> ModuleType:
    """The build hook's own code, so that fetching and building are written once."""
    spec = importlib.util.spec_from_file_location("hatch_build", ROOT / "hatch_build.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@cache
def packages() -> Path:
    """web/node_modules with everything in it; an ordinary install leaves out what only checks need."""
    with one_at_a_time("web"):
        load_hook().WebApp(ROOT).fetch_packages(everything=True)
    return WEB / "node_modules"


@cache
def built() -> Path:
    """The folder of the built app. An editable install does not rebuild on edit; the tests do."""
    app: Any = load_hook().WebApp(ROOT)
    with one_at_a_time("web"):
        if not app.fresh():
            app.build(everything=True)
    return Path(app.built)


def run_tool(script: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run a program of web/node_modules, named by its script's path, in web/."""
    node = Path(load_hook().node_program())
    return subprocess.run(
        [node, packages() / script, *arguments],
        cwd=WEB,
        env=os.environ | {"PATH": os.pathsep.join([str(node.parent), os.environ.get("PATH", "")])},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=240,
        check=False,
    )
