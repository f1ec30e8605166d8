"""What lies on the disk: shipped folders, the user's own, whole writes, YAML with its lines, verified weights."""
