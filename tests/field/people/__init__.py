"""The people of a visit: meters with errors, a technician, a customer's words."""
