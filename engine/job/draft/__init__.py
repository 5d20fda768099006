"""Walking a draft of a flow: read again when saved, begun at any step, with the answers that still fit."""
