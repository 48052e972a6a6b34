"""What the README says can be typed, loaded and followed is so."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from yokemate.cli import main
from yokemate.planfile.check import check
from yokemate.planfile.read import read

ROOT = Path(__file__).parents[2]
PAPERS = ["README.md", "DEVELOPERS.md"]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEMO = "python3 -m venv .venv && .venv/bin/pip install -q -c constraints.txt . && .venv/bin/yokemate demo"


def commands_offered(capsys: pytest.CaptureFixture[str]) -> set[str]:
    """The names that the command line's own help lists."""
    with pytest.raises(SystemExit):
        main(["--help"])
    return set(re.findall(r"^    ([a-z][a-z-]+)", capsys.readouterr().out, flags=re.MULTILINE))


def test_r24_the_plan_in_the_readme_loads_without_a_word() -> None:
    """R24: a newcomer who copies the example finds neither a fault nor a doubt in it."""
    [text] = re.findall(r"```yaml\n(.*?)```", README, flags=re.DOTALL)
    reading = read(text)

    assert reading.findings == []
    assert reading.plan is not None
    assert check(reading.plan, {}) == []
    assert text.count("\n") <= 32


def test_the_demo_is_one_line() -> None:
    """The line that opens the demo stands in the README by itself, to the letter."""
    assert [line.strip() for line in README.splitlines()].count(DEMO) == 1


def test_the_table_of_commands_is_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Every command of the program has its line in the README, and no other."""
    said = re.findall(r"^\| `yokemate ([a-z-]+)", README, flags=re.MULTILINE)

    assert sorted(said) == sorted(commands_offered(capsys))


def test_every_option_in_the_readme_is_one(capsys: pytest.CaptureFixture[str]) -> None:
    """An option that the README names is offered by some command's help."""
    offered: set[str] = set()
    for command in commands_offered(capsys):
        with pytest.raises(SystemExit):
            main([command, "--help"])
        offered |= set(re.findall(r"--[a-z-]+", capsys.readouterr().out))
    said = set(re.findall(r"(?<![\w-])--[a-z][a-z-]+", README))

    assert said
    assert said - offered == set()


@pytest.mark.parametrize("paper", PAPERS)
def test_what_the_papers_link_to_is_there(paper: str) -> None:
    """A link or a picture leads to a file of this checkout."""
    links = re.findall(r"\]\(([^)#:]+)\)|<img[^>]* src=\"([^\"]+)\"", (ROOT / paper).read_text("utf-8"))
    missing = [path for pair in links for path in pair if path and not (ROOT / path).is_file()]

    assert links
    assert missing == []


def test_the_pictures_are_small_and_shown() -> None:
    """A checkout carries no picture that the README does not show, and none above 60 kB."""
    folder = ROOT / "demo_fixtures" / "pictures"
    kept = {path.name: path.stat().st_size for path in folder.iterdir()}

    assert sorted(kept) == sorted(re.findall(r"demo_fixtures/pictures/([a-z-]+\.png)", README))
    assert max(kept.values()) <= 60_000
