"""Lets ``python -m parametric_wall`` do what the command does."""

from parametric_wall.cli import run

if __name__ == "__main__":
    run()
