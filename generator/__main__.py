"""Where the program begins: until the commands are read, Ctrl-C ends it at once and in silence."""

import signal

if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
    signal.signal(signal.SIGINT, signal.SIG_DFL)

from .cli import main

if __name__ == "__main__":
    main()
