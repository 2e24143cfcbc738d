"""Messy valve lists in: a CSV or Excel file becomes one tidy table, with a finding for all that was not plain.

`lists.read_list` is the way in. `files` opens what may be broken or hostile, `headers` says which measurement a column
means, `values` reads one cell; the words that they know stand in the TOML files. Nothing that a user wrote is lost: what
is not understood is carried along.
"""
