"""One visible table of formats, one module a format, and the JSON and CSV records."""
