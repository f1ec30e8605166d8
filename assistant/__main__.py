"""``python -m assistant`` is the same as ``ladderside``."""

from assistant.commands.main import main

if __name__ == "__main__":
    raise SystemExit(main())
