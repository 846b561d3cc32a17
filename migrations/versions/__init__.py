"""One step a file, numbered in order."""
