"""Carbon and alloy through the events of the forging. Imports forging and below."""
