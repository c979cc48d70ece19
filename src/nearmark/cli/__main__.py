"""``python -m nearmark.cli``: the same as the ``nearmark`` command."""

from nearmark.cli.main import main

if __name__ == "__main__":
    main()
