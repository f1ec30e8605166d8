"""What the library must keep to, one module for each kind of rule; ``assistant.review.lint`` asks them all."""
