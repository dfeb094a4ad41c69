"""The CAD model: one solid a distinct shape, placed."""
