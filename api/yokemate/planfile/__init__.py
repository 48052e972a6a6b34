"""The plan of a build as a text file: its model, its JSON Schema, reading with line numbers in errors, checking, options.

Pure: it is handed text and hands back a plan or a list of faults; it opens no file itself. Imports `units` and
`calc` only.
"""
