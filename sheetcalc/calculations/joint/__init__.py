"""The flange joints of a valve that comes out of the line, and how it is lifted."""
