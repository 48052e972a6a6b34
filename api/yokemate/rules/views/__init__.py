"""What screens ask: prepared answers worked out from rows, a viewer and the clock. Importing this registers them all."""
