"""`python -m hotfolder` is the same as `hotfolder`."""

from hotfolder.cli import main

if __name__ == "__main__":
    main()
