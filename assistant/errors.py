"""The one root of every error that a user may see: its text is a clear sentence saying what, where and what to do."""


class LaddersideError(Exception):
    """Something the user can understand and act on; commands print its text alone and exit with status 2."""
