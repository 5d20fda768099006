"""What can go wrong along the paths of a flow, found when it is loaded."""
