"""What a screen owes to those who read large and to those who press keys: text at twice its size, and every control by Tab."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Page

# Cut: text that its own box hides. Visually hidden words (1 px) and what scrolls by design are none.
_CUT = """() => [...document.querySelectorAll('body *')].filter((it) => {
  const style = getComputedStyle(it);
  const box = it.getBoundingClientRect();
  if (box.width < 4 || box.height < 4 || !it.textContent.trim()) return false;
  const hides = (overflow) => overflow === 'hidden' || overflow === 'clip';
  return (hides(style.overflowX) && it.scrollWidth > it.clientWidth + 1) ||
    (hides(style.overflowY) && it.scrollHeight > it.clientHeight + 1) ||
    style.textOverflow === 'ellipsis' && it.scrollWidth > it.clientWidth + 1;
}).map((it) => `${it.tagName.toLowerCase()}.${it.className} hides part of "${it.textContent.trim().slice(0, 40)}"`)"""

_WIDE = """() => {
  const room = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= room) return [];
  const out = [...document.querySelectorAll('body *')].filter((it) => it.getBoundingClientRect().right > room + 0.5);
  return out.slice(-3).map((it) => `${it.tagName.toLowerCase()}.${it.className} stands beside the screen`);
}"""

# Of a group of radio buttons one is a stop of Tab, the arrows go on from there.
_CONTROLS = """() => {
  const groups = new Set();
  return [...document.querySelectorAll('a[href], button, input, select, textarea, summary')].filter((it) => {
    if (it.disabled || it.tabIndex < 0 || !it.checkVisibility({ visibilityProperty: true })) return false;
    if (it.type !== 'radio') return true;
    const seen = groups.has(it.name);
    groups.add(it.name);
    return !seen;
  }).length;
}"""
_AT = """() => {
  const it = document.activeElement;
  if (!it || it === document.body) return null;
  window.reached ??= new Map();
  if (!window.reached.has(it)) window.reached.set(it, window.reached.size);
  const around = [];  // the ring may stand around the tag or the choice that it is part of
  for (let one = it; one && around.length < 6; one = one.parentElement) around.push(one);
  const drawn = around.some((one) => {
    const { outlineStyle, outlineWidth } = getComputedStyle(one);
    return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2;
  });
  return { number: window.reached.get(it), drawn,
           word: (it.getAttribute('aria-label') || it.textContent || `${it.name} ${it.type} ${it.tagName}`).trim().slice(0, 40) };
}"""


@contextmanager
def text_at(page: Page, px: int) -> Iterator[None]:
    """As somebody has it who chose this size of text in their browser; its own is 16."""
    session = page.context.new_cdp_session(page)
    session.send("Page.setFontSizes", {"fontSizes": {"standard": px, "fixed": px}})
    try:
        yield
    finally:
        session.send("Page.setFontSizes", {"fontSizes": {"standard": 16, "fixed": 13}})
        session.detach()


def wrong_at_twice_the_text(page: Page) -> list[str]:
    """What a reader who doubled the size of text would miss: matter beside the screen, words that are cut off."""
    with text_at(page, 32):
        if page.evaluate("getComputedStyle(document.documentElement).fontSize") != "32px":
            raise AssertionError("the browser did not double its text")
        found: list[str] = page.evaluate(_CUT)
        wide: list[str] = page.evaluate(_WIDE)
    return found + wide


def wrong_by_keyboard(page: Page) -> list[str]:
    """Tab from the top: controls that it never reaches, and where one can't see that it has."""
    controls = page.evaluate(_CONTROLS)
    page.evaluate("window.reached = new Map(); document.activeElement?.blur()")
    reached: set[int] = set()
    unseen: set[str] = set()
    for _ in range(2 * controls + 10):  # a field for a date takes several, and the browser's own come between
        page.keyboard.press("Tab")
        at = page.evaluate(_AT)
        if at is None:
            continue
        if len(reached) == controls:
            break
        reached.add(at["number"])
        if not at["drawn"]:
            unseen.add(at["word"])
    missed = [f"{controls - len(reached)} of {controls} controls are never reached by Tab"]
    return (missed if len(reached) < controls else []) + [
        f"no outline on “{word}”" for word in sorted(unseen)
    ]
