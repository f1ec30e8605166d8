"""Runs ``ladderside`` in a process that dies on the spot when anything in it asks for a socket.

    python -m tests.robust.sealed [--sound-server] WORDS...

The kernel decides (seccomp), so that a library's own code is caught as well as Python. With ``--sound-server`` sockets
of this machine are allowed: PortAudio and espeak-ng look for PulseAudio and JACK through them.
"""

import sys

from assistant import offline
from assistant.commands.main import main

if __name__ == "__main__":
    words = sys.argv[1:]
    local = words[:1] == ["--sound-server"]
    if not offline.shut(kill=True, local=local):
        raise SystemExit("sealed: this machine cannot forbid sockets")
    raise SystemExit(main(words[1:] if local else words))
