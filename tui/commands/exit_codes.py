"""What the exit code of `loadstep` says. Said again in the help text and in README.md."""

GOOD = 0
ERRORS = 1  # the thing checked has errors
BAD_INPUT = 2  # bad usage or input
BUG = 70  # our fault; a crash report was written
STOPPED = 130  # Ctrl-C
PIPE_CLOSED = 141  # whoever read our output went away, as for any program in a pipe
