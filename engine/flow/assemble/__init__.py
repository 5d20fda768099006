"""From checked shapes to the flow model: names resolved, quantities and conditions read."""
