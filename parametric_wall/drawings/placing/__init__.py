"""Where figures, marks and tables stand, so that none stands over another."""
