"""The events of this folder: contests of several years, and practice events; one is open."""
