"""Yokemate: a crew's shared job card, torque record and lift plan for building one car together."""

__version__ = "0.1.0"
