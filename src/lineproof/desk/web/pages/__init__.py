"""One page a file: each gathers the values of one decision and hands them to its template."""
