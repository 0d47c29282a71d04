"""`python -m goodflight` is the `goodflight` command."""

from goodflight.cli import main

if __name__ == "__main__":
    main()
