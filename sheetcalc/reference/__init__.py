"""Numbers that are looked up and never computed, and the sources of everything."""
