"""What the library must keep to, one module for each kind of rule; ``assistant.library.lint`` asks them all."""
