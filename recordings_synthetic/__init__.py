"""Recordings made by voices of several engines: recorded visits and measuring sets for the ears. See README.md."""

import assistant  # noqa: F401  (before any engine: it keeps their libraries from reporting to their makers)
