"""Who could do what and when: a scheduling problem in, a proposed timetable with its check out.

Pure. A solver, where there is one, is imported lazily and in one file only, so that Yokemate starts quickly and
works without it. Imports `units` only.
"""
