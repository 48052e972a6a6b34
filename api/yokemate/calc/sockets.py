"""Which socket may fit a thread: sets, because standards and old stock differ. Measure when in doubt."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from yokemate.calc.errors import CalcError
from yokemate.units import convert_exact, parse_quantity

# Thread size: standard -> width across flats, mm. Both open data sets (bd-warehouse 0.4.0, FreeCAD) unless
# noted.
_FLATS: dict[str, dict[str, float]] = {
    "M3": {"ISO hexagon": 5.5, "old DIN": 5.5},
    "M4": {"ISO hexagon": 7, "old DIN": 7},
    "M5": {"ISO hexagon": 8, "old DIN": 8, "EN 1662 flange": 7, "EN 1665 flange": 8},
    "M6": {"ISO hexagon": 10, "old DIN": 10, "JIS": 10, "EN 1662 flange": 8, "EN 1665 flange": 10},
    "M8": {
        "ISO hexagon": 13,
        "old DIN": 13,
        "JIS": 13,
        "JIS small": 12,
        "EN 1662 flange": 10,
        "EN 1665 flange": 13,
    },
    "M10": {
        "ISO hexagon": 16,
        "old DIN": 17,
        "JIS": 17,
        "JIS small": 14,
        "EN 1662 flange": 13,
        "EN 1665 flange": 16,
        "ISO 4161 flange nut": 15,
    },
    "M12": {
        "ISO hexagon": 18,
        "old DIN": 19,
        "JIS": 19,
        "JIS small": 17,
        "EN 1662 flange": 16,
        "ISO 4162 flange": 15,
        "EN 1665 flange": 18,
    },
    "M14": {
        "ISO hexagon": 21,
        "old DIN": 22,
        "JIS": 22,
        "JIS small": 19,
        "EN 1662 flange": 18,
        "EN 1665 flange": 21,
    },
    "M16": {
        "ISO hexagon": 24,
        "old DIN": 24,
        "JIS": 24,
        "JIS small": 22,
        "EN 1662 flange": 21,
        "EN 1665 flange": 24,
    },
    "M18": {"ISO hexagon": 27, "old DIN": 27},
    "M20": {"ISO hexagon": 30, "old DIN": 30, "JIS": 30, "JIS small": 27, "EN 1665 flange": 30},
    "M22": {"ISO hexagon": 34, "old DIN": 32},
    "M24": {"ISO hexagon": 36, "old DIN": 36},
    "M27": {"ISO hexagon": 41, "old DIN": 41},
    "M30": {"ISO hexagon": 46, "old DIN": 46},
}
# Thread size: width across flats of cap screw and of nut, in. ASME B18.2.1 and B18.2.2 as an open data set and a wrench size
# chart print them; the cap screw of 9/16 from memory.
_INCH_FLATS = {
    "1/4": ("7/16", "7/16"),
    "5/16": ("1/2", "1/2"),
    "3/8": ("9/16", "9/16"),
    "7/16": ("5/8", "11/16"),
    "1/2": ("3/4", "3/4"),
    "9/16": ("13/16", "7/8"),
    "5/8": ("15/16", "15/16"),
    "3/4": ("1 1/8", "1 1/8"),
    "7/8": ("1 5/16", "1 5/16"),
    "1": ("1 1/2", "1 1/2"),
}
_SIZE = re.compile(r"(M[0-9]+|[0-9]+(?:/[0-9]+)?)(?:\s*[xX×-].*)?")


@dataclass(frozen=True)
class Socket:
    """One socket that may be needed.

    Fields:
        size [-]: with its unit, like 16 mm or 9/16 in
        standard [-]: heads and nuts that take it
    """

    size: str
    standard: str


def socket_sizes(thread_size: str) -> tuple[Socket, ...]:
    """The sockets that may fit a thread, by standard.

    Formula: table
    Args:
        thread_size [-]: like M10 (any pitch) or 3/8
    Returns: Socket
    Source: ISO 4014/4017/4032, DIN 931/934, JIS, EN 1662, EN 1665, ISO 4161 as open data sets print them;
        inch: ASME B18.2.1 and B18.2.2 as an open data set and a wrench size chart print them
    Example:
        >>> [s.size for s in socket_sizes("M8")]
        ['10 mm', '12 mm', '13 mm']
    """
    match = _SIZE.fullmatch(thread_size.strip())
    widths = _widths(match[1]) if match else {}
    if not widths:
        known = ", ".join([*_FLATS, *_INCH_FLATS])
        raise CalcError(
            "thread_size", f"'{thread_size}' is not in the table.", f"Sizes: {known}. Or measure."
        )
    return tuple(
        Socket(size, ", ".join(name for name, width in widths.items() if width == size))
        for size in sorted(set(widths.values()), key=_rack)
    )


def _widths(size: str) -> dict[str, str]:
    """By standard, with its unit; empty where the tables have no such size."""
    if size in _INCH_FLATS:
        screw, nut = _INCH_FLATS[size]
        return {"hexagon cap screw": f"{screw} in", "hexagon nut": f"{nut} in"}
    return {name: f"{width:g} mm" for name, width in _FLATS.get(size, {}).items()}


def sockets_to_take(thread_sizes: Sequence[str]) -> tuple[Socket, ...]:
    """What to take to the car for several threads: every socket that may be needed, once.

    Formula: union of the sets
    Args:
        thread_sizes [-]: like M8; M10; 3/8
    Returns: Socket
    Source: as socket_sizes
    Example:
        >>> [s.size for s in sockets_to_take(["M6", "M8"])]
        ['8 mm', '10 mm', '12 mm', '13 mm']
    """
    found: dict[str, list[str]] = {}
    for name in thread_sizes:
        for socket in socket_sizes(name):
            found.setdefault(socket.size, []).append(f"{name}: {socket.standard}")
    return tuple(Socket(size, "; ".join(found[size])) for size in sorted(found, key=_rack))


def _rack(size: str) -> tuple[bool, Fraction]:
    """Metric ones first, each kind by its width: as sockets hang on a rack."""
    width = parse_quantity(size, "length")
    return width.unit == "in", convert_exact(width.value, width.unit, "mm")
