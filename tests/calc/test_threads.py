"""Threads and bolt strength against published tables."""

import pytest

from yokemate.calc.errors import CalcError
from yokemate.calc.threads import bolt_strength, thread


# Coarse stress areas: ISO 898-1 thread table as printed by two fastener suppliers; Unified: ASME B1.1
# tables of two sites (in²).
@pytest.mark.parametrize(
    ("name", "area"),
    [
        ("M4", 8.78),
        ("M5", 14.2),
        ("M6", 20.1),
        ("M8", 36.6),
        ("M10", 58.0),
        ("M12", 84.3),
        ("M14", 115),
        ("M16", 157),
        ("M18", 192),
        ("M20", 245),
    ],
)
def test_coarse_stress_area(name: str, area: float) -> None:
    """A4 to A20: stress areas of coarse threads, to half a percent."""
    assert thread(name).stress_area_mm2 == pytest.approx(area, rel=0.005)
    assert thread(name).coarse


@pytest.mark.parametrize(
    ("name", "area"),
    [
        ("1/4-20", 0.0318),
        ("1/4-28", 0.0364),
        ("5/16-18", 0.0524),
        ("5/16-24", 0.0581),
        ("3/8-16", 0.0775),
        ("3/8-24", 0.0878),
        ("1/2-13", 0.1419),
        ("1/2-20", 0.1599),
        ("3/4-10", 0.334),
        ("3/4-16", 0.373),
    ],
)
def test_unified_stress_area(name: str, area: float) -> None:
    """Unified stress areas in square inches, to half a percent."""
    assert thread(name).stress_area_mm2 / 645.16 == pytest.approx(area, rel=0.005)


@pytest.mark.parametrize(
    ("name", "area"),
    [("M10x1.25", 61.20), ("M12x1.5", 88.13), ("M12x1.25", 92.07), ("M14x1.5", 124.55), ("M20x1.5", 271.50)],
)
def test_fine_stress_area(name: str, area: float) -> None:
    """Fine threads, from As = 0.7854 (d - 0.9382 P)² worked outside."""
    assert thread(name).stress_area_mm2 == pytest.approx(area, abs=0.01)
    assert not thread(name).coarse


def test_no_pitch_is_coarse() -> None:
    """ "M12" with no pitch is M12x1.75 (ISO 261 practice)."""
    assert thread("M12") == thread("M12x1.75") == thread("M12 × 1,75")


def test_names_as_they_are_typed() -> None:
    """A small m, a series that is right, a capital and a decimal comma mean nothing else."""
    assert thread("m10x1,25") == thread("M10x1.25")
    assert thread("1/4-28 UNF") == thread("1/4-28UNF") == thread("1/4-28")
    assert bolt_strength("M10", "8,8") == bolt_strength("M10", " 8.8 ") == bolt_strength("M10", "8.8")
    assert bolt_strength("1/4-20", "Grade 5") == bolt_strength("1/4-20", "grade 5")
    assert bolt_strength("M8", "a2-70") == bolt_strength("M8", "A2-70")


@pytest.mark.parametrize(("name", "series"), [("1/4-28 UNC", "UNF"), ("3/8-16 UNF", "UNC")])
def test_a_series_that_is_not_the_thread_s(name: str, series: str) -> None:
    """R32, ASME B1.1: 1/4 has 20 UNC and 28 UNF, 3/8 16 and 24: one of the two was misread."""
    with pytest.raises(CalcError, match=f"is {series}"):
        thread(name)


@pytest.mark.parametrize("name", ["M11", "M12x2", "12", "1/4-21", "M", "M10x", "bolt", "", "1/3-20"])
def test_unknown_threads(name: str) -> None:
    """R32: a thread that is in no table is refused, never guessed."""
    with pytest.raises(CalcError) as refused:
        thread(name)
    assert refused.value.field == "thread"


# ISO 898-1:2013, ISO 3506-1 and SAE J429 minima as printed by suppliers; MPa, SAE in ksi.
@pytest.mark.parametrize(
    ("name", "cls", "rm", "yield_", "proof"),
    [
        ("M10", "4.6", 400, 240, 225),
        ("M10", "5.8", 520, 420, 380),
        ("M16", "8.8", 800, 640, 580),
        ("M18", "8.8", 830, 660, 600),
        ("M16", "9.8", 900, 720, 650),
        ("M10", "10.9", 1040, 940, 830),
        ("M10", "12.9", 1220, 1100, 970),
        ("M10", "A2-70", 700, 450, None),
        ("M10", "A4-80", 800, 600, None),
    ],
)
def test_metric_classes(name: str, cls: str, rm: float, yield_: float, proof: float | None) -> None:
    """C46 to S80: minima by class, with the step of 8.8 at 16 mm; stainless has no proof stress."""
    strength = bolt_strength(name, cls)

    assert (strength.tensile_mpa, strength.yield_mpa, strength.proof_mpa) == (rm, yield_, proof)


@pytest.mark.parametrize(
    ("name", "grade", "rm", "yield_", "proof"),
    [
        ("1-8", "grade 5", 120, 92, 85),
        ("1/4-20", "grade 8", 150, 130, 120),
        ("3/4-10", "grade 2", 74, 57, 55),
    ],
)
def test_sae_grades(name: str, grade: str, rm: float, yield_: float, proof: float) -> None:
    """J2, J5, J8: SAE J429 in ksi."""
    strength = bolt_strength(name, grade)

    assert [strength.tensile_mpa, strength.yield_mpa, strength.proof_mpa] == pytest.approx(
        [rm * 6.894757, yield_ * 6.894757, proof * 6.894757], rel=1e-6
    )


PROOF_LOADS = {  # N; ISO 898-1 coarse thread table, two suppliers' copies agree
    "M5": (8230, 11800, 13800),
    "M6": (11600, 16700, 19500),
    "M8": (21200, 30400, 35500),
    "M10": (33700, 48100, 56300),
    "M12": (48900, 70000, 81800),
    "M14": (66700, 95500, 112000),
    "M16": (91000, 130000, 152000),
}


@pytest.mark.parametrize("name", PROOF_LOADS)
def test_proof_loads(name: str) -> None:
    """PL5 to PL16: proof loads of 8.8, 10.9, 12.9, to 0.7 % (the print is cut to three digits: M6
    8.8 by 0.6 %).
    """
    for cls, newtons in zip(("8.8", "10.9", "12.9"), PROOF_LOADS[name], strict=True):
        assert bolt_strength(name, cls).proof_kn == pytest.approx(newtons / 1000, rel=0.007)


@pytest.mark.parametrize(
    ("name", "cls"),
    [
        ("M18", "9.8"),
        ("M10", "grade 5"),
        ("1/4-20", "8.8"),
        ("10-32", "grade 5"),
        ("7/8-9", "grade 2"),
        ("M10", "7.7"),
        ("M27", "A2-70"),
    ],
)
def test_what_is_not_defined(name: str, cls: str) -> None:
    """R32: a class that is not defined for a thread is refused (9.8 over M16)."""
    with pytest.raises(CalcError) as refused:
        bolt_strength(name, cls)
    assert refused.value.field == "strength_class"
