"""`python -m tracker` is the same as `tracker`."""

from tracker.start import main

if __name__ == "__main__":
    main()
