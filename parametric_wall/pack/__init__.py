"""What goes to site and to the client: a folder of results, and what the screen shows."""
