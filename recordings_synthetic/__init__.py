"""Recordings made by voices of several engines: recorded visits and measuring sets for the ears. See README.md."""
