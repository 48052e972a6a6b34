"""Torque and preload by friction, the long form of VDI 2230: for whoever knows the friction in the thread and under the head."""

import math
from dataclasses import dataclass

from yokemate.calc.errors import CalcError, check_range
from yokemate.calc.threads import bolt_strength, thread

# Thread diameter mm: washer-face diameter of a hexagon head (from memory), ISO 273 medium hole. mm
_UNDER_HEAD = {
    8: (11.6, 9),
    10: (14.6, 11),
    12: (16.6, 13.5),
    14: (19.6, 15.5),
    16: (22.5, 17.5),
    20: (28.2, 22),
}


@dataclass(frozen=True)
class LongForm:
    """The long form's answer.

    Fields:
        preload_kn [kn]: F_M, by combined stress in the thread
        torque_n_m [n_m]: M_A that makes it
        nut_factor [-]: the K that the short form would need
        pitch_percent [percent]: part of the torque that makes preload
        thread_percent [percent]: part lost in the thread
        head_percent [percent]: part lost under the head
    """

    preload_kn: float
    torque_n_m: float
    nut_factor: float
    pitch_percent: float
    thread_percent: float
    head_percent: float


def long_form(
    thread_name: str,
    strength_class: str,
    friction_thread: float,
    friction_head: float,
    washer_face_mm: float | None = None,
    hole_mm: float | None = None,
    utilisation: float = 0.9,
) -> LongForm:
    """Preload and torque from separate friction in the thread and under the head.

    Formula: F = A0·ν·Rp/√(1 + 3[(3/2)(d2/d0)(P/(π d2) + 1.155 μG)]²), d0 = (d2 + d3)/2;
        M = F[0.16 P + 0.58 d2 μG + (D/2) μK], D = (washer face + hole)/2
    Args:
        thread_name [-]: a metric thread, like M12
        strength_class [-]: a metric class, like 8.8
        friction_thread [-]: coefficient μG; 0.03..0.4
        friction_head [-]: coefficient μK; 0.03..0.4
        washer_face_mm [mm]: bearing face of the head; none takes a hexagon head M8 to M20; 3..80
        hole_mm [mm]: clearance hole; none takes ISO 273 medium M8 to M20; 3..80
        utilisation [-]: part of yield in combined stress; 0.1..1
    Returns: LongForm
    Figures: 3 because friction in the thread and under the head is an estimate
    Source: VDI 2230:2001 (formula from memory, accepted because it reproduces its published values M8 to M20)
    Example:
        >>> round(long_form("M12", "8.8", 0.12, 0.12).torque_n_m, 1)
        83.6
    """
    check_range("friction_thread", friction_thread, 0.03, 0.4)
    check_range("friction_head", friction_head, 0.03, 0.4)
    check_range("utilisation", utilisation, 0.1, 1)
    t = thread(thread_name)
    if t.unified:
        raise CalcError("thread_name", "the long form is for metric threads here.", "Use the short form.")
    usual_face, usual_hole = _UNDER_HEAD.get(round(t.diameter_mm), (None, None))
    face = usual_face if washer_face_mm is None else washer_face_mm
    hole = usual_hole if hole_mm is None else hole_mm
    if face is None or hole is None:
        raise CalcError(
            "washer_face_mm", f"no usual head is known for {t.name}.", "Measure washer face and hole."
        )
    check_range("washer_face_mm", face, 3, 80)
    check_range("hole_mm", hole, 3, 80)
    if not t.diameter_mm <= hole < face:
        raise CalcError(
            "hole_mm", "must be wider than the thread and narrower than the face.", "Measure again."
        )
    d2, p = t.pitch_diameter_mm, t.pitch_mm
    d0 = (d2 + t.root_diameter_mm) / 2
    twist = 1.5 * d2 / d0 * (p / (math.pi * d2) + 1.155 * friction_thread)
    stress = utilisation * bolt_strength(thread_name, strength_class).yield_mpa / math.sqrt(1 + 3 * twist**2)
    preload = math.pi * d0**2 / 4 * stress / 1000
    parts = (0.16 * p, 0.58 * d2 * friction_thread, (face + hole) / 4 * friction_head)
    arm = sum(parts)
    return LongForm(preload, preload * arm, arm / t.diameter_mm, *(part / arm * 100 for part in parts))
