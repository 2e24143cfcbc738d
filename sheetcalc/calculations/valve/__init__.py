"""The gland of one valve: what is typed of it, section, rings, gap, cut, load, stem, tools, and its state."""
