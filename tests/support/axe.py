"""axe-core, evaluated as a string in the page: no tag, no network; the page's own policy stays as it is."""

from __future__ import annotations

from functools import cache
from typing import Any

from playwright.sync_api import Page

from . import web_app

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
COLOURS = ["color-contrast", "link-in-text-block"]  # what another theme can get wrong


@cache
def source() -> str:
    return (web_app.packages() / "axe-core" / "axe.min.js").read_text(encoding="utf-8")


def axe_violations(page: Page, rules: list[str] | None = None) -> list[str]:
    """What axe finds wrong with the page as it stands, one line for each element at fault; by all rules or by some."""
    page.evaluate(source())
    only = {"type": "tag", "values": TAGS} if rules is None else {"type": "rule", "values": rules}
    result: dict[str, Any] = page.evaluate("runOnly => axe.run(document, { runOnly })", only)
    if not result["passes"]:
        raise AssertionError("axe found nothing to check on this page")
    return [
        f"{violation['id']}: {violation['help']} at {' '.join(map(str, node['target']))}"
        for violation in result["violations"]
        for node in violation["nodes"]
    ]
