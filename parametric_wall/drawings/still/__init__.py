"""The still picture of a job, painted from its pieces."""
