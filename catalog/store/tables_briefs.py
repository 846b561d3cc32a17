"""Incidents, the briefs composed in them, and what became of each brief."""
