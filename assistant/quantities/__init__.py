"""Quantities, supplies and refrigerants: one table each, from which grammars, speech, calculations and record take."""
