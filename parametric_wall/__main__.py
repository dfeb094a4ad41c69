"""Lets ``python -m parametric_wall`` do what the command does."""

from parametric_wall.start import main

if __name__ == "__main__":
    main()
