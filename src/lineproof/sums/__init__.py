"""Sums: one physical question a module, pure functions on SI floats; no clock, no files, no job.

Nothing is imported here on purpose: start-up counts. ``lineproof.sums.figures.load_all`` fills the
register of figures.
"""
