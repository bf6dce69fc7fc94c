"""Floor: units, errors, sources, verdicts and worked figures; every other room stands on it."""
