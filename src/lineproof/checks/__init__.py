"""Checks: may we? Job values in, Findings out; no clock and no database."""
