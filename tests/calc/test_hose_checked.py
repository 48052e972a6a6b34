"""Clamp torques and fuel hoses against tables as they are printed."""

from fractions import Fraction as F

import pytest

from yokemate.calc.errors import CalcError
from yokemate.calc.hose import FuelHose, clamp_torque, fuel_hose
from yokemate.calc.inches import inches_to_mm

LBF_IN = 0.11298482903  # N·m, exact inch and pound

# Band: N·m and tolerance on a new hose, on one clamped before, then the same as printed beside it in lbf·in.
# 7.5, 12, 14 mm: an engine maker's torque table; 8, 13.5, 16 mm: a fork truck's maintenance manual (D80S-7, p. 187).
CLAMPS = {
    "7.5 mm": ((1.4, 0.3), (0.8, None), (12, None)),
    "12 mm": ((4.5, 0.7), (3.0, None), (40, None)),
    "14 mm": ((7.5, 1.0), (4.5, None), (66, None)),
    "8 mm": ((0.9, 0.2), (0.7, 0.2), (8, 6)),
    "13.5 mm": ((4.5, 0.5), (3.0, 0.5), (40, 25)),
    "16 mm": ((7.5, 0.5), (4.5, 0.5), (65, 40)),
}


@pytest.mark.parametrize("band", CLAMPS)
def test_every_clamp(band: str) -> None:
    """H5: both tables row by row, and each figure against the one printed beside it in the other unit, which is rounded."""
    new, before, printed = CLAMPS[band]
    found = [clamp_torque(band, clamped_before) for clamped_before in (False, True)]  # type: ignore[arg-type]

    assert [(one.torque_n_m, one.plus_minus_n_m) for one in found] == [new, before]
    assert clamp_torque(band) == found[0]  # type: ignore[arg-type]
    for one, lbf_in in zip(found, printed, strict=True):
        if lbf_in is not None:
            assert one.torque_n_m == pytest.approx(lbf_in * LBF_IN, rel=0.07)


def test_a_hose_clamped_before_gets_less() -> None:
    """H5: both tables; and another maker's 30 to 45 lbf·in for a standard stainless clamp holds the 12 mm figure."""
    for band in CLAMPS:
        assert clamp_torque(band, True).torque_n_m < clamp_torque(band).torque_n_m  # type: ignore[arg-type]
    assert 30 * LBF_IN < clamp_torque("12 mm").torque_n_m < 45 * LBF_IN
    with pytest.raises(CalcError, match="band"):
        clamp_torque("10 mm")  # type: ignore[arg-type]


def test_fuel_hoses() -> None:
    """H9: SAE J30 by a trade journal and the standard's scope: R9 is the injection hose, R10 the one in the tank, R14 is sold at
    50 psi and not for injection; whoever has no number on the hose gets no answer.
    """
    numbers = ("R6", "R7", "R9", "R10", "R11", "R12", "R14")
    found: dict[str, FuelHose] = {number: fuel_hose(number) for number in numbers}  # type: ignore[arg-type]

    assert [number for number, hose in found.items() if hose.injection] == ["R9"]
    assert [number for number, hose in found.items() if hose.in_tank] == ["R10"]
    assert [number for number, hose in found.items() if "low permeation" in hose.use] == ["R11", "R12", "R14"]
    assert [number for number, hose in found.items() if "filler" in hose.use] == ["R6", "R11"]
    assert [number for number, hose in found.items() if "carburettor" in hose.use] == ["R7", "R14"]
    for unmarked in ("", "R8"):
        with pytest.raises(CalcError, match="marking"):
            fuel_hose(unmarked)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("inches", "mm"),
    [("1/2", "12.7"), ("5/8", "15.9"), ("3/4", "19.05"), ("1/4", "6.35"), ("5/16", "7.94"), ("3/8", "9.53")],
)
def test_common_bores(inches: str, mm: str) -> None:
    """H7: heater and fuel hoses as sold, mm as printed."""
    assert abs(inches_to_mm(inches) - F(mm)) <= F("0.025")
