"""Golden walks: replay files that say what they must come to, run against their flows as they are now."""
