"""What loads and is probably not meant: rules that warn, each with a name, a reason and a remedy."""
