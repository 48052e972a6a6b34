"""Engineering figures for a garage: one file per subject, each public function with its formula, units,
range, source and example.

Pure: knows no web, no database, no clock and no chance, and imports nothing of Yokemate but `units`. A figure
outside the range of its source is refused with a clear error, never guessed.
"""
