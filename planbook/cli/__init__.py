"""The command line: commands, no logic. Nothing heavy is loaded before a command needs it."""


def main() -> None:
    """Run the command line and end the process with its exit status."""
    import sys

    try:
        from planbook.cli.run import run

        status = run(sys.argv[1:])
    except KeyboardInterrupt:
        status = 130
    sys.exit(status)
