"""The life of a bell: where it was and when, as far as surveys tell, and what it descends from."""
