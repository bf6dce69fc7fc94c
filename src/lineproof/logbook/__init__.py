"""Logbook: what happened, append-only."""
