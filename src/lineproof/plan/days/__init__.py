"""Which days: joints, crews, waits, windows and tests laid out over the calendar, with a bound beside."""
