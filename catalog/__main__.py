"""`python -m catalog` is the command `chockbook`."""

from catalog.cli.main import main

if __name__ == "__main__":
    main()
