"""Accounts, what they may send in their name, and the trail of who did what."""
