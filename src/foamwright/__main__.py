"""`python -m foamwright` is the command line."""

from foamwright.cli.main import main

if __name__ == "__main__":
    main(prog_name="foamwright")
