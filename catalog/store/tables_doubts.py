"""Doubts, crew reports, guides' files, and which device fetched which edition."""
