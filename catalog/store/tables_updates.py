"""Guide updates as they came in, what was decided of each change, and the watch list."""
