"""What an entry changes: one file per subject, one function per kind of entry. Knows no clock and never refuses."""

from yokemate.rules.apply import (
    loose_ends as loose_ends,
)
