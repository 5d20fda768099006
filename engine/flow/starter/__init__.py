"""The flow that `loadstep new` begins with, as package data, and writing it out."""
