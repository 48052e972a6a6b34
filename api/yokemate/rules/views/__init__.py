"""What screens ask: prepared answers worked out from rows, a viewer and the clock. Importing this registers them all."""

from yokemate.rules.views import checks, stores, torque

__all__ = ["checks", "stores", "torque"]
