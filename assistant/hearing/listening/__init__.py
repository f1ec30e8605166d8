"""Several ears together: what they heard is weighed against what the question expects, and judged."""
