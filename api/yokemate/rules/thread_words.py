"""What a manual's own words say about a thread: which it is, and what is on it. Where they may be read two ways, nothing is guessed."""

from __future__ import annotations

import re
from typing import Literal

Condition = Literal[
    "dry", "oiled", "zinc_dry", "anti_seize", "moly", "waxed", "galvanised_dry", "stainless_dry"
]
# What was put on comes before what the bolt is made of. Thread locker counts as a lubricant (common practice).
_PUT_ON: tuple[tuple[str, Condition], ...] = (
    (r"antiseize|copper grease", "anti_seize"),
    (r"\bmoly", "moly"),
    (r"\bwax", "waxed"),
    (r"\boil|\bgreas|\blubric|\blocker", "oiled"),
)
_BARE: tuple[tuple[str, Condition], ...] = (
    (r"stainless", "stainless_dry"),
    (r"galvani[sz]", "galvanised_dry"),
    (r"zinc", "zinc_dry"),
    (r"\bdry\b|clean", "dry"),
)
_ALIKE = (
    (r"anti[- ]?seize", "antiseize"),
    (r"w/o\b", "without"),
    (r"n[’']t\b", " not"),
    (r"[&+/]", " or "),
    (r"\b(un|non|de)-?(?=oil|greas|wax|lubric)", "not "),
)
_THING = re.compile(r"antiseize|oil|greas|wax|moly|lubric|lube|locker|dry$")
_NOT = frozenset({"not", "no", "never", "nor", "without"})
_OR = frozenset({"and", "or", "nor"})
_ENDS = frozenset({",", ";", ":", ".", "(", ")", "and", "but", "then", "only", "except"})
# "M12 x 1.25" and "M12x1,25 LH" by their pitch; "M10 x 60" is a length, "M12 fine" no thread whose pitch is known.
_METRIC = re.compile(
    r"(M[0-9]{1,2}(?:\s*[xX×]\s*[0-9](?:[.,][0-9]{1,2})?(?![0-9]))?)"
    r"(?=\s*[xX×]\s*[0-9]{2,3}(?![.,0-9])|\s*[,;(]|\s*$|\s+(?![xX×0-9-]|fine\b))"
)
_REACH = 5  # words from "do not" to what it forbids: "do not use any engine oil"


def condition_of(lubrication: str) -> Condition | None:
    """The condition that the manual's words mean; None where they are not about dry or lubricated threads, and where
    they say both. What they forbid ("dry, do not oil") is not on the thread.
    """
    words = _allowed(lubrication.lower())
    put_on = _first(_PUT_ON, words)
    if put_on is not None:
        return None if re.search(r"\bdry\b", words) else put_on
    return _first(_BARE, words)


def thread_of(words: str) -> str:
    """The thread by its name alone: "7/16-20 UNF" is 7/16-20, "M10x1 tube nut" M10x1, "M12 x 1.25" M12x1.25. Words of
    which only a part is understood stay whole, so that no coarse pitch is taken for granted.
    """
    if found := _METRIC.match(words):
        return re.sub(r"\s+", "", found[1])
    return words if words.startswith("M") else words.split()[0]


def _first(meant: tuple[tuple[str, Condition], ...], words: str) -> Condition | None:
    return next((condition for mark, condition in meant if re.search(mark, words)), None)


def _allowed(text: str) -> str:
    """The words without the things that they forbid."""
    for pattern, plain in _ALIKE:
        text = re.sub(pattern, plain, text)
    words = re.findall(r"\w+|[,;:.()]", text)
    denied: set[int] = set()
    for n, word in enumerate(words):
        of = word == "free" and words[n + 1 : n + 2] in (["of"], ["from"])
        if of or word in _NOT:
            denied |= _after(words, n + 1 + of)
        elif word == "free":  # oil free, oil and grease free
            while n and (_thing(words, n - 1) or words[n - 1] in _OR):
                n -= 1
                denied.add(n)
    return " ".join(word for n, word in enumerate(words) if n not in denied)


def _after(words: list[str], start: int) -> set[int]:
    """What stands forbidden from here: the next thing in this clause, and those joined to it by "or". Commas join where
    an "or" or the end follows: "no oil, grease or wax", but "no grease, oil only".
    """
    for first in range(start, min(start + _REACH, len(words))):
        if _thing(words, first):
            break
        if words[first] in _ENDS:
            return set()
    else:
        return set()
    denied, waiting, n = {first}, set[int](), first + 1
    while True:
        at = n + (words[n : n + 1] == [","])
        joined = at < len(words) and words[at] in _OR
        at += joined
        at += words[at : at + 1] == ["any"]
        if at == n or not _thing(words, at) or words[at] == "dry":
            break
        waiting.add(at)
        if joined:
            denied |= waiting
        n = at + 1
    if n == len(words) or words[n] in (";", ".", ")"):
        denied |= waiting
    return denied


def _thing(words: list[str], n: int) -> bool:
    return n < len(words) and _THING.match(words[n]) is not None
