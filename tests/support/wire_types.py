"""The web app's types as they follow from the REST document. Run this file to write them anew:

python -m support.wire_types      (in tests/, with the project installed)
"""

from __future__ import annotations

import contextlib
import io
import tempfile
from pathlib import Path

from support.web_app import WEB, run_tool
from yokemate.cli import main

KEPT = WEB / "src" / "wire" / "schema.ts"


def made() -> str:
    """The types made from the document of this very source."""
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        assert main(["openapi", "--shapes"]) == 0
    with tempfile.TemporaryDirectory() as folder:
        document, types = Path(folder, "openapi.json"), Path(folder, "schema.ts")
        document.write_text(said.getvalue(), encoding="utf-8")
        done = run_tool("openapi-typescript/bin/cli.js", str(document), "-o", str(types))
        assert done.returncode == 0, done.stdout + done.stderr
        return types.read_text(encoding="utf-8")


if __name__ == "__main__":
    KEPT.write_text(made(), encoding="utf-8")
