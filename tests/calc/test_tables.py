"""Whole tables, row by row, as standards and makers print them: one wrong figure in a row is one wrong bolt."""

import re
from fractions import Fraction as F

import pytest

from yokemate.calc.drills import DRILLS
from yokemate.calc.errors import CalcError
from yokemate.calc.fluids import coolant_freeze
from yokemate.calc.follow_ups import cure_lag
from yokemate.calc.inches import inches_to_mm
from yokemate.calc.niosh import Duration, weight_limit
from yokemate.calc.sling_tables import Use, sling_limit
from yokemate.calc.sockets import socket_sizes
from yokemate.calc.threads import CLASSES, bolt_strength, thread
from yokemate.calc.torque import nut_factor

# ASME B94.11M as an open machinist's chart prints it, smallest first: #80 to #1, then A to Z; inches.
NUMBER_DRILLS = re.findall(
    r"\S+",
    """
    .0135 .0145 .0160 .0180 .0200 .0210 .0225 .0240 .0250 .0260 .0280 .0292 .0310 .0320 .0330 .0350 .0360 .0370 .0380
    .0390 .0400 .0410 .0420 .0430 .0465 .0520 .0550 .0595 .0635 .0670 .0700 .0730 .0760 .0785 .0810 .0820 .0860 .0890
    .0935 .0960 .0980 .0995 .1015 .1040 .1065 .1100 .1110 .1130 .1160 .1200 .1285 .1360 .1405 .1440 .1470 .1495 .1520
    .1540 .1570 .1590 .1610 .1660 .1695 .1730 .1770 .1800 .1820 .1850 .1890 .1910 .1935 .1960 .1990 .2010 .2040 .2055
    .2090 .2130 .2210 .2280
    """,
)
LETTER_DRILLS = re.findall(
    r"\S+",
    """
    .234 .238 .242 .246 .250 .257 .261 .266 .272 .277 .281 .290 .295 .302 .316 .323 .332 .339 .348 .358 .368 .377 .386
    .397 .404 .413
    """,
)


def test_every_drill() -> None:
    """H13: all 80 numbers, all 26 letters, all 64ths."""
    numbers = {f"#{80 - i}": F(size) for i, size in enumerate(NUMBER_DRILLS)}
    letters = dict(zip("ABCDEFGHIJKLMNOPQRSTUVWXYZ", map(F, LETTER_DRILLS), strict=True))
    fractions = {name: size for name, size in DRILLS.items() if name not in numbers | letters}

    assert numbers | letters | fractions == DRILLS
    assert list(fractions.values()) == [F(n, 64) for n in range(1, 65)]
    assert (fractions["1/64"], fractions["7/32"], fractions["63/64"], fractions["1 in"]) == (
        F("0.015625"),
        F("0.21875"),
        F("0.984375"),
        1,
    )


# DHHS (NIOSH) 94-110, table 5: one column each, from 0.2 and 0.5 to 15 lifts a minute; hands below 75 cm, and from there.
FREQUENCIES = (0.2, 0.5, *range(1, 16))
FREQUENCY_COLUMNS: dict[tuple[Duration, int], str] = {
    ("short", 74): "1 .97 .94 .91 .88 .84 .80 .75 .70 .60 .52 .45 .41 .37 0 0 0",
    ("short", 75): "1 .97 .94 .91 .88 .84 .80 .75 .70 .60 .52 .45 .41 .37 .34 .31 .28",
    ("moderate", 74): ".95 .92 .88 .84 .79 .72 .60 .50 .42 .35 .30 .26 0 0 0 0 0",
    ("moderate", 75): ".95 .92 .88 .84 .79 .72 .60 .50 .42 .35 .30 .26 .23 .21 0 0 0",
    ("long", 74): ".85 .81 .75 .65 .55 .45 .35 .27 .22 .18 0 0 0 0 0 0 0",
    ("long", 75): ".85 .81 .75 .65 .55 .45 .35 .27 .22 .18 .15 .13 0 0 0 0 0",
}


@pytest.mark.parametrize(("duration", "height_cm"), FREQUENCY_COLUMNS)
def test_every_frequency(duration: Duration, height_cm: int) -> None:
    """The frequency multiplier of every row; a little above a row the next one counts, above the last nothing."""
    printed = [float(cell) for cell in FREQUENCY_COLUMNS[duration, height_cm].split()]
    found = [
        [weight_limit(25, height_cm, rate_per_min=rate, duration=duration).frequency for rate in rates]
        for rates in (FREQUENCIES, [rate + 0.01 for rate in FREQUENCIES])
    ]

    assert found == [printed, [*printed[1:], 0]]


# ISO 261 sizes and pitches; basic diameters d2, d1 of ISO 724 and d3 of the profile, as a thread table prints them.
METRIC = {
    "M3": ("0.5", 2.675, 2.459, 2.387),
    "M4": ("0.7", 3.545, 3.242, 3.141),
    "M5": ("0.8", 4.480, 4.134, 4.019),
    "M6": ("1 0.75", 5.350, 4.917, 4.773),
    "M8": ("1.25 1", 7.188, 6.647, 6.466),
    "M10": ("1.5 1.25 1", 9.026, 8.376, 8.160),
    "M12": ("1.75 1.5 1.25", 10.863, 10.106, 9.853),
    "M14": ("2 1.5", 12.701, 11.835, 11.546),
    "M16": ("2 1.5", 14.701, 13.835, 13.546),
    "M18": ("2.5 2 1.5", 16.376, 15.294, 14.933),
    "M20": ("2.5 2 1.5", 18.376, 17.294, 16.933),
    "M22": ("2.5 2 1.5", 20.376, 19.294, 18.933),
    "M24": ("3 2", 22.051, 20.752, 20.319),
    "M27": ("3 2", 25.051, 23.752, 23.319),
    "M30": ("3.5 2", 27.727, 26.211, 25.706),
}


@pytest.mark.parametrize("size", METRIC)
def test_every_metric_thread(size: str) -> None:
    """Sizes and pitches of ISO 261, coarse first, and the diameters of the coarse one to a thousandth."""
    pitches, d2, d1, d3 = METRIC[size]
    coarse, *fine = pitches.split()
    found = thread(size)

    assert (found.name, found.diameter_mm, found.pitch_mm) == (
        f"{size}x{coarse}",
        float(size[1:]),
        float(coarse),
    )
    assert [found.pitch_diameter_mm, found.minor_diameter_mm, found.root_diameter_mm] == pytest.approx(
        [d2, d1, d3], abs=0.00051
    )
    assert (found.coarse, found.unified) == (True, False)
    for pitch in fine:
        assert (thread(f"{size}x{pitch}").pitch_mm, thread(f"{size}x{pitch}").coarse) == (float(pitch), False)
    with pytest.raises(CalcError) as refused:
        thread(f"{size}x0.6")
    assert refused.value.remedy == f"Pitches: {', '.join(pitches.split())}."


# ASME B1.1: major diameter in inches; threads per inch and stress area in square inches, coarse and fine.
UNIFIED = {
    "10": (0.190, (24, 0.0175), (32, 0.0200)),
    "1/4": (0.250, (20, 0.0318), (28, 0.0364)),
    "5/16": (0.3125, (18, 0.0524), (24, 0.0580)),
    "3/8": (0.375, (16, 0.0775), (24, 0.0878)),
    "7/16": (0.4375, (14, 0.1063), (20, 0.1187)),
    "1/2": (0.500, (13, 0.1419), (20, 0.1599)),
    "9/16": (0.5625, (12, 0.182), (18, 0.203)),
    "5/8": (0.625, (11, 0.226), (18, 0.256)),
    "3/4": (0.750, (10, 0.334), (16, 0.373)),
    "7/8": (0.875, (9, 0.462), (14, 0.509)),
    "1": (1.000, (8, 0.606), (12, 0.663)),
}


@pytest.mark.parametrize("size", UNIFIED)
def test_every_unified_thread(size: str) -> None:
    """Sizes, threads per inch and stress areas of ASME B1.1, UNC and UNF."""
    major, *series = UNIFIED[size]
    for (count, area), is_coarse in zip(series, (True, False), strict=True):
        found = thread(f"{size}-{count}")
        assert found.diameter_mm == pytest.approx(major * 25.4)
        assert found.pitch_mm == pytest.approx(25.4 / count)
        assert (found.coarse, found.unified) == (is_coarse, True)
        assert found.stress_area_mm2 / 645.16 == pytest.approx(area, rel=0.005)


# ISO 898-1:2013 and ISO 3506-1: least and greatest thread of our table, Rm, yield, Sp in MPa. SAE J429: the same in ksi.
STRENGTHS = [
    ("4.6", "M3", "M30", 400, 240, 225),
    ("4.8", "M3", "M30", 420, 340, 310),  # 4.8, 5.6, 6.8: EN ISO 898-1:2013 as two suppliers print it
    ("5.6", "M3", "M30", 500, 300, 280),
    ("5.8", "M3", "M30", 520, 420, 380),
    ("6.8", "M3", "M30", 600, 480, 440),
    ("8.8", "M3", "M16", 800, 640, 580),
    ("8.8", "M18", "M30", 830, 660, 600),
    ("9.8", "M3", "M16", 900, 720, 650),
    ("10.9", "M3", "M30", 1040, 940, 830),
    ("12.9", "M3", "M30", 1220, 1100, 970),
    ("A2-70", "M3", "M24", 700, 450, None),
    ("A4-70", "M3", "M24", 700, 450, None),
    ("A2-80", "M3", "M24", 800, 600, None),
    ("A4-80", "M3", "M24", 800, 600, None),
    ("grade 2", "1/4-20", "3/4-16", 74, 57, 55),
    ("grade 5", "1/4-20", "1-12", 120, 92, 85),
    ("grade 8", "1/4-20", "1-12", 150, 130, 120),
]


@pytest.mark.parametrize(("name", "least", "greatest", "rm", "yield_", "proof"), STRENGTHS)
def test_every_class(
    name: str, least: str, greatest: str, rm: float, yield_: float, proof: float | None
) -> None:
    """Each class from its least thread to its greatest, and what that makes of the stress area."""
    mpa = 6.894757 if name.startswith("grade") else 1
    for size in (least, greatest):
        found, area = bolt_strength(size, name), thread(size).stress_area_mm2
        assert [found.tensile_mpa, found.yield_mpa] == pytest.approx([rm * mpa, yield_ * mpa], rel=1e-6)
        assert [found.tensile_kn, found.yield_kn] == pytest.approx(
            [rm * mpa * area / 1000, yield_ * mpa * area / 1000], rel=1e-6
        )
        if proof is None:
            assert (found.proof_mpa, found.proof_kn) == (None, None)
        else:
            assert found.proof_mpa == pytest.approx(proof * mpa, rel=1e-6)
            assert found.proof_kn == pytest.approx(proof * mpa * area / 1000, rel=1e-6)


def test_no_class_is_untold() -> None:
    """Every class that the room knows is in the table above; where one ends the next size is refused."""
    assert {row[0] for row in STRENGTHS} == set(CLASSES)
    for size, name in [
        ("M18", "9.8"),
        *((("M27"), f"A{a}-{b}") for a in (2, 4) for b in (70, 80)),
        ("7/8-14", "grade 2"),
    ]:
        with pytest.raises(CalcError, match=f"{name} is not"):
            bolt_strength(size, name)


# K0 to K9: least, usual and greatest K of four published tables, two of makers and two of dealers.
NUT_FACTORS = {
    "dry": (0.18, 0.20, 0.27),
    "oiled": (0.10, 0.15, 0.26),
    "zinc_dry": (0.17, 0.20, 0.35),
    "cadmium": (0.15, 0.17, 0.19),
    "waxed": (0.10, 0.10, 0.10),
    "anti_seize": (0.11, 0.12, 0.13),
    "moly": (0.11, 0.11, 0.11),
    "galvanised_dry": (0.25, 0.25, 0.25),
    "stainless_dry": (0.30, 0.40, 0.50),
}


def test_every_nut_factor() -> None:
    """The usual figure too, which every level is judged at."""
    found = {name: nut_factor(name) for name in NUT_FACTORS}  # type: ignore[arg-type]

    assert {name: (k.low, k.usual, k.high) for name, k in found.items()} == NUT_FACTORS


# Width across flats by standard, M3 to M30, as two open data sets print it (ISO 4014 and 4032, DIN 931 and 934, EN 1662 and
# 1665; of M14 one of them has 22 under the ISO number too); JIS B 1180 and the three ISO flange parts by an open parts library.
FLATS = {
    "M3": {"ISO hexagon": 5.5, "old DIN": 5.5},
    "M4": {"ISO hexagon": 7, "old DIN": 7},
    "M5": {"ISO hexagon": 8, "old DIN": 8, "EN 1662 flange": 7, "EN 1665 flange": 8},
    "M6": {"ISO hexagon": 10, "old DIN": 10, "JIS": 10, "EN 1662 flange": 8, "EN 1665 flange": 10},
    "M8": {"ISO hexagon": 13, "old DIN": 13, "JIS": 13, "JIS small": 12, "EN 1662 flange": 10, "EN 1665 flange": 13},
    "M10": {
        "ISO hexagon": 16, "old DIN": 17, "JIS": 17, "JIS small": 14, "EN 1662 flange": 13, "EN 1665 flange": 16,
        "ISO 4161 flange nut": 15,
    },
    "M12": {
        "ISO hexagon": 18, "old DIN": 19, "JIS": 19, "JIS small": 17, "EN 1662 flange": 16, "EN 1665 flange": 18,
        "ISO 4162 flange": 15,
    },
    "M14": {"ISO hexagon": 21, "old DIN": 22, "JIS": 22, "JIS small": 19, "EN 1662 flange": 18, "EN 1665 flange": 21},
    "M16": {"ISO hexagon": 24, "old DIN": 24, "JIS": 24, "JIS small": 22, "EN 1662 flange": 21, "EN 1665 flange": 24},
    "M18": {"ISO hexagon": 27, "old DIN": 27},
    "M20": {"ISO hexagon": 30, "old DIN": 30, "JIS": 30, "JIS small": 27, "EN 1665 flange": 30},
    "M22": {"ISO hexagon": 34, "old DIN": 32},
    "M24": {"ISO hexagon": 36, "old DIN": 36},
    "M27": {"ISO hexagon": 41, "old DIN": 41},
    "M30": {"ISO hexagon": 46, "old DIN": 46},
}  # fmt: skip
# An open data set's ASME B18.2.1 (widths in mm) and B18.2.2 table 4 (least widths in mm); it has no cap screw of 9/16, which is
# from memory.
INCH_SCREWS = {
    "1/4": 11.1125, "5/16": 12.7, "3/8": 14.2875, "7/16": 15.875, "1/2": 19.05, "9/16": 20.6375, "5/8": 23.8125,
    "3/4": 28.575, "7/8": 33.3375, "1": 38.1,
}  # fmt: skip
INCH_NUTS_LEAST = {
    "1/4": 10.9982, "5/16": 12.5603, "3/8": 14.1478, "7/16": 17.3101, "1/2": 18.8722, "9/16": 22.0472, "5/8": 23.622,
    "3/4": 28.1051, "7/8": 32.7787, "1": 37.465,
}  # fmt: skip


@pytest.mark.parametrize("size", FLATS)
def test_every_socket(size: str) -> None:
    """Each socket once, the smaller first, with every standard that takes it."""
    found = socket_sizes(f"{size}x1")

    assert [socket.size for socket in found] == [
        f"{width:g} mm" for width in sorted(set(FLATS[size].values()))
    ]
    for socket in found:
        assert set(socket.standard.split(", ")) == {
            name for name, width in FLATS[size].items() if f"{width:g} mm" == socket.size
        }


@pytest.mark.parametrize("size", INCH_SCREWS)
def test_every_socket_in_inches(size: str) -> None:
    """A head is as wide as its socket's name says; a nut up to 2 % less at the least."""
    wide = {
        name: float(inches_to_mm(socket.size.removesuffix(" in")))
        for socket in socket_sizes(f"{size}-20")
        for name in socket.standard.split(", ")
    }

    assert wide["hexagon cap screw"] == pytest.approx(INCH_SCREWS[size])
    assert 0.98 * wide["hexagon nut"] <= INCH_NUTS_LEAST[size] < wide["hexagon nut"]


def test_every_cure() -> None:
    """F5: thread locker 10 min to handling and 24 h (a maker's page); RTV half an hour and 24 h; paint 12 h (common practice)."""
    found = {what: cure_lag(what) for what in ("thread_locker", "rtv_sealant", "paint")}  # type: ignore[arg-type]

    assert {what: (lag.handle_h, lag.full_h) for what, lag in found.items()} == {
        "thread_locker": (pytest.approx(1 / 6), 24),
        "rtv_sealant": (0.5, 24),
        "paint": (12, 12),
    }


# EN 1492-1 as a maker's manual prints it for web slings; EN 13414-1 table 4 for wire rope: to 45° to the vertical, to 60°.
SLINGS: list[tuple[str, Use, float, float | None]] = [
    ("web", "straight", 1.0, None),
    ("web", "choked", 0.8, None),
    ("web", "basket", 2.0, None),
    ("web", "two legs", 1.4, 1.0),
    ("web", "three or four legs", 2.1, 1.5),
    ("rope", "straight", 1.0, None),
    ("rope", "two legs", 1.4, 1.0),
    ("rope", "three or four legs", 2.1, 1.5),
    ("rope", "endless choked", 1.6, None),
]


@pytest.mark.parametrize(("kind", "use", "near", "far"), SLINGS)
def test_every_sling_factor(kind: str, use: Use, near: float, far: float | None) -> None:
    """R7, R8: to 45° and to 60°; a straight pull allows for 5° of lean and no more."""
    steep, flat = (45, 45.1) if far is not None else (5, 5.1)

    assert sling_limit(1000, use, steep, kind) == pytest.approx(1000 * near)  # type: ignore[arg-type]
    if far is None:
        with pytest.raises(CalcError, match="straight pull"):
            sling_limit(1000, use, flat, kind)  # type: ignore[arg-type]
    else:
        assert [sling_limit(1000, use, angle, kind) for angle in (flat, 60)] == [1000 * far] * 2  # type: ignore[arg-type]
    if far is None:
        assert sling_limit(1000, use, kind=kind) == sling_limit(1000, use, 0, kind)  # type: ignore[arg-type]
    else:
        with pytest.raises(CalcError, match="vertical_deg: the angle decides"):
            sling_limit(1000, use, kind=kind)  # type: ignore[arg-type]


def test_uses_that_a_sling_has_no_row_for_are_refused() -> None:
    """R32: EN 13414-1 has no basket, EN 1492-1 no endless choker."""
    for kind, use in (("rope", "basket"), ("rope", "choked"), ("web", "endless choked")):
        with pytest.raises(CalcError, match="use"):
            sling_limit(1000, use, 0, kind)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("glycol", "rows"),
    [
        (
            "ethylene",
            {
                20: -9.0,
                25: -12.1,
                30: -15.7,
                33: -18.1,
                40: -24.8,
                45: -30.5,
                50: -37.1,
                55: -44.4,
                60: -52.0,
            },
        ),
        ("propylene", {30: -13.1, 35: -16.9, 40: -21.5, 45: -27.0, 50: -33.7}),
    ],
)
def test_every_freezing_point(glycol: str, rows: dict[float, float]) -> None:
    """F1: CoolProp 8.0.0, AEG and APG, to a tenth of a degree; between rows a straight line."""
    assert {p: coolant_freeze(p, glycol) for p in rows} == pytest.approx(rows, abs=0.05)  # type: ignore[arg-type]
    for (p, low), (q, high) in zip(list(rows.items()), list(rows.items())[1:], strict=False):
        assert coolant_freeze((p + q) / 2, glycol) == pytest.approx((low + high) / 2)  # type: ignore[arg-type]
