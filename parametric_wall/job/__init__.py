"""What was asked for: the job file, read, checked and resolved."""
