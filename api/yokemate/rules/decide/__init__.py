"""What may be: one file per subject, one function per command. Importing this registers them all."""
