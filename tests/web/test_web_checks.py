"""The web app's own checks: types (and with them the borders between its rooms), lint, tests."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from support.web_app import WEB, run_tool


@pytest.mark.parametrize(
    "script_and_arguments",
    [
        pytest.param(["typescript/bin/tsc", "--build"], id="types"),
        pytest.param(["@biomejs/biome/bin/biome", "check", "."], id="lint"),
        pytest.param(["vitest/vitest.mjs", "run"], id="tests"),
    ],
)
def test_check_passes(script_and_arguments: list[str]) -> None:
    """Types, lint and the web's own tests pass."""
    done = run_tool(*script_and_arguments)

    assert done.returncode == 0, done.stdout + done.stderr


def test_a_room_cannot_import_from_a_room_above_it(tmp_path: Path) -> None:
    """The compiler refuses a file of `local` that reaches up into `app`."""
    local = WEB / "src" / "local"
    config = json.loads((local / "tsconfig.json").read_text())
    config["extends"] = str(WEB / "tsconfig.base.json")
    config["compilerOptions"] |= {"rootDir": "/", "outDir": str(tmp_path / "out")}
    config["include"] = ["trespass.ts"]
    config["references"] = [{"path": str((local / one["path"]).resolve())} for one in config["references"]]
    (tmp_path / "tsconfig.json").write_text(json.dumps(config))
    (tmp_path / "trespass.ts").write_text(f'export {{ shellState }} from "{WEB}/src/app/shell";\n')

    done = run_tool("typescript/bin/tsc", "--build", str(tmp_path))

    assert done.returncode != 0
    assert "not listed within the file list of project" in done.stdout
