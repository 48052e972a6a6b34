"""What may hurt whoever then does the work that a calculation is about, by the kinds of hazard that a plan may name.

Common practice. The words, and who has the last one, are the interface's.
"""

_OF_SUBJECT: dict[str, tuple[str, ...]] = {
    "Threads and strength": (),
    "Torque and preload": (),
    "Torque by friction": (),
    "Nuts that drag": (),
    "Torque wrench": (),
    "Scale of a torque wrench": (),
    "Pattern and passes": (),
    "Sockets": (),
    "Usual masses": (),
    "Load shares": ("lift",),
    "One lets go": ("lift",),
    "Slope and centre of gravity": ("lift",),
    "One person's limit": ("lift",),
    "Lifting filter": ("lift",),
    "People and judgement": ("lift",),
    "Slings, cranes, stands": ("lift",),
    "Sling ratings": ("lift",),
    "Fractions of an inch": (),
    "Drills": ("grind_drill",),
    "Wire": ("live_battery",),
    "Hose": ("hot_coolant",),
    "Belt": ("rotating", "pinch_crush"),
    "Cutting": ("grind_drill", "cut_edge"),
    "Fluids": ("hot_coolant",),
    "Follow-ups": (),
    "Estimates": (),
}
_OF_CALCULATION: dict[str, tuple[str, ...]] = {
    "stand_rating": ("under_car", "jacking"),
    "weigh_tilted": ("lift", "jacking"),
    "gap_gauge": (),
    "extended_resistance": ("live_battery", "solder"),
    "splice_area": ("live_battery", "solder"),
    "fuel_hose": ("fuel_open",),
    "brake_fluid": ("brake_fluid",),
    "bleed_order": ("brake_fluid",),
    "heat_cycles_left": ("exhaust_co", "engine_running"),
}


def hazards_of(subject: str, name: str) -> tuple[str, ...]:
    """The calculation's own, else its subject's; a subject that nobody has thought about is an error."""
    return _OF_CALCULATION.get(name, _OF_SUBJECT[subject])
