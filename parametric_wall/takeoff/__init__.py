"""Quantities: by closed form from the job, and counted from the placed pieces."""
