"""Measures the model and the files again, and compares."""
