"""What is installed is what was tested, from whichever index or registry a machine uses."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
CONSTRAINTS = (ROOT / "constraints.txt").read_text()


def pins() -> dict[str, Requirement]:
    lines = (line.partition("#")[0].strip() for line in CONSTRAINTS.splitlines())
    wanted = [Requirement(line) for line in lines if line]
    here = [one for one in wanted if one.marker is None or one.marker.evaluate()]
    return {canonicalize_name(one.name): one for one in here}


def test_every_dependency_is_pinned_within_its_own_range() -> None:
    """A name in pyproject.toml has one exact version in constraints.txt, and that version is allowed."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    named = [Requirement(text) for text in project["dependencies"] + project["optional-dependencies"]["test"]]
    pinned = pins()

    for requirement in named:
        pin = pinned[canonicalize_name(requirement.name)]
        [exact] = pin.specifier
        assert exact.operator == "==", pin
        assert requirement.specifier.contains(exact.version), f"{pin} is outside {requirement}"


def test_constraints_hold_no_address_and_no_hash() -> None:
    """constraints.txt serves every index alike."""
    assert not re.search(r"https?:|file:|@ |--", CONSTRAINTS)


def test_web_lock_file_holds_no_registry_address() -> None:
    """package-lock.json names versions and digests, never where a package was fetched from."""
    packages = json.loads((ROOT / "web" / "package-lock.json").read_text())["packages"]
    fetched = {name: package for name, package in packages.items() if name}

    assert len(fetched) > 50
    assert [name for name, package in fetched.items() if "resolved" in package] == []
    assert [name for name, package in fetched.items() if "integrity" not in package] == []


def test_web_packages_are_named_exactly() -> None:
    """package.json gives one version for each package, not a range."""
    package = json.loads((ROOT / "web" / "package.json").read_text())
    named = package["dependencies"] | package["devDependencies"]
    ranges = {name: version for name, version in named.items() if not re.fullmatch(r"\d+\.\d+\.\d+", version)}

    assert ranges == {}
