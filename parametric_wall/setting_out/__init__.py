"""Where every piece goes, as plain numbers. No CAD."""
