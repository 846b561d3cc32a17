"""Views turned into lines for the terminal. Pure: a view and a paper in, lines out."""
